"""What the field changed: a plan held against that from the elevation data alone."""

import math
from collections.abc import Iterator

import numpy as np

from planner.band import Band
from planner.chain.ram_works import measured_ram
from planner.hydraulics.ram import efficiency
from planner.profile.value import HighPoint
from planner.record.value import Change, Line, Plan

LEAST_LEVEL = 0.005  # m, finer than a staff is read
LEAST_LENGTH = 0.5  # m
LEAST_SHARE = 0.01  # of a flow
SAME_PLACE = 10.0  # m; a high point this near to where it was is the same one
MOVED = 1.0  # m


def changes(before: Plan, after: Plan) -> tuple[Change, ...]:
    """Every figure and high point that differs, the scheme's first, then line by line.

    Parameters
    ----------
    before : Plan
        From the elevation data and the source as first said, its lines routed.
    after : Plan
        The same site with what was measured.
    """
    return (
        *_heights("fall", before.water.fall, after.water.fall),
        *_heights("lift", before.water.lift, after.water.lift),
        *_source(before.water.source_flow, after.water.source_flow),
        *_ram(after),
        *_yield(before.water.delivered, after.water.delivered),
        *_levels(after),
        *_lines(before, after),
    )


def _heights(code: str, before: Band | None, after: Band | None) -> Iterator[Change]:
    if before is None or after is None:
        return
    old, new = float(before.expected), float(after.expected)
    doubt = _half(before), _half(after)
    if abs(new - old) > LEAST_LEVEL or abs(doubt[1] - doubt[0]) > LEAST_LEVEL:
        yield Change(code, "", old, new, *doubt)


def _half(band: Band) -> float:
    return float(band.high - band.low) / 2.0


def _source(before: float | None, after: float | None) -> Iterator[Change]:
    if after is None or after == before:
        return
    if before is None:
        yield Change("source/new", "", None, after)
    elif abs(after - before) > LEAST_SHARE * before:
        yield Change("source", "", before, after)


def _ram(after: Plan) -> Iterator[Change]:
    """Efficiency of a ram that was measured, against what is published for its fall and lift."""
    measured, water = measured_ram(after.site), after.water
    if measured is None or water.fall is None or water.lift is None:
        return
    lift = float(water.lift.expected) + (water.lift_friction or 0.0)
    fall = float(water.fall.expected)
    if not (fall > 0.0 and lift > 0.0):
        return
    told = float(efficiency(lift / fall, fall, after.site.ram.make).expected)
    known = told if math.isfinite(told) else None
    code = "ram" if known is not None else "ram/new"
    yield Change(code, "", known, float(measured.expected), None, _half(measured))


def _yield(before: Band | None, after: Band | None) -> Iterator[Change]:
    old, new = _known(before), _known(after)
    if old is None and new is not None:
        yield Change("yield/new", "", None, new)
    elif old is not None and new is None:
        yield Change("yield/lost", "", old, None)
    elif old is not None and new is not None and abs(new - old) > LEAST_SHARE * old:
        yield Change("yield", "", old, new)


def _known(band: Band | None) -> float | None:
    if band is None or not math.isfinite(float(band.expected)):
        return None
    return float(band.expected)


def _levels(after: Plan) -> Iterator[Change]:
    """Points of the sketch whose ground was levelled."""
    for point in after.points:
        station = None if after.survey is None else after.survey.at(point.name, point.xy)
        if station is None or abs(station.level - station.model) <= LEAST_LEVEL:
            continue
        code = "level" if station.level > station.model else "level/lower"
        yield Change(code, point.name, station.model, station.level)


def _lines(before: Plan, after: Plan) -> Iterator[Change]:
    olds = {line.name: line for line in before.lines}
    blocked = {line.name for line in after.blocked}
    yield from (Change("line/lost", name, None, None) for name in olds if name in blocked)
    for line in after.lines:
        if line.name in olds:
            yield from _line(olds[line.name], line)
        elif line.name in {one.name for one in before.blocked}:
            yield Change("line/found", line.name, None, None)


def _line(before: Line, after: Line) -> Iterator[Change]:
    old, new = before.profile.length, after.profile.length
    if abs(new - old) > LEAST_LENGTH:
        yield Change("length", after.name, old, new)
    left = list(after.high_points)
    for high in before.high_points:
        near = min(left, key=lambda one: _apart(before, high, after, one), default=None)
        if near is None or _apart(before, high, after, near) > SAME_PLACE:
            yield Change("high-point/gone", after.name, high.chainage_m, None)
            continue
        left.remove(near)
        if _apart(before, high, after, near) > MOVED:
            yield Change("high-point/moved", after.name, high.chainage_m, near.chainage_m)
    for high in left:
        yield Change("high-point/new", after.name, None, high.chainage_m)


def _apart(one: Line, high: HighPoint, other: Line, its: HighPoint) -> float:
    """Distance in plan between high points of two lines [m]."""
    return float(np.hypot(*(one.profile.xy[high.index] - other.profile.xy[its.index])))
