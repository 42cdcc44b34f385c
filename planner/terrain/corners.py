"""Which cells, and how much of each, make the ground level at a point."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from planner.terrain.sample import EDGE_TOLERANCE, grid_position
from planner.terrain.value import FloatArray, Terrain

IntArray = npt.NDArray[np.int64]


class Corners(NamedTuple):
    """The four cells round each of n points, and their weights, which add up to 1."""

    row: IntArray  # (n, 4)
    col: IntArray  # (n, 4)
    weight: FloatArray  # (n, 4)


def corners(terrain: Terrain, xy: npt.ArrayLike) -> Corners:
    """The cells from which `ground_at` makes its level, bilinear.

    Parameters
    ----------
    terrain : Terrain
    xy : (n, 2) array-like
        Points [m] within the grid; others get those of the nearest point within it.

    Returns
    -------
    Corners
        With `weight` 0 for cells that do not count, at the edge and on the lines between centres.
    """
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    rows, cols = terrain.shape
    row, col = grid_position(terrain, points[:, 0], points[:, 1])
    row, r0 = _cell_before(row, rows)
    col, c0 = _cell_before(col, cols)
    down, right = row - r0, col - c0
    return Corners(
        np.minimum(np.stack([r0, r0, r0 + 1, r0 + 1], axis=1), rows - 1),
        np.minimum(np.stack([c0, c0 + 1, c0, c0 + 1], axis=1), cols - 1),
        np.stack(
            [(1 - down) * (1 - right), (1 - down) * right, down * (1 - right), down * right], axis=1
        ),
    )


def _cell_before(position: FloatArray, count: int) -> tuple[FloatArray, IntArray]:
    """A position held within the grid, whole where nearly so, and the cell before it."""
    held = np.clip(position, 0.0, count - 1.0)
    whole = np.round(held)
    held = np.where(np.abs(held - whole) < EDGE_TOLERANCE, whole, held)
    return held, np.minimum(held.astype(np.int64), max(count - 2, 0))
