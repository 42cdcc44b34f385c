"""Compiled: what straight links from an end to the cells around it cross.

A link is sampled at equal distances of no more than a part of a cell; a corner that is closed or
void is NaN unless it has no weight, and closes the link.
"""

import numpy as np
from numba import njit

from planner.routing.edge_kernel import FloatArray, IntArray, Links
from planner.routing.ground_kernel import ROUNDING, Soil, bands, figure, slopes

NO_LENGTH = 1e-9  # m


@njit(cache=True)
def link_all(
    soil: Soil,
    cell: tuple[float, float],
    sloped: bool,
    part: float,
    start: FloatArray,
    stop: FloatArray,
    node: IntArray,
) -> Links:
    """Links from starts to stops; those over closed ground are left out.

    Parameters
    ----------
    cell : (width, height)
        Of a cell [m].
    sloped : bool
        Whether the slope of the ground across is asked for; else it is 0.
    part : float
        Greatest distance of samples [m].
    start, stop : (T, 2)
        Row and column, whole numbers at cell centres.
    node : (T,)
        What the links are called.
    """
    pieces = np.empty(node.size, np.int64)
    for t in range(node.size):
        pieces[t] = max(int(np.ceil(_length(cell, start[t], stop[t]) / part - ROUNDING)), 1)
    names, begin = np.empty(node.size, np.int64), np.zeros(node.size + 1, np.int64)
    cost, factor, across = np.empty(node.size), np.empty(node.size), np.empty(node.size)
    step, top, bottom = np.empty(pieces.sum()), np.empty(pieces.sum()), np.empty(pieces.sum())
    count = 0
    for t in range(node.size):
        along = np.arange(pieces[t] + 1) / pieces[t]
        rows = start[t, 0] + (stop[t, 0] - start[t, 0]) * along
        cols = start[t, 1] + (stop[t, 1] - start[t, 1]) * along
        highest, lowest = bands(soil, rows, cols)
        length = _length(cell, start[t], stop[t])
        if length <= NO_LENGTH:
            length, rows[0], cols[0], highest[0] = 0.0, rows[1], cols[1], highest[1]
        price, mean = _price(soil, rows, cols, highest, length)
        if not price < np.inf:
            continue
        first, last = begin[count], begin[count] + pieces[t]
        names[count], cost[count], factor[count], across[count] = node[t], price, mean, 0.0
        step[first:last] = length / pieces[t]
        top[first:last], bottom[first:last] = highest[1:], lowest[1:]
        if sloped and length > 0.0:
            east, north = slopes(soil.z, rows, cols, cell[0], cell[1])
            ahead = (stop[t, 1] - start[t, 1]) * cell[0] / length
            left = (start[t, 0] - stop[t, 0]) * cell[1] / length
            across[count] = np.max(np.abs(east * left - north * ahead))
        begin[count + 1] = last
        count += 1
    kept = begin[count]
    return Links(
        names[:count],
        cost[:count],
        factor[:count],
        across[:count],
        begin[: count + 1],
        step[:kept],
        top[:kept],
        bottom[:kept],
    )


@njit(cache=True)
def _length(cell: tuple[float, float], start: FloatArray, stop: FloatArray) -> float:
    east, south = (stop[1] - start[1]) * cell[0], (stop[0] - start[0]) * cell[1]
    return float(np.hypot(east, south))


@njit(cache=True)
def _price(
    soil: Soil, rows: FloatArray, cols: FloatArray, level: FloatArray, length: float
) -> tuple[float, float]:
    """Price of a link and mean price of a metre of it; NaN or infinite where it is closed."""
    if length == 0.0:
        return 0.0 * level[0], 1.0  # NaN where closed
    pieces = rows.size - 1
    price = mean = 0.0
    for i in range(pieces):
        factor = _factor(soil, rows[i], cols[i], rows[i + 1], cols[i + 1])
        price += factor * np.hypot(length / pieces, level[i + 1] - level[i])
        mean += factor / pieces
    return price, mean


@njit(cache=True)
def _factor(soil: Soil, row0: float, col0: float, row1: float, col1: float) -> float:
    """Mean price of a metre of a piece; shorter than a cell, it crosses two borders at most."""
    one, two = _border(row0, row1), _border(col0, col1)
    one, two = min(one, two), max(one, two)
    mean = 0.0
    for begin, end in ((0.0, one), (one, two), (two, 1.0)):
        if end - begin > ROUNDING:
            middle = (begin + end) / 2.0
            row = int(np.floor(row0 + (row1 - row0) * middle + 0.5))
            col = int(np.floor(col0 + (col1 - col0) * middle + 0.5))
            row = min(max(row, 0), soil.z.shape[0] - 1)
            col = min(max(col, 0), soil.z.shape[1] - 1)
            mean += (end - begin) * figure(soil.cost, row, col)
    return mean


@njit(cache=True)
def _border(begin: float, end: float) -> float:
    """Part of a piece, from 0 to 1, at which it crosses from one cell into the next; 1 if none."""
    low, high = min(begin, end), max(begin, end)
    border = np.floor(high + 0.5) - 0.5
    return (border - begin) / (end - begin) if low < border < high else 1.0
