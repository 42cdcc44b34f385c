"""Which points of the sketch the plan is about, and what is known of its water."""

import math
from collections.abc import Iterator

from planner.band import Band
from planner.record.value import Line, LineWater, Placed, Plan
from planner.site.value import LineRole, PointRole


def served(plan: Plan) -> frozenset[str]:
    """Names of the points at which a line starts or ends, or should."""
    lines = frozenset(name for line in plan.lines for name in (line.start, line.end))
    return lines.union(name for line in plan.blocked for name in (line.start, line.end))


def chosen(plan: Plan, role: PointRole) -> Placed | None:
    """The point of a role that is planned: the first with a line, else the first there is."""
    names = served(plan)
    points = [point for point in plan.points if point.role == role]
    return next((point for point in points if point.name in names), next(iter(points), None))


def expected(band: Band | None) -> float | None:
    """The expected value, or None where there is none or it can't be told (NaN)."""
    if band is None or not math.isfinite(float(band.expected)):
        return None
    return float(band.expected)


def lines_of(plan: Plan, *roles: LineRole) -> Iterator[Line]:
    """The lines of these roles, in the plan's order."""
    return (line for line in plan.lines if line.role in roles)


def name_of(plan: Plan, role: LineRole) -> str | None:
    """Name of the first line of a role, where there is one."""
    return next((line.name for line in lines_of(plan, role)), None)


def lines_with_water(plan: Plan, *roles: LineRole) -> Iterator[tuple[Line, LineWater]]:
    """The lines of these roles whose water is known, with it."""
    return ((line, line.water) for line in lines_of(plan, *roles) if line.water is not None)
