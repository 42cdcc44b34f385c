"""`DriveRule`: what a drive pipe must keep; `drives`: all that do, between many places at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.profile.value import FloatArray
from planner.routing.drive_kernel import Limits, Places, pairs
from planner.routing.ground import Ground, band_at
from planner.site.value import Laying
from planner.terrain.sample import grid_position

LENGTH_TO_FALL = (3.0, 10.0)  # sources disagree: 3-7, 5-10 in a US bulletin
LENGTH_TO_BORE = (150.0, 1000.0)  # Calvert


@dataclass(frozen=True, slots=True)
class DriveRule:
    """What a drive pipe must keep.

    Attributes
    ----------
    propped, dug : float
        How far it may stand above the ground and lie in it [m].
    bores : tuple of float
        Bores that can be had [m]; its length must suit one of them. Empty: any length.
    length_to_fall : (float, float)
        Least and most length over fall.
    """

    propped: float
    dug: float
    bores: tuple[float, ...] = ()
    length_to_fall: tuple[float, float] = LENGTH_TO_FALL

    @property
    def limits(self) -> Limits:
        """The same for compiled code."""
        short, long = LENGTH_TO_BORE
        spans = [(short * bore, long * bore) for bore in self.bores] or [(0.0, np.inf)]
        least, most = self.length_to_fall
        return Limits(float(self.propped), float(self.dug), least, most, np.array(spans))


def drive_rule(laying: Laying, bores: Sequence[float] = ()) -> DriveRule:
    """The rule for a drive pipe that is laid so, of bores that can be had [m]."""
    return DriveRule(max(-laying.least_cover, 0.0), laying.deepest_trench, tuple(bores))


@dataclass(frozen=True, eq=False, slots=True)
class Drives:
    """Straight drive pipes that keep a rule, by chamber.

    Attributes
    ----------
    chamber, ram : (k,) int ndarray
        Which of the places given.
    fall, length : (k,) ndarray
        From the ground at the chamber to the ground at the ram [m].
    propped, dug : (k,) ndarray
        Farthest above and below the ground [m], 0 or more.
    """

    chamber: npt.NDArray[np.int64]
    ram: npt.NDArray[np.int64]
    fall: FloatArray
    length: FloatArray
    propped: FloatArray
    dug: FloatArray


def drives(ground: Ground, chambers: npt.ArrayLike, rams: npt.ArrayLike, rule: DriveRule) -> Drives:
    """Every straight drive pipe from a chamber to a ram that keeps the rule.

    Parameters
    ----------
    chambers, rams : (n, 2), (m, 2) array-like
        x, y [m]; places off the data or beside closed cells have no pipe.

    Returns
    -------
    Drives
        By chamber, and for each by row and column of the ram's cell.
    """
    high, low = _places(ground, chambers), _places(ground, rams)
    cols = ground.terrain.shape[1]
    cell = np.floor(low.row + 0.5) * cols + np.floor(low.col + 0.5)
    order = np.argsort(np.where(np.isnan(low.level), np.inf, cell), kind="stable")
    order = order[: int(np.isfinite(low.level).sum())]
    low = Places(*(part[order] for part in low))
    found = pairs(
        ground.soil,
        np.array(ground.terrain.cell, dtype=np.float64),
        rule.limits,
        high,
        low,
        cell[order].astype(np.int64),
    )
    return Drives(
        found[:, 0].astype(np.int64), order[found[:, 1].astype(np.int64)], *found[:, 2:].T.copy()
    )


def _places(ground: Ground, xy: npt.ArrayLike) -> Places:
    points = np.asarray(xy, dtype=np.float64).reshape(-1, 2)
    row, col = grid_position(ground.terrain, points[:, 0], points[:, 1])
    return Places(np.ascontiguousarray(row), np.ascontiguousarray(col), band_at(ground, points)[0])
