"""Straightening: few, long legs in place of a line over the cells, its rule kept."""

from dataclasses import replace
from functools import partial

import numpy as np

from planner.routing.edge_kernel import TOLERANCE
from planner.routing.follow_kernel import Land, follow
from planner.routing.ground import Ground
from planner.routing.search_kernel import Rule
from planner.routing.settle import Price, price_of_shape, settle
from planner.routing.straighten_kernel import LOOSE, Taste, straight
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.value import FloatArray

PART = 0.25  # of a cell, between samples at which the rule is checked
BEND_COST = 0.05  # m of pipe; what a bend must save at least
SHALLOW = (1.0, 0.5, 0.2)  # shares of the band
MOST_TRIALS = 400  # lines priced as a whole
MOST_WORK = 300_000  # samples of the ground looked at, some 0.04 s; twice with a least leg


def land_of(ground: Ground) -> Land:
    """The ground for the compiled kernels."""
    return Land(ground.soil, *ground.terrain.cell, float(ground.side_slope), PART, TOLERANCE)


def cost_along(ground: Ground, rule: Rule, xy: FloatArray) -> tuple[float, int, float, float]:
    """Cost along (n, 2) vertices, and way and level bounds at the end; infinite if not allowed."""
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    cost, way, low, high = follow(land_of(ground), rule, row, col)
    return float(cost), int(way), float(low), float(high)


def straighten(
    ground: Ground,
    rule: Rule,
    xy: FloatArray,
    *,
    bend_cost: float = BEND_COST,
    least_leg: float = 0.0,
    price: Price | None = None,
) -> FloatArray:
    """A line of fewer, longer legs that costs no more and keeps its rule.

    Vertices are dropped, moved off the cell centres, joined and added, the rule tested every
    quarter of a cell at each step: grades, band, closed and void cells, slope across the trench.

    Parameters
    ----------
    xy : (n, 2) ndarray
        Vertices [m] of a line that keeps the rule.
    bend_cost : float
        Price of a bend [m of pipe]; it steers the choice and is no part of a route's cost.
    least_leg : float
        Legs shorter than this [m] are kept only where all else costs three times what they lack.
    price : function of (n, 2) vertices, optional
        Cost of a whole line where it is more than length and vents (digging), infinite where the
        line is not allowed. The line is straightened by this price alone as far as `MOST_TRIALS`
        lead, and without it in all of its band and in shallow ones; the cheapest is taken.

    Returns
    -------
    (m, 2) ndarray
        From the same start to the same end; the line as it was where it breaks its rule.
    """
    moved = np.any(np.diff(xy, axis=0) != 0.0, axis=1)
    xy = xy[np.concatenate([[True], moved])]
    if len(xy) < 3:
        return xy
    if price is None:
        return _straight(ground, rule, xy, bend_cost, least_leg)
    bends = partial(price_of_shape, bend_cost=bend_cost, least_leg=0.0)
    shape = partial(price_of_shape, bend_cost=bend_cost, least_leg=least_leg)
    bands = [replace(ground, slack=ground.slack * share) for share in SHALLOW]
    lines = [_straight(band, rule, xy, bend_cost, least_leg) for band in bands]
    settled = settle(xy, price, bends, min(ground.terrain.cell), MOST_TRIALS)
    if least_leg > 0.0:  # charged at the end alone: all legs over the cells are short
        settled = settle(settled, price, shape, min(ground.terrain.cell), MOST_TRIALS)
    lines.append(settled)
    return min(lines, key=lambda line: price(line) + shape(line))


def _straight(
    ground: Ground, rule: Rule, xy: FloatArray, bend_cost: float, least_leg: float
) -> FloatArray:
    """Straightened by length and vents alone."""
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    taste = Taste(float(bend_cost), float(least_leg), MOST_WORK)
    land = land_of(ground)
    land = land._replace(tolerance=land.tolerance / LOOSE)
    rows, cols = straight(land, rule, taste, row, col)
    made = np.column_stack(cell_centre(ground.terrain, rows, cols))
    made[0], made[-1] = xy[0], xy[-1]
    return made
