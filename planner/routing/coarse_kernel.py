"""Compiled: blocks of cells in place of cells, with walls that hold however thin they are.

Averaging loses a wall thinner than a block, and closing every block a wall touches loses the gaps.
So a block is closed only if all of its cells are, and *walled* if a line can't cross it freely: if,
as far as the blocks around it show, its open cells don't hang together, or none of them leads to a
block beside it that has open cells. A gap of one cell joins what is around it, so the block that
holds it is not walled. Lines pass from cell to cell over whole sides only: between two closed cells
that touch at a corner there is none (`planner.routing.stencil`). So too with blocks: of two that
touch at a corner both become walled where the other two around it are walled or closed.

Where high points cost something, a line seeks land with few. How many a straight line meets is
counted along the rows and columns of cells (`crests`).
"""

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.ground_kernel import BoolArray, FloatArray, Soil, cell_at, figure


@njit(cache=True)
def block_means(soil: Soil, side: int) -> tuple[FloatArray, FloatArray, NDArray[np.int64]]:
    """Mean level and price of the open cells of each block, and how many there are.

    Parameters
    ----------
    side : int
        Of a block, in cells.

    Returns
    -------
    (rows, cols) ndarrays
        Level [m] and price NaN where no cell is open.
    """
    rows, cols = soil.z.shape
    shape = ((rows + side - 1) // side, (cols + side - 1) // side)
    level, price, count = np.zeros(shape), np.zeros(shape), np.zeros(shape, np.int64)
    for row in range(rows):
        i = row // side
        for j in range(shape[1]):
            for col in range(j * side, min((j + 1) * side, cols)):
                top, _, cost = cell_at(soil, row, col)
                if not np.isnan(top):
                    level[i, j] += top
                    price[i, j] += cost
                    count[i, j] += 1
    for i in range(shape[0]):
        for j in range(shape[1]):
            if count[i, j] == 0:
                level[i, j] = price[i, j] = np.nan
            else:
                level[i, j] /= count[i, j]
                price[i, j] /= count[i, j]
    return level, price, count


@njit(cache=True)
def crests(soil: Soil, side: int, each: int) -> FloatArray:
    """(rows, cols) how many high points the rows and the columns of cells have in each block.

    Along a row or a column the ground is followed by an alternation of climbs and falls, as few as
    there can be if each must be more than the slack: a high point is the top of a climb.

    Parameters
    ----------
    each : int
        Of so many rows and columns the first is followed.
    """
    rows, cols = soil.z.shape
    found = np.zeros(((rows + side - 1) // side, (cols + side - 1) // side))
    for row in range(0, rows, each):
        _crests_along(soil, row, side, found[row // side])
    _crests_down(soil, side, each, found)
    return found


@njit(cache=True)
def _crests_along(soil: Soil, row: int, side: int, found: FloatArray) -> None:
    """Count the high points of a row of cells in each block."""
    climbs, extreme, place = True, -np.inf, 0  # highest level of the climb, lowest of the fall
    for col in range(soil.z.shape[1]):
        level, slack = cell_at(soil, row, col)[0], figure(soil.slack, row, col)
        if np.isnan(level):  # what lies beyond is another line
            climbs, extreme = True, -np.inf
        elif climbs:
            if level > extreme:
                extreme, place = level, col
            elif level < extreme - slack:
                found[place // side] += 1.0
                climbs, extreme = False, level
        elif level < extreme:
            extreme = level
        elif level > extreme + slack:
            climbs, extreme, place = True, level, col


@njit(cache=True)
def _crests_down(soil: Soil, side: int, each: int, found: FloatArray) -> None:
    """Count the high points of the columns of cells, all of them row by row as they lie."""
    rows, cols = soil.z.shape
    climbs, extreme = np.ones(cols, np.bool_), np.full(cols, -np.inf)
    place = np.zeros(cols, np.int64)
    for row in range(rows):
        for col in range(0, cols, each):
            level, slack = cell_at(soil, row, col)[0], figure(soil.slack, row, col)
            if np.isnan(level):
                climbs[col], extreme[col] = True, -np.inf
            elif climbs[col]:
                if level > extreme[col]:
                    extreme[col], place[col] = level, row
                elif level < extreme[col] - slack:
                    found[place[col] // side, col // side] += 1.0
                    climbs[col], extreme[col] = False, level
            elif level < extreme[col]:
                extreme[col] = level
            elif level > extreme[col] + slack:
                climbs[col], extreme[col], place[col] = True, level, row


@njit(cache=True)
def walled_blocks(soil: Soil, side: int, count: NDArray[np.int64]) -> BoolArray:
    """(rows, cols) whether a line can't cross a block freely.

    Parameters
    ----------
    count : (rows, cols) ndarray
        Open cells of each block, from `block_means`.
    """
    walled = np.zeros(count.shape, np.bool_)
    for i in range(count.shape[0]):
        for j in range(count.shape[1]):
            if count[i, j] > 0 and not _open_round(soil, side, i, j, count):
                # Most blocks hang together with what touches them: no need to look further.
                walled[i, j] = not (
                    _joined(soil, side, i, j, count, 1) or _joined(soil, side, i, j, count, side)
                )
    _close_corners(walled, walled | (count == 0))
    return walled


@njit(cache=True)
def _close_corners(walled: BoolArray, shut: BoolArray) -> None:
    """Wall the blocks that touch at a corner between two that are shut."""
    for i in range(shut.shape[0] - 1):
        for j in range(shut.shape[1] - 1):
            if shut[i, j + 1] and shut[i + 1, j]:
                walled[i, j] = walled[i + 1, j + 1] = True
            if shut[i, j] and shut[i + 1, j + 1]:
                walled[i, j + 1] = walled[i + 1, j] = True


@njit(cache=True)
def _size(soil: Soil, side: int, i: int, j: int) -> int:
    rows, cols = soil.z.shape
    return int(min(side, rows - i * side) * min(side, cols - j * side))


@njit(cache=True)
def _open(soil: Soil, row: int, col: int) -> bool:
    return not np.isnan(cell_at(soil, row, col)[0])


@njit(cache=True)
def _open_round(soil: Soil, side: int, i: int, j: int, count: NDArray[np.int64]) -> bool:
    """Whether a block and those beside it are all open: nothing else needs to be looked at."""
    for di, dj in ((0, 0), (0, 1), (1, 0), (0, -1), (-1, 0)):
        k, m = i + di, j + dj
        inside = 0 <= k < count.shape[0] and 0 <= m < count.shape[1]
        if inside and count[k, m] < _size(soil, side, k, m):
            return False
    return True


@njit(cache=True)
def _joined(soil: Soil, side: int, i: int, j: int, count: NDArray[np.int64], margin: int) -> bool:
    """Whether a block's open cells hang together and lead to all blocks beside it that have any.

    What lies within a margin, in cells, of the block counts as well.
    """
    first = max(i * side - margin, 0), max(j * side - margin, 0)
    reached = _reached(soil, side, i, j, first, margin)
    top, left = i * side - first[0], j * side - first[1]
    rows, cols = (0, top, top + side, reached.shape[0]), (0, left, left + side, reached.shape[1])
    if np.sum(reached[top : top + side, left : left + side]) < count[i, j]:
        return False
    for di, dj in ((0, 1), (1, 0), (0, -1), (-1, 0)):
        k, m = i + di, j + dj
        if not (0 <= k < count.shape[0] and 0 <= m < count.shape[1]) or count[k, m] == 0:
            continue
        beside = reached[rows[di + 1] : rows[di + 2], cols[dj + 1] : cols[dj + 2]]
        if not np.any(beside):
            return False
    return True


@njit(cache=True)
def _reached(
    soil: Soil, side: int, i: int, j: int, first: tuple[int, int], margin: int
) -> BoolArray:
    """Cells of a block and around it, from the cell `first` on, that its first open cell joins."""
    rows = min((i + 1) * side + margin, soil.z.shape[0]) - first[0]
    cols = min((j + 1) * side + margin, soil.z.shape[1]) - first[1]
    closed = np.ones((rows + 2, cols + 2), np.bool_)  # or reached before; a margin saves all tests
    reached = np.zeros((rows, cols), np.bool_)
    for row in range(rows):
        for col in range(cols):
            closed[row + 1, col + 1] = not _open(soil, first[0] + row, first[1] + col)
    stack = np.empty(rows * cols, np.int64)
    waiting = 0
    for row in range(i * side - first[0], min((i + 1) * side - first[0], rows)):
        for col in range(j * side - first[1], min((j + 1) * side - first[1], cols)):
            if waiting == 0 and not closed[row + 1, col + 1]:
                stack[0], waiting = row * cols + col, 1
                closed[row + 1, col + 1] = reached[row, col] = True
    while waiting > 0:
        waiting -= 1
        r, c = stack[waiting] // cols, stack[waiting] % cols
        for dr, dc in ((0, 1), (1, 0), (0, -1), (-1, 0)):
            row, col = r + dr, c + dc
            if not closed[row + 1, col + 1]:
                closed[row + 1, col + 1] = reached[row, col] = True
                stack[waiting] = row * cols + col
                waiting += 1
    return reached
