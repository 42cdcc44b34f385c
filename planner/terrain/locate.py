"""Placing a named point of the sketch on the ground."""

import math

import numpy as np
from pyproj import CRS

from planner.errors import TerrainError
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.place import LONLAT, bent_box
from planner.terrain.sample import cell_centre, cell_of, ground_at
from planner.terrain.sea import sea_of_zeros
from planner.terrain.value import Terrain

BEARINGS = (
    "east",
    "north-east",
    "north",
    "north-west",
    "west",
    "south-west",
    "south",
    "south-east",
)


def level_of(
    terrain: Terrain, name: str, lonlat: tuple[float, float]
) -> tuple[tuple[float, float], float]:
    """Where a point lies in the terrain's grid, and the ground's level there.

    Parameters
    ----------
    name : str
        The point's name, for the message.
    lonlat : (float, float)
        Longitude, latitude [degrees, WGS 84].

    Returns
    -------
    xy : (float, float)
        x, y [m] in the terrain's grid.
    level : float
        Ground level [m].

    Raises
    ------
    TerrainError
        The point lies outside the data, on a hole, or in a sea of zeros; the message names it,
        its coordinates, the data's extent and, for a hole, the nearest data.
    """
    (xy,) = to_local(terrain, lonlat)
    x, y = float(xy[0]), float(xy[1])
    cell = cell_of(terrain, x, y) if np.all(np.isfinite(xy)) else None
    if cell is None:
        msg = (
            f"{_point(name, lonlat)} lies outside the elevation data, which {_extent(terrain)}; "
            f"{_way_back(terrain, lonlat)}"
        )
        raise TerrainError(msg)
    level = float(ground_at(terrain, x, y))
    if math.isnan(level):
        msg = (
            f"{_point(name, lonlat)} lies on a hole in the elevation data, which "
            f"{_extent(terrain)}; {_nearest(terrain, x, y)}"
        )
        raise TerrainError(msg)
    if level == 0.0 and sea_of_zeros(terrain)[cell]:
        msg = (
            f"{_point(name, lonlat)} lies in a flat area of level 0, which is the sea or missing "
            f"data; the elevation data {_extent(terrain)}"
        )
        raise TerrainError(msg)
    return (x, y), level


def _point(name: str, lonlat: tuple[float, float]) -> str:
    return f"the point {name!r} at longitude {lonlat[0]:.6f}, latitude {lonlat[1]:.6f}"


def _extent(terrain: Terrain) -> str:
    """The data's box in longitude and latitude, in words."""
    if terrain.crs is None:
        return "has no coordinate system"
    west, south, east, north = bent_box(terrain.crs, CRS(LONLAT), terrain.bounds)
    return f"covers longitude {west:.6f} to {east:.6f}, latitude {south:.6f} to {north:.6f}"


def _way_back(terrain: Terrain, lonlat: tuple[float, float]) -> str:
    """What brings a point that lies outside onto the data, in words."""
    ((x, y),) = to_local(terrain, lonlat[::-1])
    if np.all(np.isfinite((x, y))) and cell_of(terrain, float(x), float(y)) is not None:
        return "with the two exchanged it lies inside, so write longitude first"
    return "move the point, or give data that covers it"


def _nearest(terrain: Terrain, x: float, y: float) -> str:
    """Where the nearest cell with data is, in words."""
    rows, cols = np.nonzero(np.isfinite(terrain.z))
    if rows.size == 0:
        return "there is no data at all"
    cx, cy = cell_centre(terrain, rows, cols)
    best = int(np.argmin(np.hypot(cx - x, cy - y)))
    dx, dy = float(cx[best]) - x, float(cy[best]) - y
    ((lon, lat),) = to_lonlat(terrain, (cx[best], cy[best]))
    side = BEARINGS[round(math.atan2(dy, dx) / (math.pi / 4.0)) % 8]
    return (
        f"the nearest data is {math.hypot(dx, dy):.0f} m to the {side}, at longitude {lon:.6f}, "
        f"latitude {lat:.6f}"
    )
