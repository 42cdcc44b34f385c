"""String pulling: fewer, longer legs wherever the rule still holds and the cost does not rise."""

import numpy as np

from planner.routing.follow_kernel import follow
from planner.routing.ground import Ground
from planner.routing.search_kernel import Rule
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray

PART = 0.25  # of a cell, between samples at which the rule is checked
GAIN = 1e-9  # m; a shorter way must be shorter by more than rounding


def cost_along(ground: Ground, rule: Rule, xy: FloatArray) -> tuple[float, int, float, float]:
    """Cost along (n, 2) vertices, and way and level bounds at the end; infinite if not allowed."""
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    cell = np.array(ground.terrain.cell)
    cost, way, low, high = follow(
        row, col, cell, ground.top, ground.bottom, ground.factor, rule, PART
    )
    return float(cost), int(way), float(low), float(high)


def straighten(ground: Ground, rule: Rule, xy: FloatArray) -> FloatArray:
    """Drop vertices of a polyline, longest cuts first, while its whole cost does not rise.

    Parameters
    ----------
    xy : (n, 2) ndarray
        Vertices [m] of a line that keeps the rule.

    Returns
    -------
    (m, 2) ndarray
        Some of the vertices, both ends among them.
    """
    cost = cost_along(ground, rule, xy)[0]
    cut = len(xy) - 1
    while cut > 1:
        first = 0
        while first + cut < len(xy):
            trial = np.delete(xy, np.s_[first + 1 : first + cut], axis=0)
            trial_cost = cost_along(ground, rule, trial)[0]
            if trial_cost <= cost + GAIN:
                xy, cost = trial, trial_cost
            first += 1
        cut = min(cut - 1, (2 * cut + 2) // 3, len(xy) - 1)
    return xy
