"""How the error of elevation data hangs together from place to place.

An error of half a metre at one point stands beside nearly the same error a step further on, and
tells nothing of the other side of the valley. Errors of several ranges lie over one another:
trees and interpolation make them over tens of metres, strips and sheets over hundreds; a model
with the short range alone understates what is wrong with long falls (hydraulics notes, section 6,
[S97], [S98]). The field taken here is Gaussian, with one part for each range.
"""

import math
from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.terrain.accuracy import FINE_CELL, MIDDLE_CELL, guess_kind, standard_error_of
from planner.terrain.corners import IntArray, corners
from planner.terrain.value import FloatArray, Terrain


class ErrorPart(NamedTuple):
    """Errors of one range: their share of the variance, and how far they reach [m]."""

    share: float
    reach: float


# Suggested simulations of the hydraulics notes, section 6 [GK-l], in variances. Theirs of lidar's
# short part is exponential, exp(−d / 15 m), without an end; the correlation here ends, and has the
# same area under it with a reach of 8/3 as much.
LIDAR = (ErrorPart(0.9, 40.0), ErrorPart(0.1, 500.0))  # .30 m in forest, .05 to .15 m by strips
MIDDLE = (ErrorPart(0.8, 150.0), ErrorPart(0.2, 2000.0))  # .8 m and .4 m
GLOBAL = (ErrorPart(0.8, 200.0), ErrorPart(0.2, 5000.0))  # 3 to 5 m and 2 m

# Between cells the ground is not flat. Self-similar ground of Hurst exponent .75, usual for
# hillslopes, departs midway between two heights from their mean by √((2^−1.5 − 1/4) / (4 − 2^1.5))
# = .30 of the second difference of heights so far apart.
ROUGH_SHARE = 0.30
ROUGH_WINDOW = 3  # cells to each side, over which second differences are averaged (setting)
PLACE_ERROR = 0.2  # m: how well a staff stands where its stake is drawn, along a tape (setting)
FINE_CELLS = 3.0  # of the cells: how far what the grid can't show hangs together (setting)
FINE_LEAST = 15.0  # m, from one stake to the next (setting)
STAFF = 0.01  # m: tufts and stones under the staff; that much of a level is nobody else's


@dataclass(frozen=True, slots=True)
class ErrorModel:
    """The field of errors of some elevation data.

    Attributes
    ----------
    sigma : float
        Standard error of one height [m].
    parts : tuple of ErrorPart
        Their shares add up to 1.
    fine_reach : float
        How far from a point that departs from the grid's surface others depart with it [m].
    """

    sigma: float
    parts: tuple[ErrorPart, ...]
    fine_reach: float

    @property
    def reach(self) -> float:
        """Beyond it errors have nothing to do with one another [m]."""
        return max(part.reach for part in self.parts)

    def covariance(self, distance: npt.ArrayLike) -> FloatArray:
        """Of the errors of two heights that stand so far apart [m²]; 0 from `reach` on."""
        far = np.asarray(distance, dtype=np.float64)
        own = np.zeros(far.shape)
        for part in self.parts:
            own += self.sigma**2 * part.share * spherical(far / part.reach)
        return own

    def correlation_beside(self, distance: npt.ArrayLike) -> FloatArray:
        """Of departures from the grid's surface at two points so far apart; 0 from `fine_reach`."""
        return spherical(np.asarray(distance, dtype=np.float64) / self.fine_reach)


def spherical(lag: npt.ArrayLike) -> FloatArray:
    """Correlation that falls from 1 at a lag of 0 to exactly 0 from a lag of 1 on.

    1 − 3/2 h + 1/2 h³, the share that two balls a lag apart have in common; positive definite in
    the plane and in space.

    References
    ----------
    Matheron, G., 1963: Principles of geostatistics. Economic Geology 58, 1246-1266.
    """
    held = np.minimum(np.abs(np.asarray(lag, dtype=np.float64)), 1.0)
    return np.asarray(1.0 - held * (1.5 - 0.5 * held**2))


