"""Compiled: the band and the price of the ground, read from the terrain cell by cell as needed.

Nothing of the size of the terrain is copied: a figure that is the same everywhere is an array of
one cell. Closed and void cells have the level NaN, which fails every test of a search.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
ROUNDING = 1e-9  # cells; a centre line that rounding has just missed counts as met


class Soil(NamedTuple):
    """The ground as arrays; `slack` and `cost` may be of one cell, which stands for all.

    Attributes
    ----------
    z : (rows, cols)
        Level of the ground [m]; NaN = no data.
    slack : (rows, cols) or (1, 1)
        Depth of the band [m].
    cost : (rows, cols) or (1, 1)
        Price of a metre, 1 or more; infinite = closed.
    """

    z: FloatArray
    slack: FloatArray
    cost: FloatArray


@njit(cache=True)
def figure(grid: FloatArray, row: int, col: int) -> float:
    """Value of a cell, of a grid that may have one cell for all."""
    if grid.size == 1:
        return float(grid[0, 0])
    return float(grid[row, col])


@njit(cache=True)
def cell_at(soil: Soil, row: int, col: int) -> tuple[float, float, float]:
    """Highest and lowest level and price of a cell; NaN levels where it is closed or void."""
    cost = figure(soil.cost, row, col)
    if cost == np.inf:
        return np.nan, np.nan, 1.0
    top = soil.z[row, col]
    return top, top - figure(soil.slack, row, col), cost


@njit(cache=True)
def band_here(soil: Soil, row: float, col: float) -> tuple[float, float]:
    """Highest and lowest level at a fractional row and column, bilinear.

    In the outer half cell the nearest edge line is used; NaN beside closed cells.
    """
    rows, cols = soil.z.shape
    if abs(row - np.round(row)) < ROUNDING:
        row = np.round(row)
    if abs(col - np.round(col)) < ROUNDING:
        col = np.round(col)
    row, col = min(max(row, 0.0), rows - 1.0), min(max(col, 0.0), cols - 1.0)
    r0, c0 = min(int(row), max(rows - 2, 0)), min(int(col), max(cols - 2, 0))
    fr, fc = row - r0, col - c0
    highest = lowest = 0.0
    for dr in range(2):
        for dc in range(2):
            weight = (fr if dr else 1.0 - fr) * (fc if dc else 1.0 - fc)
            if weight > 0.0:
                top, bottom, _ = cell_at(soil, r0 + dr, c0 + dc)
                highest += weight * top
                lowest += weight * bottom
    return highest, lowest


@njit(cache=True)
def bands(soil: Soil, rows: FloatArray, cols: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) highest and lowest levels; NaN more than half a cell outside the grid."""
    top, bottom = np.full(rows.size, np.nan), np.full(rows.size, np.nan)
    most_row, most_col = soil.z.shape[0] - 0.5, soil.z.shape[1] - 0.5
    for i in range(rows.size):
        if -0.5 <= rows[i] <= most_row and -0.5 <= cols[i] <= most_col:
            top[i], bottom[i] = band_here(soil, rows[i], cols[i])
    return top, bottom


@njit(cache=True)
def slope_of(z: FloatArray, row: int, col: int, width: float, height: float) -> tuple[float, float]:
    """Slope of the ground at a cell towards the east and the north, from the cells beside it."""
    up, down = max(row - 1, 0), min(row + 1, z.shape[0] - 1)
    left, right = max(col - 1, 0), min(col + 1, z.shape[1] - 1)
    east = (z[row, right] - z[row, left]) / (max(right - left, 1) * width)
    north = (z[up, col] - z[down, col]) / (max(down - up, 1) * height)
    return east, north


@njit(cache=True)
def slopes(
    z: FloatArray, rows: FloatArray, cols: FloatArray, width: float, height: float
) -> tuple[FloatArray, FloatArray]:
    """(n,) slopes of the ground to the east and the north, bilinear between the cells'."""
    east, north = np.zeros(rows.size), np.zeros(rows.size)
    for i in range(rows.size):
        row = min(max(rows[i], 0.0), z.shape[0] - 1.0)
        col = min(max(cols[i], 0.0), z.shape[1] - 1.0)
        r0, c0 = min(int(row), max(z.shape[0] - 2, 0)), min(int(col), max(z.shape[1] - 2, 0))
        for dr in range(2):
            for dc in range(2):
                down, along = row - r0, col - c0
                weight = (down if dr else 1.0 - down) * (along if dc else 1.0 - along)
                if weight > ROUNDING:
                    right, up = slope_of(z, r0 + dr, c0 + dc, width, height)
                    east[i] += weight * right
                    north[i] += weight * up
    return east, north
