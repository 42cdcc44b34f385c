"""High points that hold air, and whether a line starts in spite of them."""

import json
import math
from collections.abc import Iterator, Sequence

from planner.checks.air import GRADE_LINE_TOLERANCE, PRESSURE_LINES, open_head, stands
from planner.checks.fitted import fitted
from planner.checks.planned import lines_of
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.hydraulics.vents import STANDPIPE_MOST, STANDPIPE_SPARE, VALVE_SEALS
from planner.profile.value import HighPoint
from planner.record.value import Finding, Level, Line, Plan
from planner.record.works import LegAir, LineAir, PlacedVent

VENT_SEALS = Limit(
    VALVE_SEALS, "automatic air valves need 2 to 5 m of pressure to seal [m]", "setting"
)
PIPE_HIGHEST = Limit(STANDPIPE_MOST, "higher open pipes are taken for unhandy [m]", "setting")
PIPE_SPARE = Limit(STANDPIPE_SPARE, "a standpipe's top above the highest level [m]", "setting")


def air_trap(plan: Plan) -> Iterator[Finding]:
    """High points of lines under pressure; those above the grade line get no vent."""
    noise = plan.terrain.provenance.standard_error
    for line in lines_of(plan, *PRESSURE_LINES):
        for high in line.high_points:
            above = open_head(line, high.index) < -GRADE_LINE_TOLERANCE.value
            if not above and not fitted(line, high.chainage_m, "vent"):
                yield _trap(line, high, noise)


def _trap(line: Line, high: HighPoint, noise: float) -> Finding:
    values = stands(high) | _round(line, high)
    level: Level = "warn"
    leg, placed = _leg(line, high), _placed(line, high)
    if leg is not None and leg.clears is True:
        level, values["case"] = "note", "clears"
    elif high.rise_m < noise:
        values["case"] = "doubtful"
    elif line.air is not None:
        case = _case(line.air, placed)
        level = "note" if case == "spared" else "warn"
        values |= {"case": case, **_lost(leg)}
        if placed is not None and placed.vent is not None and case == "standpipe":
            values["top_m"] = placed.vent.height
    return on_line(line, high.index, level, "air-trap", values)


def _round(line: Line, high: HighPoint) -> Values:
    """How much more pipe leads round a high point, where such a way was found."""
    ways = (
        other.pipe_m
        for choice in line.choices
        if choice.chosen == "vent" and choice.chainage_m == high.chainage_m
        for other in choice.others
        if other.kind == "detour"
    )
    pipe = next(ways, None)
    return {} if pipe is None else {"detour_m": pipe}


def _case(air: LineAir, placed: PlacedVent | None) -> str:
    """Which vent the high point takes, or why it takes none."""
    if placed is not None:
        if placed.vent is None:
            return "no-vent"
        return placed.vent.kind
    return "spared" if air.enough else "unhelped"


def _leg(line: Line, high: HighPoint) -> LegAir | None:
    legs = () if line.air is None else line.air.legs
    return next((one for one in legs if one.leg.crest == high.index), None)


def _placed(line: Line, high: HighPoint) -> PlacedVent | None:
    vents = () if line.air is None else line.air.vents
    return next((one for one in vents if one.index == high.index), None)


def _lost(leg: LegAir | None) -> Values:
    """Head that the air below the high point takes: for sure, or if the flow leaves it."""
    if leg is None:
        return {}
    if leg.clears is None:
        return {"unsure_m": float(leg.loss.high)}
    return {"left_low_m": float(leg.loss.low), "left_high_m": float(leg.loss.high)}


def air_lock(plan: Plan) -> Iterator[Finding]:
    """Gravity lines that the air shut in while filling keeps from starting, or from running."""
    for line in lines_of(plan, "main", "distribution"):
        air = line.air
        if air is None or air.start is None or not line.high_points or air.start.available <= 0.0:
            continue  # without head over its first high point it is the grade line that stops it
        starts = air.start.starts
        if starts and air.enough:
            continue  # vents that only its running wants are told at their high points
        values: Values = {"needed_m": air.start.needed, "available_m": air.start.available}
        level: Level = "warn"
        if air.enough:
            wanted = [one for one in air.vents if not fitted(line, one.chainage_m, "vent")]
            if not wanted:
                continue
            values["vents"] = _named(wanted)
        elif starts:
            values["case"] = "running"
        else:
            level, values["case"] = "stop", "locked"
        yield on_line(line, line.high_points[0].index, level, "air-lock", values)


def _named(vents: Sequence[PlacedVent]) -> str:
    """Kind, place and height of each vent [m], as wording's kind "vents" reads them."""
    rows = [
        (
            "hand-cock" if one.vent is None else one.vent.kind,
            one.chainage_m,
            None if one.vent is None or math.isnan(one.vent.height) else one.vent.height,
        )
        for one in vents
    ]
    return json.dumps(rows)
