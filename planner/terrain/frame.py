"""The ways between longitude/latitude and a terrain's own x, y."""

from functools import lru_cache

import numpy as np
import numpy.typing as npt
from pyproj import CRS, Transformer

from planner.errors import TerrainError
from planner.terrain.value import FloatArray, Terrain


def to_lonlat(terrain: Terrain, xy: npt.ArrayLike) -> FloatArray:
    """(n, 2) longitude, latitude [degrees, WGS 84] of (n, 2) points in the terrain's grid [m].

    Raises
    ------
    TerrainError
        The terrain has no coordinate system.
    """
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    lon, lat = _transformer(terrain).transform(points[:, 0], points[:, 1], direction="INVERSE")
    return np.column_stack([lon, lat])


def to_local(terrain: Terrain, lonlat: npt.ArrayLike) -> FloatArray:
    """(n, 2) points in the terrain's grid [m] of (n, 2) longitude, latitude [degrees, WGS 84].

    Raises
    ------
    TerrainError
        The terrain has no coordinate system.
    """
    points = np.asarray(lonlat, dtype=np.float64).reshape(-1, 2)
    x, y = _transformer(terrain).transform(points[:, 0], points[:, 1])
    return np.column_stack([x, y])


def _transformer(terrain: Terrain) -> Transformer:
    if terrain.crs is None:
        msg = "the elevation data has no coordinate system; give one, such as crs = EPSG:32633"
        raise TerrainError(msg)
    return between("EPSG:4326", terrain.crs)


@lru_cache(maxsize=32)
def between(source: CRS | str, target: CRS | str) -> Transformer:
    """The way from one coordinate system to another, x (or longitude) first.

    Kept, because finding it costs milliseconds and a plan asks for the same few again and again.
    """
    return Transformer.from_crs(source, target, always_xy=True)
