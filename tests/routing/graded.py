"""Even land steeper than a line may be, and the length that a rise takes on it at the limit.

On a plane or a cone of slope S a line whose grade is limited to g < S is, at the least,

    L = rise / g * sqrt(1 + g^2)

long, if that is more than the distance of its ends; it runs at the limit all the way. (On a cone
that line is a logarithmic spiral, on a plane any zigzag.)
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np

from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.between import find_between
from planner.routing.corridor import parts
from planner.routing.follow import grades_of
from planner.routing.ground import make_ground
from planner.routing.straighten import straighten
from planner.routing.walk import Walk
from planner.terrain.value import Terrain

SLOPE, BAND = 0.3, 0.1
# Between centres 1 m apart a cone stands up to S / (8 r) over the chord; r is 25 m and more, and
# both ends of a stretch may do so. The band is to hold on the surface itself.
SAG = 2.0 * SLOPE / (8.0 * 25.0)


@dataclass(frozen=True, eq=False)
class Land:
    """A surface in closed form, and two places on it.

    Attributes
    ----------
    level : function of x, y
    """

    name: str
    terrain: Terrain
    level: Callable[..., Any]
    start: tuple[float, float]
    end: tuple[float, float]
    limit: float

    @property
    def rise(self):
        return abs(self.level(*self.end) - self.level(*self.start))

    @property
    def shortest(self):
        return self.rise / self.limit * np.hypot(1.0, self.limit)

    @property
    def rule(self):
        return GradeRule(lowest=-self.limit, highest=self.limit, slack=BAND)


def sampled(level, side):
    """A terrain of side x side cells of 1 m."""
    x, y = np.meshgrid(np.arange(side) + 0.5, -np.arange(side) - 0.5)
    return Terrain.from_array(level(x, y), 1.0)


def plane(degrees, steeper, *, apart=40.0, aside=5.0, side=121):
    """A plane that rises by `SLOPE` in a direction, `steeper` times the limit."""
    turn = np.radians(degrees)
    up = np.array([np.cos(turn), np.sin(turn)])
    middle = np.array([side / 2.0, -side / 2.0])
    start = middle - up * apart / 2.0
    end = start + up * apart + np.array([-up[1], up[0]]) * aside

    def level(x, y):
        return SLOPE * (up[0] * x + up[1] * y)

    name = f"plane, {degrees} degrees, {steeper:g} times the limit"
    return Land(name, sampled(level, side), level, tuple(start), tuple(end), SLOPE / steeper)


def cone(steeper, *, begin=70.0, end=30.0, turned=0.6, side=161):
    """A cone, from one distance of its tip to another."""
    middle = side / 2.0

    def level(x, y):
        return 100.0 - SLOPE * np.hypot(x - middle, y + middle)

    def at(away, angle):
        return middle + away * np.cos(angle), -middle + away * np.sin(angle)

    name = f"cone, from {begin:g} to {end:g} m, {steeper:g} times the limit"
    places = at(begin, 0.35), at(end, 0.35 + turned)
    return Land(name, sampled(level, side), level, *places, SLOPE / steeper)


def lands():
    for steeper in (1.25, 2.0, 4.0):
        for degrees in (0, 13, 30, 45):
            yield plane(degrees, steeper)
        yield cone(steeper)
        yield cone(steeper, begin=30.0, end=65.0, turned=-0.5)


def part_of(ground, start, end):
    """The whole of a ground."""
    whole = next(parts(ground, start, end, 16))
    assert whole.grid.whole
    return whole


def kernel_rule(ground, rule, start, begins="open"):
    """The rule for the compiled searches."""
    return grades_of(ground, asked_of(rule, begins=begins), start)


def asked_of(rule, dig_cost=0.0, begins="open"):
    """What is asked of a line under a rule."""
    return Asked(rule, Prices(rule.vent_cost, dig_cost), begins)


def route(land, **taste):
    """Vertices of the line that is found and straightened, and of the one over the cells."""
    ground = make_ground(land.terrain, BAND - SAG)
    rule = kernel_rule(ground, land.rule, land.start)
    walk = find_between(part_of(ground, land.start, land.end), rule, land.start, land.end)
    assert isinstance(walk, Walk), land.name
    return straighten(ground, asked_of(land.rule), walk.xy, **taste), walk.xy


def length_on(land, xy):
    """Of a line along the surface itself [m]."""
    xy, run = dense(xy)
    return float(np.sum(np.hypot(np.diff(run), np.diff(land.level(*xy.T)))))


def dense(xy, step=0.05):
    """Points along a line, and their runs."""
    legs = np.hypot(*np.diff(xy, axis=0).T)
    corner = np.concatenate([[0.0], np.cumsum(legs)])
    run = np.unique(np.concatenate([corner, np.arange(0.0, corner[-1], step)]))
    return np.column_stack([np.interp(run, corner, xy[:, k]) for k in (0, 1)]), run


def deepest_needed(land, xy):
    """Depth of the band [m] that a pipe within the limits of grade needs on the surface itself.

    The definition: z2 >= z1 - t - g (r2 - r1) and z2 - t <= z1 + g (r2 - r1) for all r1 < r2.
    """
    xy, run = dense(xy)
    z = land.level(*xy.T)
    falls = np.maximum.accumulate(z + land.limit * run) - (z + land.limit * run)
    rises = (z - land.limit * run) - np.minimum.accumulate(z - land.limit * run)
    return float(max(falls.max(), rises.max()))
