"""The next pipe, wider or stronger, by what a finding asks of it."""

import math
from collections.abc import Iterator

from planner.checks import pressure, ram
from planner.checks.crest import CREST_LEAST
from planner.checks.drive import BORES_LEAST, BORES_MOST
from planner.hydraulics.friction import friction_loss, velocity
from planner.hydraulics.outlet import TAP_FLOW
from planner.hydraulics.pipe import CataloguePipe
from planner.record.value import Finding, Line, Plan
from planner.remedies.found import line_of, sample_of
from planner.remedies.shelf import SAME_BORE, Fits, head_of, nearest, take, wider
from planner.remedies.text import size_of
from planner.remedies.value import Remedy
from planner.site.edits.value import SetValue, Several

CLOSE = 1.06  # a bore narrower by no more than this will do, where it is strength that lacks
SPARE = 1.05  # times the friction reckoned with: fittings, and what a line really measures


def for_crest(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A bore with which the grade line runs over a crest, by as much as is wanted there."""
    line, case = line_of(plan, finding), finding.values.get("case")
    index = None if line is None else sample_of(line, finding)
    if line is None or line.water is None or index is None or case is not None:
        return
    over = float(line.water.closed_level[index] - line.profile.pipe[index])
    least = CREST_LEAST.value if finding.code == "crest-low-pressure" else 0.0
    share = float(line.profile.chainage[index]) / line.profile.length
    yield from _losing(plan, line, share, over - least)


def for_outlet(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A bore with which more pressure is left at an outlet."""
    line, case = line_of(plan, finding), finding.values["case"]
    if line is None or line.water is None or case == "stop":
        return
    limit = pressure.DRIP_LEAST if case == "warn" else pressure.TAP_LEAST
    still = line.water.end_head + float(line.water.closed_level[-1] - line.water.open_level[-1])
    yield from _losing(plan, line, 1.0, still - limit.value)


def slower(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A bore in which the water runs no faster than it may."""
    line = line_of(plan, finding)
    if line is not None and line.water is not None:
        flow, most = _wanted(plan, line), float(finding.values["limit"])
        yield from _taken(
            line, wider(plan, line, lambda row: float(velocity(flow, row.bore)) <= most)
        )


def delivery(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A delivery pipe as wide as it need be, where it is too narrow."""
    line = line_of(plan, finding)
    if line is not None and finding.values["case"] == "narrow":
        least = float(finding.values["chosen_m"]) / SAME_BORE
        yield from _taken(line, wider(plan, line, lambda row: row.bore >= least))


def drive_bore(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A drive pipe of a bore that suits its length."""
    line = line_of(plan, finding)
    if line is not None:
        length = line.profile.length
        yield from _driven(
            plan,
            line,
            line.settings.pipe.bore,
            lambda row: BORES_LEAST.value <= length / row.bore <= BORES_MOST.value,
        )


def drive_flow(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A drive pipe of a bore that suits the flow there is."""
    line = line_of(plan, finding)
    if line is not None and finding.values.get("case") in ("narrow", "wide"):
        flow = float(finding.values["flow"])
        slowest, fastest = ram.DRIVE_SLOWEST.value, ram.DRIVE_FASTEST.value
        yield from _driven(
            plan,
            line,
            float(finding.values["bore_m"]),
            lambda row: slowest <= float(velocity(flow, row.bore)) <= fastest,
        )


def stronger(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A pipe of about the same bore that bears the line's pressure, surge and all."""
    line = line_of(plan, finding)
    if line is None:
        return
    told = float(finding.values.get("head_m") or 0.0)
    own, head = line.settings.pipe.bore, max(head_of(line), told)
    if line.role == "drive":
        head = max(head, _struck(plan))
    row = nearest(plan, line, own, lambda row: row.bore * CLOSE >= own, head)
    yield from _taken(line, row)


def too_weak(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A stronger pipe where no class of the one named will do."""
    if finding.values.get("case") == "weak":
        yield from stronger(plan, finding)


def struck(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """A drive pipe that bears the blow of each beat, and of a delivery valve that sticks."""
    line = line_of(plan, finding)
    if line is None:
        return
    own = line.settings.pipe.bore
    wanted = [finding.values.get(key) for key in ("blocked_m", "wanted_m", "beating_m")]
    for head in (float(one) for one in wanted if one is not None and math.isfinite(float(one))):
        row = nearest(plan, line, own, lambda row: row.bore * CLOSE >= own, head)
        if row is not None and row.rating > line.settings.pipe.rating:
            yield take(line, row)
            return


def as_assumed(plan: Plan, _: Finding) -> Iterator[Remedy]:
    """The bores that were assumed, taken for those to buy."""
    lines = {line.role: line for line in plan.lines if line.settings.pipe.bore_assumed}
    edits = tuple(
        SetValue(("lines", role, "bore"), size_of(line.settings.pipe.bore, plan.site.units))
        for role, line in lines.items()
    )
    yield Remedy("pipe", "Keep these bores", Several("keep the bores assumed", edits))


def _losing(plan: Plan, line: Line, share: float, most: float) -> Iterator[Remedy]:
    """The narrowest wider pipe that loses no more head over a share of the line [m]."""
    if most <= 0.0:
        return  # not for want of a bore
    flow, length = _wanted(plan, line), line.profile.length

    def loses_little(row: CataloguePipe) -> bool:
        lost = friction_loss(flow, row.bore, length, row.roughness, plan.site.temperature)
        return SPARE * share * float(lost) <= most

    yield from _taken(line, wider(plan, line, loses_little))


def _wanted(plan: Plan, line: Line) -> float:
    """What a line would carry if it could [m³/s]: what is asked of it, or all that comes."""
    now = 0.0 if line.water is None else line.water.flow
    if line.role == "distribution":
        asked = {point.name: point.flow for point in plan.site.sketch.points}.get(line.end)
        return max(now, asked or TAP_FLOW)
    if line.role in ("main", "supply"):
        return max(now, plan.water.taken or 0.0)
    return now


def _struck(plan: Plan) -> float:
    """What each beat does to the drive pipe [m of water]."""
    works = plan.water.ram
    return 0.0 if works is None else works.peak.beating


def _driven(plan: Plan, line: Line, bore: float, fits: Fits) -> Iterator[Remedy]:
    yield from _taken(line, nearest(plan, line, bore, fits, _struck(plan)))


def _taken(line: Line, row: CataloguePipe | None) -> Iterator[Remedy]:
    if row is not None:
        yield take(line, row)