def error_model(terrain: Terrain, *, reach: float | None = None) -> ErrorModel:
    """The field of errors of a terrain, by its kind of data and its cells.

    Parameters
    ----------
    terrain : Terrain
        Its provenance's standard error is taken; where there is none, that of the kind.
    reach : float, optional
        In place of the longest range [m]; shorter ones are cut to it.

    Raises
    ------
    OutsideRange
        The reach is not at least two cells.
    """
    about = terrain.provenance
    cell = max(terrain.cell)
    native = max(cell, about.native_cell) if math.isfinite(about.native_cell) else cell
    kind = guess_kind(native) if about.kind == "unknown" else about.kind
    sigma = about.standard_error
    if not (math.isfinite(sigma) and sigma > 0.0):
        sigma = standard_error_of(kind, native)
    parts = GLOBAL if native > MIDDLE_CELL or kind == "satellite" else MIDDLE
    if native <= FINE_CELL and kind in ("lidar", "levelled", "unknown"):
        parts = LIDAR
    model = ErrorModel(sigma, parts, max(FINE_CELLS * cell, FINE_LEAST))
    return model if reach is None else _within(model, reach, math.hypot(*terrain.cell))


def _within(model: ErrorModel, reach: float, diagonal: float) -> ErrorModel:
    """The model with another longest range.

    A diagonal of a cell is kept back, since a point's level is made of cells that far from it.
    """
    if not reach >= 2.0 * diagonal:
        msg = (
            f"a reach of {reach:g} m is too short: the elevation data has cells of "
            f"{diagonal / math.sqrt(2.0):g} m; write at least {math.ceil(2.0 * diagonal)} m"
        )
        raise OutsideRange(msg)
    far = reach - diagonal
    *shorter, longest = model.parts
    parts = (*(part._replace(reach=min(part.reach, far)) for part in shorter),)
    return replace(
        model,
        parts=(*parts, longest._replace(reach=far)),
        fine_reach=min(model.fine_reach, far),
    )


def departure(terrain: Terrain, xy: npt.ArrayLike) -> FloatArray:
    """How far the ground at points departs from the grid's own surface, as a standard error.

    What lies between cells, by the second differences of the heights around, and what a staff
    beside its stake makes on a slope.

    Parameters
    ----------
    xy : (n, 2) array-like
        Points [m].

    Returns
    -------
    (n,) ndarray
        [m]
    """
    around = corners(terrain, xy)
    nearest = np.argmax(around.weight, axis=1)
    pick = np.arange(len(nearest))
    z = _windows(terrain, around.row[pick, nearest], around.col[pick, nearest])
    rough = np.stack([_mean(np.diff(z, 2, axis=axis) ** 2) for axis in (1, 2)])
    slope = np.stack([_mean(np.diff(z, axis=axis)) / terrain.cell[2 - axis] for axis in (1, 2)])
    between = ROUGH_SHARE * np.sqrt(np.mean(rough, axis=0))
    return np.asarray(np.hypot(between, PLACE_ERROR * np.hypot(slope[0], slope[1])))


def _windows(terrain: Terrain, row: IntArray, col: IntArray) -> FloatArray:
    """(n, side, side) heights around cells; NaN outside the grid."""
    steps = np.arange(-ROUGH_WINDOW, ROUGH_WINDOW + 1)
    rows, cols = terrain.shape
    r, c = row[:, None] + steps, col[:, None] + steps
    inside = ((r >= 0) & (r < rows))[:, :, None] & ((c >= 0) & (c < cols))[:, None, :]
    z = terrain.z[np.clip(r, 0, rows - 1)[:, :, None], np.clip(c, 0, cols - 1)[:, None, :]]
    return np.asarray(np.where(inside, z, np.nan))


def _mean(values: FloatArray) -> FloatArray:
    """(n,) means over what is known; 0 where nothing is."""
    known = np.isfinite(values)
    sums = np.sum(np.where(known, values, 0.0), axis=(1, 2))
    return np.asarray(sums / np.maximum(np.sum(known, axis=(1, 2)), 1))
