"""What is to be marked along a line, before it is known which marks share a peg."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import get_args

import numpy as np
from shapely.geometry import Point

from planner.output.stakes.turns import bends, grade_changes
from planner.output.stakes.value import Reason
from planner.output.vents import apart, vents_of
from planner.profile.value import HighPoint
from planner.record.value import Line, Plan
from planner.site.value import LineRole

RANKS: dict[Reason, int] = {reason: rank for rank, reason in enumerate(get_args(Reason))}
FALLING: frozenset[LineRole] = frozenset({"supply", "drive", "waste", "overflow"})
ON_LINE = 1.0  # m; a way point nearer than this is passed
INTERVAL = {"metric": 10.0, "us": 25 * 0.3048}  # m
LEAST_INTERVAL = 1.0  # m; closer pegs would be one


@dataclass(frozen=True, slots=True)
class Mark:
    """One thing at a chainage [m]; `finding` is its number where it is one."""

    chainage_m: float
    reason: Reason
    remark: str = ""
    finding: int | None = None

    @property
    def rank(self) -> tuple[int, float]:
        """The most telling first, then along the line."""
        return RANKS[self.reason], self.chainage_m


def marks_of(plan: Plan, line: Line) -> tuple[Mark, ...]:
    """Everything to be marked along a line, the most telling first."""
    found = [
        Mark(0.0, "start", f"start: {line.start}"),
        Mark(line.profile.length, "end", f"end: {line.end}"),
        *_air_and_water(line),
        *_crossings(line),
        *_tanks(line),
        *_pipe(line),
        *_turns(line),
        *_way_points(plan, line),
        *_findings(plan, line),
        *(Mark(chainage, "interval") for chainage in _round_chainages(plan, line)),
    ]
    return tuple(sorted(found, key=lambda mark: mark.rank))


def _air_and_water(line: Line) -> Iterator[Mark]:
    vents = vents_of(line)
    for high in line.high_points:
        yield Mark(high.chainage_m, "high", _high_remark(line, high, vents.get(high.index)))
    for index in sorted(vents.keys() - {high.index for high in line.high_points}):
        yield Mark(float(line.profile.chainage[index]), "high", f"fit {_a(vents[index])}")
    for low in line.low_points:
        what = "the pipe should fall on" if line.role in FALLING else "fit a washout"
        yield Mark(low.chainage_m, "low", f"low point: {what}")
    for index in apart(line, "washout"):
        yield Mark(float(line.profile.chainage[index]), "low", "fit a washout")


def _high_remark(line: Line, high: HighPoint, vent: str | None) -> str:
    if vent is not None:
        return f"high point: fit {_a(vent)}"
    if line.role in FALLING:
        return "high point: the pipe should not climb to it"
    air = line.air
    if air is None:
        return "high point: air gathers"
    if any(one.index == high.index for one in air.vents):
        return "high point: it takes no vent, see the findings"
    if any(leg.leg.crest == high.index and leg.clears for leg in air.legs):
        return "high point: the flow clears it of air"
    return "high point: it needs no vent" if air.enough else "high point: air gathers"


def _a(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"


def _crossings(line: Line) -> Iterator[Mark]:
    for one in line.crossed:
        yield Mark(one.chainage_m, "crossing", f"crosses {one.name or 'a stream'}")


def _tanks(line: Line) -> Iterator[Mark]:
    tanks = None if line.pressure is None else line.pressure.tanks
    for index in () if tanks is None else tanks.tanks:
        # A finding tells of them all at the first.
        yield Mark(float(line.profile.chainage[index]), "finding", "break-pressure tank")


def _pipe(line: Line) -> Iterator[Mark]:
    for place, run in enumerate(line.runs):
        if place:
            yield Mark(run.start_m, "size", f"{run.label} begins")
        for number, chainage in enumerate(run.joints, start=2):
            yield Mark(chainage, "joint", f"joint: {ordinal(number)} {run.form} begins")


def ordinal(number: int) -> str:
    """A number in its row, from 1.

    Examples
    --------
    >>> [ordinal(number) for number in (1, 2, 3, 4, 11, 22, 113)]
    ['1st', '2nd', '3rd', '4th', '11th', '22nd', '113th']
    """
    teens = 10 < number % 100 < 14
    return f"{number}{'th' if teens else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


def _turns(line: Line) -> Iterator[Mark]:
    profile = line.profile
    for turn in bends(profile):
        side = "right" if turn.angle > 0.0 else "left"
        at = float(np.interp(turn.run_m, profile.run, profile.chainage))
        yield Mark(at, "bend", f"bend {abs(math.degrees(turn.angle)):.0f}° to the {side}")
    for turn in grade_changes(profile):
        at = float(np.interp(turn.run_m, profile.run, profile.chainage))
        yield Mark(at, "grade", "grade changes")


def _way_points(plan: Plan, line: Line) -> Iterator[Mark]:
    wanted = {point.name: point.line for point in plan.site.sketch.role("way")}
    path, profile = line.path, line.profile
    for placed in plan.points:
        if placed.role != "way" or wanted.get(placed.name) != line.role:
            continue
        spot = Point(placed.xy)
        if path.distance(spot) <= ON_LINE:
            at = float(np.interp(path.project(spot), profile.run, profile.chainage))
            yield Mark(at, "way", f"way point {placed.name}")


def _findings(plan: Plan, line: Line) -> Iterator[Mark]:
    for number, finding in enumerate(plan.findings, start=1):
        if finding.line == line.name and finding.chainage_m is not None:
            at = min(max(finding.chainage_m, 0.0), line.profile.length)
            yield Mark(at, "finding", f"see finding {number}", number)


def _round_chainages(plan: Plan, line: Line) -> tuple[float, ...]:
    wanted = plan.site.papers.stake_interval or INTERVAL[plan.site.units]
    step = max(wanted, LEAST_INTERVAL)
    count = math.ceil(line.profile.length / step - 1e-9)
    return tuple(step * number for number in range(1, count))
