"""`Ground`: what a pipe meets on its way: the band it may lie in and the price of each cell."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.terrain.sample import bilinear, grid_position, ground_at
from planner.terrain.value import FloatArray, Terrain


@dataclass(frozen=True, eq=False, slots=True)
class Ground:
    """The band and the price of the ground, cell by cell.

    Attributes
    ----------
    terrain : Terrain
    top, bottom : (rows, cols) ndarray
        Highest and lowest level of the pipe [m], both without the least cover, which moves all
        levels alike; NaN where the ground is closed or unknown.
    factor : (rows, cols) ndarray
        Cost of a metre of pipe, 1 or more.
    side_slope : float
        Steepest slope of the ground across a trench, rise over run; infinite: no limit.
    """

    terrain: Terrain
    top: FloatArray
    bottom: FloatArray
    factor: FloatArray
    side_slope: float = np.inf

    @property
    def slack(self) -> FloatArray:
        """(rows, cols) depth of the band [m]."""
        return self.top - self.bottom


def make_ground(
    terrain: Terrain,
    slack: float | FloatArray,
    cost: npt.ArrayLike | None = None,
    *,
    side_slope: float = np.inf,
) -> Ground:
    """Ground with a trench of varying depth and a price.

    Parameters
    ----------
    terrain : Terrain
    slack : float or (rows, cols) ndarray
        Deepest trench less least cover [m], 0 or more.
    cost : (rows, cols) array-like, optional
        Factor per cell, 1 or more; infinite = closed.
    side_slope : float
        Steepest slope of the ground across a trench, rise over run.

    Raises
    ------
    OutsideRange
        The cost has another shape than the terrain, or a factor under 1 or NaN.
    """
    factor = np.ones(terrain.shape)
    if cost is not None:
        factor = np.array(cost, dtype=np.float64)
        if factor.shape != terrain.shape:
            msg = f"the cost has shape {factor.shape}, the terrain has {terrain.shape}"
            raise OutsideRange(msg)
        if not np.all(factor >= 1.0):
            msg = "a cost factor is NaN or under 1; each must be 1 or more, infinite where closed"
            raise OutsideRange(msg)
    top = np.where(np.isinf(factor), np.nan, terrain.z)
    return Ground(terrain, top, top - slack, np.where(np.isinf(factor), 1.0, factor), side_slope)


def band_at(ground: Ground, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) highest and lowest level at (n, 2) points, bilinear; NaN beside closed cells."""
    levels = []
    for grid in (ground.top, ground.bottom):
        shifted = Terrain(z=grid, cell=ground.terrain.cell, origin=ground.terrain.origin)
        levels.append(ground_at(shifted, xy[:, 0], xy[:, 1]))
    return levels[0], levels[1]


def slopes(ground: Ground) -> tuple[FloatArray, FloatArray]:
    """(rows, cols) slope of the ground towards the east and the north, rise over run."""
    width, height = ground.terrain.cell
    right = np.gradient(ground.terrain.z, width, axis=1)
    down = np.gradient(ground.terrain.z, height, axis=0)
    return right, -down


def slope_at(ground: Ground, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) slopes of the ground to the east and the north at (n, 2) points, bilinear."""
    place = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    east, north = slopes(ground)
    return bilinear(east, *place), bilinear(north, *place)
