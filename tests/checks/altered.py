"""Plans that differ from the example in one thing, and lines drawn by hand."""

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np

from planner.band import Band
from planner.checks.table import CHECKS
from planner.profile.value import HighPoint, LowPoint, Profile
from planner.record.value import Finding, Line, LineWater, Plan
from planner.site.value import LineRole
from tests.example import example_plan, example_settings

Array = np.ndarray[Any, np.dtype[np.float64]]


@cache
def base() -> Plan:
    """The example, made once."""
    return example_plan()


def found(plan: Plan, code: str) -> list[Finding]:
    """What the check of one code finds."""
    check = next(check for check in CHECKS if check.code == code)
    return list(check.find(plan))


def put(**changes: Any) -> Plan:
    return replace(base(), **changes)


def water(plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    return replace(plan, water=replace(plan.water, **changes))


def fall(expected: float, *, error: float = 0.0) -> Plan:
    return water(fall=Band(expected - error, expected, expected + error))


def site(plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    return replace(plan, site=replace(plan.site, **changes))


def source(**changes: Any) -> Plan:
    return site(source=replace(base().site.source, **changes))


def provenance(plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    terrain = plan.terrain
    known = replace(terrain.provenance, **changes)
    return replace(plan, terrain=replace(terrain, provenance=known))


def point(name: str, plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    points = tuple(replace(p, **changes) if p.name == name else p for p in plan.points)
    return replace(plan, points=points)


def without(*roles: str, plan: Plan | None = None) -> Plan:
    """The plan without the points of these roles and the lines that touch them."""
    plan = plan or base()
    gone = {p.name for p in plan.points if p.role in roles}
    return replace(
        plan,
        points=tuple(p for p in plan.points if p.name not in gone),
        lines=tuple(line for line in plan.lines if not gone & {line.start, line.end}),
    )


def line(name: str, plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    lines = tuple(replace(one, **changes) if one.name == name else one for one in plan.lines)
    return replace(plan, lines=lines)


def line_water(name: str, plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    now = plan.line(name).water
    assert now is not None
    return line(name, plan, water=replace(now, **changes))


def pipe(name: str, plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    settings = plan.line(name).settings
    return line(name, plan, settings=replace(settings, pipe=replace(settings.pipe, **changes)))


def laying(name: str, plan: Plan | None = None, **changes: Any) -> Plan:
    plan = plan or base()
    settings = plan.line(name).settings
    return line(name, plan, settings=replace(settings, laying=replace(settings.laying, **changes)))


def drawn(
    role: LineRole,
    run: list[float],
    pipe_levels: list[float],
    *,
    cover: float = 0.5,
    start: str = "tank",
    end: str = "trough",
    opened: list[float] | float = 520.0,
    closed: float = 520.0,
    velocity: float = 0.1,
) -> Line:
    """A line due east from (0, -90), its high and low points those of the numbers given."""
    r, z = np.array(run), np.array(pipe_levels)
    profile = Profile(
        xy=np.column_stack([r, np.full(r.size, -90.0)]),
        run=r,
        chainage=np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(r), np.diff(z)))]),
        ground=z + cover,
        pipe=z,
        filled=np.zeros(r.size, dtype=bool),
    )
    steps = np.sign(np.diff(z))
    highs = [i for i in range(1, r.size - 1) if steps[i - 1] > 0 > steps[i]]
    lows = [i for i in range(1, r.size - 1) if steps[i - 1] < 0 < steps[i]]
    along = profile.chainage
    return Line(
        name=role,
        role=role,
        start=start,
        end=end,
        settings=example_settings()[role],
        profile=profile,
        high_points=tuple(HighPoint(i, r[i], along[i], z[i], 1.0, 0.4) for i in highs),
        low_points=tuple(LowPoint(i, r[i], along[i], z[i], 1.0) for i in lows),
        water=LineWater(
            flow=5e-5,
            velocity=velocity,
            friction=1.0,
            closed_level=np.full(r.size, closed),
            open_level=np.broadcast_to(np.array(opened, dtype=np.float64), r.shape),
            end_head=2.0,
        ),
    )


def only(one: Line, plan: Plan | None = None) -> Plan:
    """The plan with this one line."""
    return replace(plan or base(), lines=(one,))
