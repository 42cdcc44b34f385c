"""Compiled: what one step over the grid costs, and whether a pipe can take it.

Between two centres the ground is the bilinear surface of the cells around, sampled along every
move (`planner.routing.stencil`). A corner that is closed or void is NaN, and NaN fails every test:
no move slips through a wall.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.stencil import Stencil

TOLERANCE = 1e-9  # m
FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


class Field(NamedTuple):
    """Padded, flattened ground.

    Attributes
    ----------
    top, bottom : (cells,)
        Highest and lowest level [m], NaN = closed.
    factor : (cells,)
        Price of a metre, 1 or more.
    east, north : (cells,) or (0,)
        Slope of the ground towards the east and the north; no length where no limit is set to
        the slope across a trench.
    """

    top: FloatArray
    bottom: FloatArray
    factor: FloatArray
    east: FloatArray
    north: FloatArray


class Links(NamedTuple):
    """Edges between an end, which may lie anywhere, and the cells around it.

    Attributes
    ----------
    node : (E,)
        Flat index of the cell; the number of cells itself for the other end.
    cost : (E,)
    factor : (E,)
        Mean price of a metre of the link.
    across : (E,)
        Steepest slope of the ground across the link; 0 where no limit is set.
    sample_from, step, top, bottom : (E + 1,), (S,), (S,), (S,)
        Samples in the direction of travel: distance from the one before, band.
    """

    node: IntArray
    cost: FloatArray
    factor: FloatArray
    across: FloatArray
    sample_from: IntArray
    step: FloatArray
    top: FloatArray
    bottom: FloatArray


@njit(cache=True)
def price_of(field: Field, stencil: Stencil, node: int, k: int) -> float:
    """Cost of move k from a cell."""
    factor = 0.0
    for p in range(stencil.price_from[k], stencil.price_from[k + 1]):
        factor += stencil.price_share[p] * field.factor[node + stencil.price_cell[p]]
    rise = field.top[node + stencil.move[k]] - field.top[node]
    return float(factor * np.hypot(stencil.run[k], rise))


@njit(cache=True)
def over_link(
    links: Links, e: int, low: float, high: float, a: float, b: float
) -> tuple[bool, float, float]:
    """Whether a pipe passes a link at grades [a, b], and the bounds of its level at the far end."""
    for s in range(links.sample_from[e], links.sample_from[e + 1]):
        step, top, bottom = links.step[s], links.top[s], links.bottom[s]
        if not bottom <= top:
            return False, low, high
        low = max(bottom, low + a * step)
        high = min(top, high + b * step)
        if not low <= high + TOLERANCE:
            return False, low, high
    return True, low, high


@njit(cache=True)
def over_edge(
    field: Field, stencil: Stencil, node: int, k: int, low: float, high: float, a: float, b: float
) -> tuple[bool, float, float]:
    """Whether a pipe passes move k at grades [a, b], and the bounds of its level at the far end."""
    for s in range(stencil.sample_from[k], stencil.sample_from[k + 1]):
        top, bottom = 0.0, 0.0
        for c in range(stencil.corner_from[s], stencil.corner_from[s + 1]):
            at, weight = node + stencil.corner[c], stencil.weight[c]
            top += weight * field.top[at]
            bottom += weight * field.bottom[at]
        if not bottom <= top:
            return False, low, high
        low = max(bottom, low + a * stencil.step[s])
        high = min(top, high + b * stencil.step[s])
        if not low <= high + TOLERANCE:
            return False, low, high
    return True, low, high


@njit(cache=True)
def across(field: Field, stencil: Stencil, node: int, k: int) -> float:
    """Steepest slope of the ground across move k from a cell; 0 where no limit is set."""
    if field.east.size == 0:
        return 0.0
    ahead, left = stencil.east[k], stencil.north[k]
    steepest = abs(field.east[node] * left - field.north[node] * ahead)
    for s in range(stencil.sample_from[k], stencil.sample_from[k + 1]):
        slope = 0.0
        for c in range(stencil.corner_from[s], stencil.corner_from[s + 1]):
            at = node + stencil.corner[c]
            slope += stencil.weight[c] * (field.east[at] * left - field.north[at] * ahead)
        steepest = max(steepest, abs(slope))
    return float(steepest)
