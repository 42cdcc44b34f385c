"""Holes in the data: small ones filled from their rim and marked, large ones left."""

from dataclasses import replace

import numpy as np
from scipy import ndimage
from scipy.interpolate import LinearNDInterpolator

from planner.terrain.value import BoolArray, FloatArray, Terrain

# A hole is small if a route across it stays close to data: a pond's glint, a house, a lost
# lidar return. In coarse data one or two cells may be missing and no more.
LARGEST_HOLE = 10.0  # m, the longer side of the box round it
LARGEST_HOLE_CELLS = 2  # or so many cells, where they are larger

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
    return replace(terrain, z=z, filled=terrain.filled | (small & np.isfinite(z)))


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
    """Levels for the cells of `small`, from the plane of the nearest rim cells."""
    rim = ndimage.binary_dilation(small, structure=_NEIGHBOURS) & np.isfinite(terrain.z)
    side = np.array([terrain.cell[1], terrain.cell[0]])
    level = LinearNDInterpolator(np.argwhere(rim) * side, terrain.z[rim])
    made: FloatArray = level(np.argwhere(small) * side)
    return made
