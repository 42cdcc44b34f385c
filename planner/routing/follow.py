"""A line that is given: the ground along it, and what it costs under limits of its grade."""

import numpy as np

from planner.routing.asked import Asked
from planner.routing.edge_kernel import TOLERANCE
from planner.routing.follow_kernel import Land, follow
from planner.routing.ground import Ground, band_at
from planner.routing.search_kernel import Rule
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray

PART = 0.25  # of a cell, between samples at which the rule is checked


def land_of(ground: Ground) -> Land:
    """The ground for the compiled kernels."""
    return Land(ground.soil, *ground.terrain.cell, float(ground.side_slope), PART, TOLERANCE)


def cost_along(ground: Ground, rule: Rule, xy: FloatArray) -> tuple[float, int, float, float]:
    """Cost along (n, 2) vertices, and way and level bounds at the end; infinite if not allowed."""
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    cost, way, low, high = follow(land_of(ground), rule, row, col)
    return float(cost), int(way), float(low), float(high)


def grades_of(ground: Ground, asked: Asked, start: tuple[float, float]) -> Rule:
    """The rule for the compiled searches that keep both bounds of the level, from a start."""
    top, bottom = band_at(ground, np.array([start]))
    price, rule = asked.prices.vent_cost, asked.rule
    falls = np.inf
    if price is not None:
        falls = price if asked.begins == "closed" else 0.0
    return Rule(
        grades=np.array([*rule.rising, *rule.falling]),
        ways=1 if price is None else 2,
        vent_cost=0.0 if price is None else price,
        begin=np.array([0.0, falls]),
        low=float(bottom[0]),
        high=float(top[0]),
    )
