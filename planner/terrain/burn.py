"""Areas burnt into the grid: which cells a shape touches."""

import numpy as np
from rasterio.features import geometry_mask
from rasterio.transform import Affine
from shapely.geometry.base import BaseGeometry

from planner.terrain.value import BoolArray, Terrain


def touched(terrain: Terrain, shape: BaseGeometry) -> BoolArray:
    """(rows, cols) bool: cells that a shape in the terrain's x, y touches, be it by an edge."""
    if shape.is_empty:
        return np.zeros(terrain.shape, dtype=np.bool_)
    width, height = terrain.cell
    west, north = terrain.origin
    return np.asarray(
        geometry_mask(
            [shape],
            out_shape=terrain.shape,
            transform=Affine(width, 0.0, west, 0.0, -height, north),
            all_touched=True,
            invert=True,
        ),
        dtype=np.bool_,
    )
