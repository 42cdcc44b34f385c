"""What the elevation data tell of the ground at stations, and how far that can be believed."""

import itertools
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.linalg import cho_factor, cho_solve

from planner.levels.value import FloatArray, Survey
from planner.terrain.corners import Corners, corners
from planner.terrain.error_model import STAFF, ErrorModel, departure, error_model
from planner.terrain.value import Terrain

STEPS = ((0, 0), (0, 1), (1, 0), (1, 1))  # rows and columns from a point's first corner


@dataclass(frozen=True, eq=False, slots=True)
class Ground:
    """Stations on elevation data, with the field of its errors.

    Attributes
    ----------
    xy : (n, 2) ndarray
        [m]
    at : Corners
        The cells that make their levels.
    fine : (n,) ndarray
        How far the ground departs from the grid's surface there, as a standard error [m].
    model : ErrorModel
    """

    xy: FloatArray
    at: Corners
    fine: FloatArray
    model: ErrorModel


def ground_of(terrain: Terrain, xy: npt.ArrayLike, reach: float | None) -> Ground:
    """Stations at (n, 2) points [m] of a terrain."""
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    model = error_model(terrain, reach=reach)
    return Ground(points, corners(terrain, points), departure(terrain, points), model)


def stations_of(terrain: Terrain, survey: Survey) -> Ground:
    """The stations of a survey."""
    return ground_of(terrain, [one.xy for one in survey.stations], survey.reach)


def before(terrain: Terrain, ground: Ground) -> FloatArray:
    """(n, n) covariance of the stations' levels as the elevation data tell them [m²].

    Errors of the grid, departures from it that hang together over a few cells, and what is under
    each staff alone.
    """
    own = np.eye(len(ground.xy)) * STAFF**2
    return on_grid(terrain, ground, ground) + beside_grid(ground, ground) + own


def on_grid(terrain: Terrain, one: Ground, other: Ground) -> FloatArray:
    """(n, m) covariance of the errors of the grid's own surface at two sets of points [m²]."""
    width, height = terrain.cell
    # Corners of two points lie by one of nine steps farther apart than their first corners.
    weights = [(down, right, one.at.weight[:, 2 * down + right]) for down, right in STEPS]
    others = [(down, right, other.at.weight[:, 2 * down + right]) for down, right in STEPS]
    rows = one.at.row[:, 0, None] - other.at.row[None, :, 0]
    cols = one.at.col[:, 0, None] - other.at.col[None, :, 0]
    sums = np.zeros(rows.shape)
    for down, right in itertools.product((-1, 0, 1), repeat=2):
        weight = sum(
            np.outer(mine, its)
            for (i, j, mine), (k, m, its) in itertools.product(weights, others)
            if (i - k, j - m) == (down, right)
        )
        far = np.hypot((rows + down) * height, (cols + right) * width)
        sums += weight * one.model.covariance(far)
    return sums


def own_variance(terrain: Terrain, points: Ground) -> FloatArray:
    """(n,) variance of the elevation data's level at each point by itself [m²].

    A mean of four cells is a little surer than one.
    """
    width, height = terrain.cell
    at = points.at
    down = (at.row[:, :, None] - at.row[:, None, :]) * height
    right = (at.col[:, :, None] - at.col[:, None, :]) * width
    shared = points.model.covariance(np.hypot(down, right))
    return np.asarray(np.einsum("ni,nij,nj->n", at.weight, shared, at.weight) + points.fine**2)


def beside_grid(one: Ground, other: Ground) -> FloatArray:
    """(n, m) covariance of the ground's departures from the grid's surface [m²]."""
    apart = one.xy[:, None, :] - other.xy[None, :, :]
    hang = one.model.correlation_beside(np.hypot(apart[..., 0], apart[..., 1]))
    return np.outer(one.fine, other.fine) * hang


def solved(matrix: FloatArray, right: FloatArray) -> FloatArray:
    """The inverse of a covariance times the columns of an array."""
    return np.asarray(cho_solve(cho_factor(matrix), right))
