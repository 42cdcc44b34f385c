"""Crests against the hydraulic grade line, and siphons."""

from collections.abc import Iterator

import numpy as np

from planner.checks.air import GRADE_LINE_TOLERANCE, PRESSURE_LINES, open_head
from planner.checks.planned import lines_of, lines_with_water
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.hydraulics import limits
from planner.hydraulics.air import SIPHON_DESIGN, SIPHON_STOP, siphon_limit
from planner.record.value import Finding, Level, Line, LineWater, Plan

CREST_LEAST = Limit.low(limits.CREST_RESIDUAL)
SIPHON_WARN = Limit(SIPHON_DESIGN, "a siphon meant as such goes up to 3 m [m]", "setting")
SIPHON_BREAKS = Limit(
    SIPHON_STOP, "siphons break off at 7 to 8 m at sea level, less higher up [m]", "published"
)
ALTITUDES = (-400.0, 5000.0)  # m, where the air's pressure is known; local datums lie inside


def crest_above_grade_line(plan: Plan) -> Iterator[Finding]:
    """Stretches where the pipe stands above the grade line, each at its worst sample."""
    for line, water in lines_with_water(plan, *PRESSURE_LINES):
        above = line.profile.pipe - water.open_level
        over = above > GRADE_LINE_TOLERANCE.value
        edges = np.flatnonzero(np.diff(np.concatenate([[False], over, [False]]).astype(int)))
        for first, end in edges.reshape(-1, 2):
            worst = int(first + np.argmax(above[first:end]))
            # The worst at an end is no crest: the outlet itself is too high, and is said so.
            if 0 < worst < above.size - 1:
                yield _crest(line, water, worst)


def _crest(line: Line, water: LineWater, worst: int) -> Finding:
    pipe = float(line.profile.pipe[worst])
    above = pipe - float(water.open_level[worst])
    values: Values = {"above_m": above}
    level: Level = "stop"
    if line.settings.siphon:
        limit = -siphon_limit(min(max(pipe, ALTITUDES[0]), ALTITUDES[1]))
        values |= {"case": "siphon-high" if above > limit else "siphon", "limit_m": limit}
        if above <= limit:
            level = "warn" if above > SIPHON_WARN.value else "note"
    elif line.role == "delivery":
        values["case"] = "delivery"
    elif pipe > float(water.closed_level[worst]):
        over = pipe - float(water.closed_level[worst])
        values |= {"case": "source", "over_m": over}
    return on_line(line, worst, level, "crest-above-grade-line", values)


def crest_low_pressure(plan: Plan) -> Iterator[Finding]:
    """High points with little pressure left; a delivery's, near its tank, always have."""
    for line in lines_of(plan, "main", "distribution"):
        for high in line.high_points:
            head = open_head(line, high.index)
            if -GRADE_LINE_TOLERANCE.value <= head < CREST_LEAST.value:
                values: Values = {"head_m": max(head, 0.0), "least_m": CREST_LEAST.value}
                yield on_line(line, high.index, "warn", "crest-low-pressure", values)
