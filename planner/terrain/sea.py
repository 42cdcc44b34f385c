"""The sea of zeros: water, or nothing at all, that some files store as height 0."""

import numpy as np
from scipy import ndimage

from planner.terrain.value import BoolArray, Terrain

# Land is at 0 exactly only where someone wrote so: two neighbours may, a hundred don't.
LEAST_CELLS = 100


def sea_of_zeros(terrain: Terrain) -> BoolArray:
    """(rows, cols) true in connected areas of at least 100 cells at level 0 exactly."""
    zero = terrain.z == 0.0
    if zero.sum() < LEAST_CELLS:
        return np.zeros(terrain.shape, dtype=np.bool_)
    labels, _ = ndimage.label(zero)
    large = np.bincount(labels.ravel()) >= LEAST_CELLS
    large[0] = False
    sea: BoolArray = large[labels]
    return sea
