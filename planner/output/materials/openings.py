"""Vents at high points, washouts at low points."""

from collections.abc import Iterator

from planner.hydraulics.vents import Vent
from planner.output.materials.gather import Need
from planner.output.materials.ground import SHALLOWEST
from planner.output.materials.sizes import Fit, fit_of, slug
from planner.output.materials.threads import piece, tee
from planner.output.materials.value import Article, Group
from planner.output.vents import apart
from planner.record.value import Line, Plan
from planner.record.works import PipeRun
from planner.site.value import Units
from planner.units.show import show

GROUP: Group = "vents and washouts"
VENT_SHARE = 0.5  # of the line's bore, the least for a vent (hydraulics notes, 3.5)
LEAST_VENT = 0.015  # m, setting: the smallest pipe and valve a shop keeps


def opening_needs(plan: Plan, line: Line) -> Iterator[Need]:
    """The vents the plan chose, of unknown kind where it could not choose, and the washouts."""
    units = plan.site.units
    unsuited = [] if line.air is not None else [high.index for high in line.high_points]
    for index in (*unsuited, *apart(line, "vent")):
        fit, at = _fit_at(line, index, units)
        yield from tee(fit, line.name, f"vent at {at}")
        yield Need(piece(GROUP, "Vent, kind not chosen", fit), line.name, 1, f"at {at}")
    for placed in () if line.air is None else line.air.vents:
        if placed.vent is not None:
            yield from _vent(line, placed.vent, placed.index, units)
    for index in (*(low.index for low in line.low_points), *apart(line, "washout")):
        fit, at = _fit_at(line, index, units)
        yield from tee(fit, line.name, f"washout at {at}")
        yield Need(piece(GROUP, "Washout valve", fit), line.name, 1, f"at {at}")
        yield from _box(line, index, f"washout at {at}")


def _vent(line: Line, vent: Vent, index: int, units: Units) -> Iterator[Need]:
    chainage = float(line.profile.chainage[index])
    run = _run_at(line, chainage)
    fit = fit_of(line, run, units)
    at = show(chainage, "length", units)
    yield from tee(fit, line.name, f"vent at {at}")
    bore = max(VENT_SHARE * (run.bore if run else line.settings.pipe.bore), LEAST_VENT)
    wide = show(bore, "bore", units)
    if vent.kind == "standpipe":
        tall = show(vent.height, "length", units)
        code = f"standpipe {tall} {wide}"
        words = f"Standpipe {tall} over the pipe, {wide} bore or more, with screened cowl"
    elif vent.kind == "air-valve":
        code = f"air-valve {wide}"
        words = f"Air valve, automatic, {wide} inlet or more, with a stop cock under it"
    else:
        code = f"air-cock {wide}"
        words = f"Hand cock for air, {wide} bore or more"
    yield Need(_part(code, words), line.name, 1, f"at {at}")
    if vent.kind != "standpipe":
        yield from _box(line, index, f"vent at {at}")


def _fit_at(line: Line, index: int, units: Units) -> tuple[Fit, str]:
    """What fits the pipe at a sample, and the sample's chainage in words."""
    chainage = float(line.profile.chainage[index])
    return fit_of(line, _run_at(line, chainage), units), show(chainage, "length", units)


def _part(code: str, words: str) -> Article:
    return Article(slug(code), GROUP, "buy", words, "piece")


def _box(line: Line, index: int, why: str) -> Iterator[Need]:
    """A box over what is buried."""
    if line.profile.depth[index] > SHALLOWEST:
        yield Need(_part("valve-box", "Valve box with lid, drained"), line.name, 1, why)


def _run_at(line: Line, chainage: float) -> PipeRun | None:
    inside = (run for run in line.runs if run.start_m <= chainage <= run.end_m)
    return next(inside, None)
