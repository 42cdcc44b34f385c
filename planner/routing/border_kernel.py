"""Compiled: the border of a corridor of blocks, and least cost of lines that leave over it."""

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.ground_kernel import BoolArray, FloatArray


@njit(cache=True)
def leaving_bound(
    rows: NDArray[np.int64],
    cols: NDArray[np.int64],
    from_start: FloatArray,
    to_end: FloatArray,
    side: int,
    cell: tuple[float, float],
    least: float,
) -> float:
    """Least of from_start[x] + least * |x, y| + to_end[y] over all pairs of blocks.

    Parameters
    ----------
    rows, cols : (n,) ndarray
        Of the blocks.
    from_start, to_end : (n,) ndarray
        Least of the block's cells [m of pipe]; infinite where none is reached.
    side : int
        Of a block, in cells.
    cell : (float, float)
        Width and height [m].
    least : float
        Price of a metre between blocks, at least; between them counts the gap from centre to
        centre of their nearest cells.
    """
    bound = np.inf
    for a in range(rows.size):
        if from_start[a] >= bound:
            continue
        for b in range(rows.size):
            total = from_start[a] + to_end[b]
            if total < bound:
                down = max(abs(rows[a] - rows[b]) * side - side + 1, 0) * cell[1]
                along = max(abs(cols[a] - cols[b]) * side - side + 1, 0) * cell[0]
                bound = min(bound, total + least * np.hypot(down, along))
    return bound


@njit(cache=True)
def border_costs(
    cost: FloatArray,
    first: tuple[int, int],
    columns: int,
    shape: tuple[int, int],
    blocks: BoolArray,
    side: int,
    reach: int,
) -> FloatArray:
    """(rows, cols) least cost of each block's cells from which a move may leave the blocks.

    Parameters
    ----------
    cost : (cells,) ndarray
        Of a grid that begins at the ground's cell `first`; zero: never reached.
    shape : (int, int)
        Rows and columns of the ground.
    blocks : (rows, cols) ndarray
        Which blocks are held; a move leaves into another block, not off the ground.
    reach : int
        Of a move, in rows and in columns.

    Returns
    -------
    (rows, cols) ndarray
        Infinite where no move leaves, or none of the cells is reached.
    """
    least = np.full(blocks.shape, np.inf)
    for i in range(blocks.shape[0]):
        for j in range(blocks.shape[1]):
            if not blocks[i, j] or not _borders(blocks, i, j, side, reach):
                continue
            for row in range(i * side, min((i + 1) * side, shape[0])):
                for col in range(j * side, min((j + 1) * side, shape[1])):
                    here = cost[(row - first[0]) * columns + col - first[1]]
                    if 0.0 < here < least[i, j] and _leaves(blocks, row, col, side, reach, shape):
                        least[i, j] = here
    return least


@njit(cache=True)
def _borders(blocks: BoolArray, i: int, j: int, side: int, reach: int) -> bool:
    """Whether a block not held lies within reach of a block."""
    ring = (reach + side - 1) // side
    return not np.all(blocks[max(i - ring, 0) : i + ring + 1, max(j - ring, 0) : j + ring + 1])


@njit(cache=True)
def _leaves(
    blocks: BoolArray, row: int, col: int, side: int, reach: int, shape: tuple[int, int]
) -> bool:
    """Whether a move from a cell may come to a block that is not held."""
    top, bottom = max(row - reach, 0) // side, min(row + reach, shape[0] - 1) // side
    left, right = max(col - reach, 0) // side, min(col + reach, shape[1] - 1) // side
    return not np.all(blocks[top : bottom + 1, left : right + 1])


@njit(cache=True)
def border_blocks(blocks: BoolArray, side: int, reach: int) -> BoolArray:
    """(rows, cols) which of the held blocks a move may leave."""
    found = np.zeros(blocks.shape, np.bool_)
    for i in range(blocks.shape[0]):
        for j in range(blocks.shape[1]):
            found[i, j] = blocks[i, j] and _borders(blocks, i, j, side, reach)
    return found
