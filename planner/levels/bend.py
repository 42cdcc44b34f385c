"""The ground bent to what was levelled on it.

The error of the elevation data is a Gaussian field (`planner.terrain.error_model`); the levels
tell it at the stations. Its mean, given them, is taken from the ground: simple kriging, with the
surface's own bilinear weights, so that the bent ground read at a station agrees with its level.

References
----------
Matheron, G., 1963: Principles of geostatistics. Economic Geology 58, 1246-1266.
"""

import math
from dataclasses import replace

import numpy as np
import numpy.typing as npt
from scipy.signal import oaconvolve

from planner.levels.ground import (
    Ground,
    before,
    beside_grid,
    ground_of,
    on_grid,
    own_variance,
    solved,
    stations_of,
)
from planner.levels.value import FloatArray, Survey
from planner.terrain.error_model import ErrorModel
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain

LEAST = 1e-9  # m; less is rounding, and leaves a cell as it was
POINTS_AT_ONCE = 4_000
# Stations at one place whose levels differ are led through their mean.
APART = 1e-3


def bend(terrain: Terrain, survey: Survey) -> Terrain:
    """The terrain with its error, as far as the levels tell it, taken out.

    Parameters
    ----------
    terrain : Terrain
        On which the survey was adjusted.
    survey : Survey

    Returns
    -------
    Terrain
        Beyond the survey's reach, and where there is no data, the same; provenance is kept.
    """
    if not survey.stations:
        return terrain
    stations = stations_of(terrain, survey)
    off = np.array([one.level - one.model for one in survey.stations])
    pull = solved(before(terrain, stations), off)
    mass = np.zeros(terrain.shape)
    np.add.at(mass, (stations.at.row, stations.at.col), stations.at.weight * pull[:, None])
    return replace(terrain, z=terrain.z + _spread(mass, terrain, stations.model))


def _spread(mass: FloatArray, terrain: Terrain, model: ErrorModel) -> FloatArray:
    """Each cell's mass laid out over the cells around by the covariance: one convolution."""
    window = _window(mass, terrain, model.reach)
    part = mass[window]
    half = [
        min(math.ceil(model.reach / side), size - 1)
        for side, size in zip(terrain.cell[::-1], part.shape, strict=True)
    ]
    down, right = (
        np.arange(-count, count + 1) * side
        for count, side in zip(half, terrain.cell[::-1], strict=True)
    )
    kernel = model.covariance(np.hypot(down[:, None], right[None, :]))
    spread = np.zeros(mass.shape)
    spread[window] = oaconvolve(part, kernel, mode="full")[
        half[0] : half[0] + part.shape[0], half[1] : half[1] + part.shape[1]
    ]
    spread[np.abs(spread) < LEAST] = 0.0
    return spread


def _window(mass: FloatArray, terrain: Terrain, reach: float) -> tuple[slice, slice]:
    """The rows and columns that masses can reach."""
    found = []
    for axis, side in ((1, terrain.cell[1]), (0, terrain.cell[0])):
        held = np.flatnonzero(np.any(mass != 0.0, axis=axis))
        first, last = (0, 0) if held.size == 0 else (int(held[0]), int(held[-1]))
        wide = math.ceil(reach / side)
        found.append(slice(max(first - wide, 0), last + wide + 1))
    return found[0], found[1]


def doubt_at(survey: Survey, terrain: Terrain, xy: npt.ArrayLike) -> FloatArray:
    """Standard error of the bent ground at points, against the stations [m].

    That of the levels at a station, that of the elevation data far from all.

    Parameters
    ----------
    survey : Survey
    terrain : Terrain
        Bent or not.
    xy : (n, 2) array-like
        Points [m].
    """
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    if not survey.stations:
        return np.full(len(points), ground_of(terrain, points, None).model.sigma)
    stations = stations_of(terrain, survey)
    prior = before(terrain, stations)
    # What the levels took off the doubt at the stations, carried to the points.
    taken = solved(prior, solved(prior, prior - survey.covariance).T)
    found = [
        _doubt(terrain, ground_of(terrain, some, survey.reach), stations, taken)
        for some in np.array_split(points, math.ceil(len(points) / POINTS_AT_ONCE) or 1)
    ]
    return np.concatenate(found)


def _doubt(terrain: Terrain, points: Ground, stations: Ground, taken: FloatArray) -> FloatArray:
    shared = on_grid(terrain, points, stations) + beside_grid(points, stations)
    left = own_variance(terrain, points) - np.sum((shared @ taken) * shared, axis=1)
    return np.asarray(np.sqrt(np.maximum(left, 0.0)))


def ground_along(survey: Survey, bent: Terrain, xy: npt.ArrayLike) -> FloatArray:
    """What a line's ground must be raised by to pass through the levels on it.

    A grid can't pass through every level where cells are coarse; what is left at the stations is
    led from one to the next and ends within a few cells.

    Parameters
    ----------
    survey : Survey
    bent : Terrain
        As `bend` returned it.
    xy : (n, 2) array-like
        Points [m].

    Returns
    -------
    (n,) ndarray
        [m]; with the bent ground's level, the adjusted one at a station; 0 away from them.
    """
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    if not survey.stations:
        return np.zeros(len(points))
    stations = stations_of(bent, survey)
    level = np.array([one.level for one in survey.stations])
    left = level - ground_at(bent, stations.xy[:, 0], stations.xy[:, 1])
    even = replace(stations, fine=np.ones(len(level)))
    pull = solved(beside_grid(even, even) + APART * np.eye(len(level)), left)
    found = [
        _led(some, even, pull)
        for some in np.array_split(points, math.ceil(len(points) / POINTS_AT_ONCE) or 1)
    ]
    return np.concatenate(found)


def _led(points: FloatArray, stations: Ground, pull: FloatArray) -> FloatArray:
    apart = points[:, None, :] - stations.xy[None, :, :]
    return np.asarray(
        stations.model.correlation_beside(np.hypot(apart[..., 0], apart[..., 1])) @ pull
    )
