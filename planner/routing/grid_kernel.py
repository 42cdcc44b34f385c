"""Compiled: filling the arrays of a grid from the ground, all of it or block by block."""

import numpy as np
from numba import njit

from planner.routing.edge_kernel import Field
from planner.routing.ground_kernel import BoolArray, Soil, cell_at, slope_of


@njit(cache=True)
def fill(
    soil: Soil,
    field: Field,
    first: tuple[int, int],
    columns: int,
    cell: tuple[float, float],
    rows: tuple[int, int],
    cols: tuple[int, int],
) -> None:
    """Fill a rectangle of the grid; what lies outside the ground is closed.

    Parameters
    ----------
    first : (int, int)
        Row and column of the ground at which the grid's arrays begin.
    columns : int
        Of the grid.
    cell : (float, float)
        Width and height of a cell [m].
    rows, cols : (int, int)
        From and up to, of the ground; may lie outside it.
    """
    height, width = soil.z.shape
    for row in range(rows[0], rows[1]):
        for col in range(cols[0], cols[1]):
            at = (row - first[0]) * columns + col - first[1]
            if 0 <= row < height and 0 <= col < width:
                field.top[at], field.bottom[at], field.factor[at] = cell_at(soil, row, col)
                if field.east.size > 0:
                    field.east[at], field.north[at] = slope_of(soil.z, row, col, cell[0], cell[1])
            else:
                field.top[at], field.bottom[at], field.factor[at] = np.nan, np.nan, 1.0


@njit(cache=True)
def fill_blocks(
    soil: Soil,
    field: Field,
    first: tuple[int, int],
    columns: int,
    cell: tuple[float, float],
    blocks: BoolArray,
    side: int,
    ring: int,
) -> None:
    """Fill the chosen blocks of the ground and close those around them; touch no others.

    Parameters
    ----------
    blocks : (rows, cols) ndarray
        Which blocks of `side` cells are chosen, from the ground's first cell on.
    ring : int
        How many blocks around are closed.
    """
    down, along = blocks.shape
    for i in range(-ring, down + ring):
        for j in range(-ring, along + ring):
            near = blocks[
                max(i - ring, 0) : max(i + ring + 1, 0), max(j - ring, 0) : max(j + ring + 1, 0)
            ]
            if not np.any(near):
                continue
            rows, cols = (i * side, (i + 1) * side), (j * side, (j + 1) * side)
            if 0 <= i < down and 0 <= j < along and blocks[i, j]:
                fill(soil, field, first, columns, cell, rows, cols)
            else:
                _close(field, first, columns, rows, cols)


@njit(cache=True)
def _close(
    field: Field,
    first: tuple[int, int],
    columns: int,
    rows: tuple[int, int],
    cols: tuple[int, int],
) -> None:
    for row in range(rows[0], rows[1]):
        for col in range(cols[0], cols[1]):
            at = (row - first[0]) * columns + col - first[1]
            field.top[at], field.bottom[at], field.factor[at] = np.nan, np.nan, 1.0
