"""Compiled: what a pipe costs along a given polyline, by the rule of `search_kernel`, in one go."""

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import TOLERANCE
from planner.routing.search_kernel import Rule

MOST_LABELS = 64  # open labels at one sample; a line with one-sided limits needs a handful
FloatArray = NDArray[np.float64]


@njit(cache=True)
def _level(grid: FloatArray, row: float, col: float) -> float:
    """Bilinear level at a fractional row and column; NaN beside closed cells."""
    rows, cols = grid.shape
    # Centre lines that rounding has just missed must not pull in their neighbours.
    if abs(row - np.round(row)) < TOLERANCE:
        row = np.round(row)
    if abs(col - np.round(col)) < TOLERANCE:
        col = np.round(col)
    row, col = min(max(row, 0.0), rows - 1.0), min(max(col, 0.0), cols - 1.0)
    r0, c0 = min(int(row), max(rows - 2, 0)), min(int(col), max(cols - 2, 0))
    fr, fc = row - r0, col - c0
    total = 0.0
    for dr in range(2):
        for dc in range(2):
            weight = (fr if dr else 1.0 - fr) * (fc if dc else 1.0 - fc)
            if weight > 0.0:
                total += weight * grid[r0 + dr, c0 + dc]
    return total


@njit(cache=True)
def follow(
    rows: FloatArray,
    cols: FloatArray,
    cell: FloatArray,
    top: FloatArray,
    bottom: FloatArray,
    factor: FloatArray,
    rule: Rule,
    part: float,
) -> tuple[float, int, float, float]:
    """Cost of the cheapest laying along a polyline.

    Parameters
    ----------
    rows, cols : (n,) ndarray
        Vertices as fractional rows and columns.
    cell : (2,) ndarray
        Width and height of a cell [m].
    top, bottom, factor : (rows, cols) ndarray
        As in `planner.routing.ground.Ground`.
    part : float
        Greatest distance of samples, in cells.

    Returns
    -------
    (cost, way, low, high)
        Infinite cost where the rule can't be kept; the way and the level's bounds at the end.
    """
    cost, low = np.empty(MOST_LABELS), np.empty(MOST_LABELS)
    high, way = np.empty(MOST_LABELS), np.empty(MOST_LABELS, np.int64)
    cost2, low2 = np.empty(4 * MOST_LABELS), np.empty(4 * MOST_LABELS)
    high2, way2 = np.empty(4 * MOST_LABELS), np.empty(4 * MOST_LABELS, np.int64)
    count, metres = 0, 0.0
    for w in range(rule.ways):
        if rule.begin[w] < np.inf:
            cost[count], low[count], high[count] = rule.begin[w], rule.low, rule.high
            way[count] = w
            count += 1
    before = _level(top, rows[0], cols[0])
    for i in range(rows.size - 1):
        dr, dc = rows[i + 1] - rows[i], cols[i + 1] - cols[i]
        pieces = max(int(np.ceil(np.hypot(dr, dc) / part)), 1)
        step = np.hypot(dr * cell[1], dc * cell[0]) / pieces
        for k in range(1, pieces + 1):
            row, col = rows[i] + dr * k / pieces, cols[i] + dc * k / pieces
            highest, lowest = _level(top, row, col), _level(bottom, row, col)
            if not lowest <= highest:
                return np.inf, 0, 0.0, 0.0
            mid_row = min(max(int(row - 0.5 * dr / pieces + 0.5), 0), factor.shape[0] - 1)
            mid_col = min(max(int(col - 0.5 * dc / pieces + 0.5), 0), factor.shape[1] - 1)
            metres += np.hypot(step, highest - before) * factor[mid_row, mid_col]
            before = highest
            made = 0
            for m in range(count):
                for onward in range(rule.ways):
                    lo = max(lowest, low[m] + rule.grades[2 * onward] * step)
                    hi = min(highest, high[m] + rule.grades[2 * onward + 1] * step)
                    if lo <= hi + TOLERANCE:
                        vent = rule.vent_cost if way[m] == 0 and onward == 1 else 0.0
                        cost2[made], low2[made], high2[made] = cost[m] + vent, lo, hi
                        way2[made] = onward
                        made += 1
            count = _keep(cost2, low2, high2, way2, made, cost, low, high, way)
            if count == 0:
                return np.inf, 0, 0.0, 0.0
    best = np.argmin(cost[:count])
    return cost[best] + metres, way[best], low[best], high[best]


@njit(cache=True)
def _keep(
    cost2: FloatArray,
    low2: FloatArray,
    high2: FloatArray,
    way2: NDArray[np.int64],
    made: int,
    cost: FloatArray,
    low: FloatArray,
    high: FloatArray,
    way: NDArray[np.int64],
) -> int:
    """Copy the labels that no other beats, cheapest first, and count them."""
    count = 0
    for m in np.argsort(cost2[:made]):
        beaten = False
        for n in range(count):
            if (
                way[n] == way2[m]
                and low[n] <= low2[m] + TOLERANCE
                and (high[n] >= high2[m] - TOLERANCE)
            ):
                beaten = True
                break
        if not beaten and count < MOST_LABELS:
            cost[count], low[count], high[count] = cost2[m], low2[m], high2[m]
            way[count] = way2[m]
            count += 1
    return count
