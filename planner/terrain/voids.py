"""Holes in the data: small ones filled from their rim and marked, large ones left."""

from dataclasses import replace

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from planner.terrain.value import BoolArray, FloatArray, Terrain

# A hole is small if a route across it stays close to data: a pond's glint, a house, a lost
# lidar return. In coarse data one or two cells may be missing and no more.
LARGEST_HOLE = 10.0  # m, the longer side of the box round it
LARGEST_HOLE_CELLS = 2  # or so many cells, where they are larger

IntArray = npt.NDArray[np.int64]

_NEIGHBOURS = np.ones((3, 3), dtype=bool)


def fill_small_voids(terrain: Terrain, largest: float = LARGEST_HOLE) -> Terrain:
    """The terrain with its small holes filled, linearly between the cells of their rim.

    Parameters
    ----------
    largest : float
        Longer side of the box round a hole that is still filled [m]; holes of two cells each
        way always are. Holes at the edge of the grid have no rim and stay.

    Returns
    -------
    Terrain
        With `filled` true where a level was made up; NaN elsewhere stays NaN.
    """
    small = small_voids(terrain, largest)
    if not small.any():
        return terrain
    z = np.array(terrain.z)
    z[small] = _from_rim(terrain, small)
    return replace(terrain, z=z, filled=terrain.filled | small)


def small_voids(terrain: Terrain, largest: float = LARGEST_HOLE) -> BoolArray:
    """(rows, cols) true in holes that are small and closed on all sides."""
    void = np.isnan(terrain.z)
    if not void.any():
        return void
    labels, number = ndimage.label(void, structure=_NEIGHBOURS)
    rows, cols = terrain.shape
    limit_rows = max(LARGEST_HOLE_CELLS, int(largest / terrain.cell[1]))
    limit_cols = max(LARGEST_HOLE_CELLS, int(largest / terrain.cell[0]))
    keep = np.zeros(number + 1, dtype=bool)
    for label, (down, across) in enumerate(ndimage.find_objects(labels), start=1):
        inside = min(down.start, across.start) > 0 and down.stop < rows and across.stop < cols
        size = down.stop - down.start, across.stop - across.start
        keep[label] = inside and size[0] <= limit_rows and size[1] <= limit_cols
    small: BoolArray = keep[labels]
    return small


def _from_rim(terrain: Terrain, small: BoolArray) -> FloatArray:
    """Levels for the cells of `small`: along row and column, the shorter gap counting more.

    Each is a straight line between the two ends of the gap, so a plane is restored exactly.
    """
    row, col = np.nonzero(small)
    total, weight = np.zeros(row.size), np.zeros(row.size)
    for down, across, side in ((1, 0, terrain.cell[1]), (0, 1, terrain.cell[0])):
        before, low = _to_rim(terrain.z, row, col, (-down, -across))
        after, high = _to_rim(terrain.z, row, col, (down, across))
        gap = (before + after) * side
        total += (low * after + high * before) / (before + after) / gap
        weight += 1.0 / gap
    made: FloatArray = total / weight
    return made


def _to_rim(
    z: FloatArray, row: IntArray, col: IntArray, step: tuple[int, int]
) -> tuple[FloatArray, FloatArray]:
    """Steps from cells to the first one with data, and the level there."""
    steps = np.ones(row.size, dtype=np.int64)
    while True:
        level = z[row + steps * step[0], col + steps * step[1]]
        void = np.isnan(level)
        if not void.any():
            return steps.astype(np.float64), level
        steps += void
