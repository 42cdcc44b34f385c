"""Levels measured on the ground: how they close, and how the elevation data stood up to them."""

import math
from collections.abc import Iterator

from planner.checks.planned import expected
from planner.checks.value import Limit, Values
from planner.levels.value import Method
from planner.record.value import Finding, Level, Plan

# By these a fall is measured; a barometer tells no more of it than a map.
LEVELLING: frozenset[Method] = frozenset({"level", "hose", "traverse", "known"})

SHIFT_TOLD = Limit(
    0.05, "a datum of one's own stands metres off; less is the elevation data's error", "setting"
)
MISCLOSURE_SHARE = Limit(
    0.05, "trade practice: no final drawing on a misclosure over 5 % of the fall that hangs on it"
)
TWICE = Limit(
    2.0, "of honest short runs one in five misses by more than is usual, one in 50 by twice that"
)
LEAST_STATIONS = Limit(5.0, "fewer points say little of how the data scatters", "setting")
WORSE = Limit(2.0, "by chance five points scatter twice as far once in five hundred", "setting")


def fall_measured(plan: Plan) -> bool:
    """Whether both ends of the fall were levelled on the ground."""
    return ends_levelled(plan) == 2


def ends_levelled(plan: Plan) -> int:
    """How many of the two ends of the fall were levelled on the ground."""
    return max((sum(_levelled(plan, end) for end in ends) for ends in _ends(plan)), default=0)


def _levelled(plan: Plan, name: str) -> bool:
    """Whether the ground at a point was levelled."""
    xy = next((point.xy for point in plan.points if point.name == name), None)
    station = None if plan.survey is None or xy is None else plan.survey.at(name, xy)
    return station is not None and bool(LEVELLING.intersection(station.methods))


def _ends(plan: Plan) -> list[tuple[str, str]]:
    """Upper and lower point of the line, or lines, on which the fall stands."""
    role = {"ram": "drive", "gravity": "main", "powered": "supply"}[plan.scheme]
    ends = [(line.role, (line.start, line.end)) for line in plan.lines]
    ends += [(lost.role, (lost.start, lost.end)) for lost in plan.blocked]
    named = [pair for its, pair in ends if its == role]
    if not named and plan.scheme == "gravity":  # no tank: the outlet is fed straight
        named = [pair for its, pair in ends if its == "distribution"]
    return named


def levels_used(plan: Plan) -> Iterator[Finding]:
    """What was levelled, and how far the elevation data was off there."""
    survey = plan.survey
    if survey is None:
        return
    values: Values = {
        "count": float(len(survey.stations)),
        "reach_m": survey.reach,
        "off_m": survey.spread_before,
    }
    yield Finding("note", "levels-used", values)


def levels_shifted(plan: Plan) -> Iterator[Finding]:
    """Heights in another datum than the elevation data's."""
    survey = plan.survey
    if survey is None or abs(survey.shift) <= SHIFT_TOLD.value:
        return
    values: Values = {"shift_m": abs(survey.shift), "way": "above" if survey.shift > 0 else "below"}
    yield Finding("note", "levels-shifted", values)


def levels_not_closing(plan: Plan) -> Iterator[Finding]:
    """Runs of levels that close worse than ordinary levelling, or than the fall allows."""
    if plan.survey is None:
        return
    fall = expected(plan.water.fall)
    for closure in plan.survey.closures:
        off = abs(closure.misclosure)
        values: Values = {"run": closure.what, "off_m": off, "allowed_m": closure.allowed}
        if fall is not None and 0 < fall * MISCLOSURE_SHARE.value < off:
            yield Finding("stop", "levels-not-closing", {**values, "case": "fall", "fall_m": fall})
        elif not closure.good:
            level: Level = "warn" if off > TWICE.value * closure.allowed else "note"
            yield Finding(level, "levels-not-closing", values)


def levels_noted(plan: Plan) -> Iterator[Finding]:
    """What a person should know of how the readings were taken in."""
    for note in () if plan.survey is None else plan.survey.notes:
        yield Finding("note", "levels-noted", {"note": note.strip().rstrip(".")})


def elevation_data_off(plan: Plan) -> Iterator[Finding]:
    """Elevation data that is worse than it was said to be."""
    survey, said = plan.survey, plan.terrain.provenance.standard_error
    if survey is None or not math.isfinite(survey.spread_before) or not math.isfinite(said):
        return
    if len(survey.stations) >= LEAST_STATIONS.value and survey.spread_before > WORSE.value * said:
        values: Values = {"off_m": survey.spread_before, "said_m": said}
        yield Finding("warn", "elevation-data-off", values)


def line_walked(plan: Plan) -> Iterator[Finding]:
    """Lines that lie where they were walked or laid: no other way was looked for."""
    for line in plan.lines:
        if line.walked:
            case = {} if line.built is None else {"case": "built"}
            yield Finding("note", "line-walked", {**case}, line.name)
