"""Rows of the lines: outlets, pressure, pipe classes, break-pressure tanks, air."""

from collections.abc import Iterator

import numpy as np

from planner.hydraulics.pressure import State
from planner.output.water.row import DARCY, Group, figure, group, head
from planner.record.value import Line, LineWater, Plan
from planner.record.works import LegAir, LineAir, LinePressure, PlacedVent
from planner.site.value import Units
from planner.units.show import band_text, show
from planner.wording.quantity import VENTS

STATES: dict[State, str] = {
    "open": "outlet open",
    "closed": "outlet closed",
    "surge": "surge, outlet shut by hand",
}
STATE_SOURCES: dict[State, str] = {"open": DARCY, "closed": "static level", "surge": "Joukowsky"}
CLEARS = {
    True: "the flow clears it of air",
    False: "the flow leaves air in it",
    None: "whether the flow clears it can't be said",
}

Rows = Iterator[tuple[str, str | None, str]]


def line_groups(plan: Plan) -> Iterator[Group]:
    """The groups of all lines that run full."""
    units, lines = plan.site.units, plan.lines
    yield group("Outlets", (row for line in lines for row in _outlet(line, units)))
    pressed = [(line, line.pressure) for line in lines if line.pressure is not None]
    yield group("Pressure", (row for pair in pressed for row in _pressure(*pair, units)))
    yield group("Pipe classes", (row for pair in pressed for row in _classes(*pair, units)))
    yield group("Break-pressure tanks", (row for pair in pressed for row in _tanks(*pair, units)))
    aired = [(line, line.air) for line in lines if line.air is not None]
    yield group("Air", (row for pair in aired for row in _air(*pair, units)))


def closed_head(water: LineWater) -> float:
    """Pressure head at a line's end with its outlet closed [m]."""
    return float(water.closed_level[-1] - water.open_level[-1]) + water.end_head


def vent_words(placed: PlacedVent, units: Units) -> str:
    """The kind of a vent in words, with what it asks for."""
    vent = placed.vent
    if vent is None:
        return "none: the air outside would be drawn in"
    words = VENTS[vent.kind]
    if vent.kind == "standpipe":
        words += f" {figure(vent.height, 'height', units)} high"
    return words + (", opened again by hand as air gathers" if vent.by_hand else "")


def _at(chainage: float, units: Units) -> str:
    return figure(chainage, "station", units) or ""


def _outlet(line: Line, units: Units) -> Rows:
    water = line.water
    if water is None or line.role not in ("distribution", "main"):
        return
    yield f"{line.end}, flow", figure(water.flow, "flow", units), DARCY
    yield f"{line.end}, outlet open", head(water.end_head, units), DARCY
    yield f"{line.end}, outlet closed", head(closed_head(water), units), "static level"
    for part in water.part_full:
        text = f"{_at(part.start, units)} to {_at(part.end, units)}"
        yield f"{line.name}, runs part full", text, "Darcy-Weisbach, part full"


def _pressure(line: Line, works: LinePressure, units: Units) -> Rows:
    least, heads = works.least, works.heads
    place = _at(float(heads.chainage[least.index]), units)
    yield (
        f"{line.name}, least to spare",
        f"{head(least.margin, units)}, {STATES[least.state]}, at {place}",
        f"rating {show(least.rating, 'head', units)}; {STATE_SOURCES[least.state]}",
    )
    for state, values in (("open", heads.open), ("closed", heads.closed), ("surge", heads.surge)):
        if state != "surge" or np.any(heads.surge > heads.closed):
            key: State = state  # type: ignore[assignment]
            most = head(float(np.max(values)), units)
            yield f"{line.name}, most, {STATES[key]}", most, STATE_SOURCES[key]


def _classes(line: Line, works: LinePressure, units: Units) -> Rows:
    classed = works.classes
    for stretch in () if classed is None else classed.stretches:
        pipe = stretch.pipe
        name = pipe.pressure_class or pipe.series or pipe.nominal
        text = f"{name}, bore {show(pipe.bore, 'bore', units)}; needs {head(stretch.needed, units)}"
        place = f"{_at(stretch.start, units)} to {_at(stretch.end, units)}"
        yield f"{line.name}, {place}", text, pipe.standard
    for start, end in () if classed is None else classed.too_weak:
        place = f"{_at(start, units)} to {_at(end, units)}"
        yield f"{line.name}, {place}", "no pipe of this size bears the pressure", "pipe catalogue"


def _tanks(line: Line, works: LinePressure, units: Units) -> Rows:
    tanks, source = works.tanks, "static level within the rating"
    if tanks is None:
        return
    chainage = line.profile.chainage
    for number, index in enumerate(tanks.tanks, start=1):
        yield f"{line.name}, tank {number}", _at(float(chainage[index]), units), source
    if tanks.blocked is not None:
        place = _at(float(chainage[tanks.blocked]), units)
        yield f"{line.name}", f"no tanks are enough beyond {place}", source


def _air(line: Line, air: LineAir, units: Units) -> Rows:
    if air.start is not None:
        verdict = "starts as it is" if air.start.starts else "does not start as it is"
        margin = figure(air.start.margin, "height", units)
        yield f"{line.name}, unvented", f"{verdict}: {margin} of head to spare", "Boyle's law"
    for leg in air.legs:
        yield _leg(line, leg, units)
    for vent in air.vents:
        text = vent_words(vent, units)
        yield (
            f"{line.name}, vent at {_at(vent.chainage_m, units)}",
            text,
            "heads there, fewest vents",
        )
    if not air.enough and air.start is not None:
        yield f"{line.name}, vents", "no choice of vents is enough", "fewest vents"


def _leg(line: Line, leg: LegAir, units: Units) -> tuple[str, str | None, str]:
    place = _at(float(line.profile.chainage[leg.leg.crest]), units)
    text = CLEARS[leg.clears]
    if leg.clears is not True:
        text += f"; it takes {band_text(leg.loss, 'level', units)} of head, outlet open"
    return f"{line.name}, leg below {place}", text, "published clearing speeds"
