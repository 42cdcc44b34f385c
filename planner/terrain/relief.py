"""The shape of the ground to look at: slope, hillshade, contours."""

import math
from dataclasses import dataclass
from typing import cast

import contourpy
import numpy as np

from planner.errors import TerrainError
from planner.terrain.sample import cell_centre
from planner.terrain.value import FloatArray, Terrain

STEPS = (1.0, 2.0, 5.0)  # times a power of ten: intervals that can be counted by eye
LEAST_INTERVAL = 0.5  # m
MOST_LEVELS = 25
FEWEST_LEVELS = 5
# A contour may be taken as true if nine heights in ten are right within half an interval (the
# rule of the US National Map Accuracy Standards, 1947): 1.645 standard errors.
NINE_IN_TEN = 1.645
INDEX_EVERY = 5
SHORTEST_RING = 12  # points; shorter rings are noise of a few cells


@dataclass(frozen=True, eq=False, slots=True)
class Contour:
    """A line of equal level.

    Attributes
    ----------
    level : float
        [m]
    xy : (n, 2) ndarray
        Points [m]; first and last are equal for a closed line. Higher ground lies on the left.
    index : bool
        Every fifth, drawn heavier and labelled.
    """

    level: float
    xy: FloatArray
    index: bool


def slope(terrain: Terrain) -> FloatArray:
    """(rows, cols) steepest rise over run; NaN on and beside missing data."""
    east, north = _gradient(terrain)
    return np.hypot(east, north)


def hillshade(
    terrain: Terrain, azimuth: float = 315.0, altitude: float = 45.0, exaggeration: float = 1.0
) -> FloatArray:
    """(rows, cols) light that falls on the ground, 0 (dark) to 1 (facing the light).

    The cosine between the surface's normal and the direction to the light; NaN on and beside
    missing data.

    Parameters
    ----------
    azimuth : float
        From where the light comes [degrees clockwise from north].
    altitude : float
        Of the light above the horizon [degrees].
    exaggeration : float
        By which heights are multiplied, more than 0.
    """
    east, north = _gradient(terrain)
    east, north = east * exaggeration, north * exaggeration
    bearing, height = math.radians(azimuth), math.radians(altitude)
    toward = -east * math.sin(bearing) - north * math.cos(bearing)
    light = (toward * math.cos(height) + math.sin(height)) / np.sqrt(1.0 + east**2 + north**2)
    return np.clip(light, 0.0, 1.0)


def contour_interval(terrain: Terrain) -> float:
    """A sensible contour interval [m]: 1, 2 or 5 times a power of ten, at least 0.5.

    Large enough that contours don't crowd and that the data's error leaves them true, unless
    that would leave fewer than five.
    """
    relief = float(np.nanmax(terrain.z) - np.nanmin(terrain.z))
    error = terrain.provenance.standard_error
    honest = 2.0 * NINE_IN_TEN * error if math.isfinite(error) else 0.0
    wanted = max(relief / MOST_LEVELS, min(honest, relief / FEWEST_LEVELS), LEAST_INTERVAL)
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(step * power for step in (0.5, *STEPS, 10.0) if step * power >= wanted - 1e-9)


def contours(terrain: Terrain, interval: float | None = None) -> list[Contour]:
    """Lines of equal level, lowest first; none crosses missing data.

    Parameters
    ----------
    interval : float, optional
        Between levels [m], more than 0; None: `contour_interval`.

    Raises
    ------
    TerrainError
        The interval is not more than 0.
    """
    if interval is not None and not (math.isfinite(interval) and interval > 0.0):
        msg = f"the contour interval must be more than 0 m, got {interval}"
        raise TerrainError(msg)
    if min(terrain.shape) < 2 or not np.any(np.isfinite(terrain.z)):
        return []
    step = contour_interval(terrain) if interval is None else interval
    rows, cols = terrain.shape
    x, _ = cell_centre(terrain, np.zeros(cols), np.arange(cols))
    _, y = cell_centre(terrain, np.arange(rows), np.zeros(rows))
    # Rows from south to north, so that higher ground keeps to the left of a line.
    maker = contourpy.contour_generator(x, y[::-1], np.ma.masked_invalid(terrain.z[::-1]))
    first = math.ceil(float(np.nanmin(terrain.z)) / step)
    last = math.floor(float(np.nanmax(terrain.z)) / step)
    found = []
    for number in range(first, last + 1):
        # Line type "Separate", the default: one (n, 2) array a line.
        lines = cast("list[FloatArray]", maker.lines(number * step))
        index = number % INDEX_EVERY == 0
        found += [Contour(number * step, line, index) for line in lines if not _is_speck(line)]
    return found


def _is_speck(line: FloatArray) -> bool:
    return len(line) < SHORTEST_RING and bool(np.array_equal(line[0], line[-1]))


def _gradient(terrain: Terrain) -> tuple[FloatArray, FloatArray]:
    """Rise per metre towards the east and the north, by central differences."""
    if min(terrain.shape) < 2:
        flat: FloatArray = np.where(np.isnan(terrain.z), np.nan, 0.0)
        return flat, flat
    down, east = np.gradient(terrain.z, terrain.cell[1], terrain.cell[0])
    return np.asarray(east), -np.asarray(down)
