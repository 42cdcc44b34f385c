"""Air in lines: high points, air locks, flat stretches, lines that must fall."""

import math
from collections.abc import Iterator

from planner.checks.planned import lines_of, lines_with_water
from planner.checks.spot import on_line, sample_at_chainage
from planner.checks.value import Limit, Values
from planner.hydraulics.air import clears
from planner.profile.value import HighPoint, LowPoint
from planner.record.value import Finding, Level, Line, Plan
from planner.site.value import LineRole

PRESSURE_LINES: tuple[LineRole, ...] = ("delivery", "main", "distribution")
FALLING_LINES: dict[LineRole, Level] = {
    "supply": "stop",
    "drive": "stop",
    "waste": "warn",
    "overflow": "warn",
}

VENT_SEALS = Limit(5.0, "automatic air valves need 2 to 5 m of pressure to seal [m]", "setting")
GRADE_LINE_TOLERANCE = Limit(0.05, "hand-laid pipe lies within 3 to 5 cm of its line [m]")
FLAT_LEAST = Limit(2.0, "shorter than a bucket of an excavator: laid by eye [m]", "setting")


def open_head(line: Line, index: int) -> float:
    """Pressure with the outlet open at a sample [m]; NaN where the line's water is not known."""
    if line.water is None:
        return math.nan
    return float(line.water.open_level[index] - line.profile.pipe[index])


def air_trap(plan: Plan) -> Iterator[Finding]:
    """High points of lines under pressure; those above the grade line get no vent."""
    noise = plan.terrain.provenance.standard_error
    for line in lines_of(plan, *PRESSURE_LINES):
        for high in line.high_points:
            head = open_head(line, high.index)
            if head < -GRADE_LINE_TOLERANCE.value:
                continue
            values: Values = {"rise_m": high.rise_m, "deeper_m": high.deeper_m}
            level: Level = "warn"
            if _clears(line, high):
                level, values["case"] = "note", "clears"
            elif high.rise_m < noise:
                values["case"] = "doubtful"
            elif head < VENT_SEALS.value:
                values |= {"case": "low-pressure", "head_m": max(head, 0.0)}
            yield on_line(line, high.index, level, "air-trap", values)


def _clears(line: Line, high: HighPoint) -> bool:
    """Whether the flow surely carries air down the leg behind a high point.

    Not on a ram's delivery, which brings new air at every beat.
    """
    if line.role == "delivery" or line.water is None or not math.isfinite(line.water.velocity):
        return False
    profile = line.profile
    following = (low.index for low in line.low_points if low.index > high.index)
    end = next(following, profile.run.size - 1)
    drop = float(profile.pipe[high.index] - profile.pipe[end])
    slope = drop / float(profile.run[end] - profile.run[high.index])
    return slope > 0 and clears(line.water.velocity, line.settings.pipe.bore, slope) is True


def air_lock(plan: Plan) -> Iterator[Finding]:
    """Air shut in while filling that the head over the last high point can't push out.

    At worst each falling leg that ends in a low point is all air; water starts to flow only if
    their heights together are not more than the source stands above the last high point.
    """
    for line, water in lines_with_water(plan, "main", "distribution"):
        if not line.high_points:
            continue
        trapped = sum(_leg(high, line.low_points) for high in line.high_points)
        last = line.high_points[-1]
        available = float(water.closed_level[last.index]) - last.level_m
        if trapped > available > 0:
            values: Values = {"trapped_m": trapped, "available_m": available}
            yield on_line(line, last.index, "warn", "air-lock", values)


def _leg(high: HighPoint, lows: tuple[LowPoint, ...]) -> float:
    """Height of the falling leg from a high point to the next low point, 0 if it runs free."""
    following = (low.level_m for low in lows if low.index > high.index)
    return high.level_m - next(following, high.level_m)


def reverse_grade(plan: Plan) -> Iterator[Finding]:
    """Lines that must fall all the way, and climb."""
    for line in lines_of(plan, *FALLING_LINES):
        level = FALLING_LINES[line.role]
        for high in line.high_points:
            values: Values = {"case": "high", "rise_m": high.rise_m, "deeper_m": high.deeper_m}
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
