"""Air in lines: flat stretches, lines that must fall, and the head at a high point."""

import math
from collections.abc import Iterator

from planner.checks.planned import lines_of
from planner.checks.spot import on_line, sample_at_chainage
from planner.checks.value import Limit, Values
from planner.profile.value import HighPoint
from planner.record.value import Finding, Level, Line, Plan
from planner.site.value import LineRole

PRESSURE_LINES: tuple[LineRole, ...] = ("delivery", "main", "distribution")
FALLING_LINES: dict[LineRole, Level] = {
    "supply": "stop",
    "drive": "stop",
    "waste": "warn",
    "overflow": "warn",
}

GRADE_LINE_TOLERANCE = Limit(0.05, "hand-laid pipe lies within 3 to 5 cm of its line [m]")
DEEPER_MOST = Limit(1.5, "deeper trenches are shored, from 5 ft on [m]")
FLAT_LEAST = Limit(2.0, "shorter than a bucket of an excavator: laid by eye [m]", "setting")


def open_head(line: Line, index: int) -> float:
    """Pressure with the outlet open at a sample [m]; NaN where the line's water is not known."""
    if line.water is None:
        return math.nan
    return float(line.water.open_level[index] - line.profile.pipe[index])


def stands(high: HighPoint) -> Values:
    """How high a high point stands, and how much deeper it would have to lie where men can dig."""
    if high.deeper_m > DEEPER_MOST.value:
        return {"rise_m": high.rise_m}
    return {"rise_m": high.rise_m, "deeper_m": high.deeper_m}


def reverse_grade(plan: Plan) -> Iterator[Finding]:
    """Lines that must fall all the way, and climb."""
    for line in lines_of(plan, *FALLING_LINES):
        level = FALLING_LINES[line.role]
        for high in line.high_points:
            values: Values = {"case": "high", **stands(high)}
            yield on_line(line, high.index, level, "reverse-grade", values)
        # A sag beside a high point is mended with it.
        for low in line.low_points if not line.high_points else ():
            values = {"case": "low", "sag_m": low.sag_m}
            yield on_line(line, low.index, level, "reverse-grade", values)


def flat_stretch(plan: Plan) -> Iterator[Finding]:
    """Stretches flatter than the least grade; full pipes that may sag only get a note."""
    for line in plan.lines:
        level: Level = "note" if line.role in {"main", "distribution", "overflow"} else "warn"
        for flat in line.flats:
            length = flat.end_m - flat.start_m
            if length >= FLAT_LEAST.value:
                values: Values = {
                    "least_grade": line.settings.laying.least_grade,
                    "length_m": length,
                }
                index = sample_at_chainage(line, flat.start_m)
                yield on_line(line, index, level, "flat-stretch", values)
