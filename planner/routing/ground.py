"""`Ground`: what a pipe meets on its way: the band it may lie in and the price of each cell."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.routing.ground_kernel import Soil, bands, slopes
from planner.terrain.sample import grid_position
from planner.terrain.value import BoolArray, FloatArray, Terrain


@dataclass(frozen=True, eq=False)
class Ground:
    """The band and the price of the ground, read from the terrain where they are asked for.

    Attributes
    ----------
    terrain : Terrain
    slack : (rows, cols) or (1, 1) ndarray, read-only
        Depth of the band [m]; one cell stands for all.
    cost : (rows, cols) or (1, 1) ndarray, read-only
        Cost of a metre of pipe, 1 or more; infinite where closed; one cell stands for all.
    side_slope : float
        Steepest slope of the ground across a trench, rise over run; infinite: no limit.
    """

    terrain: Terrain
    slack: FloatArray
    cost: FloatArray
    side_slope: float = np.inf

    @property
    def soil(self) -> Soil:
        """The arrays, for compiled code."""
        return Soil(self.terrain.z, self.slack, self.cost)

    @property
    def open_cells(self) -> BoolArray:
        """(rows, cols) whether a pipe may lie there."""
        known: BoolArray = np.isfinite(self.terrain.z)
        return known & np.isfinite(self.cost)

    # Arrays of the whole, made when they are first asked for: for small land alone.

    @cached_property
    def top(self) -> FloatArray:
        """(rows, cols) highest level of the pipe [m], NaN where the ground is closed or void."""
        return np.where(self.open_cells, self.terrain.z, np.nan)

    @cached_property
    def bottom(self) -> FloatArray:
        """(rows, cols) lowest level of the pipe [m], NaN where the ground is closed or void."""
        return self.top - self.slack

    @cached_property
    def factor(self) -> FloatArray:
        """(rows, cols) cost of a metre of pipe, 1 where the ground is closed."""
        price = np.where(np.isinf(self.cost), 1.0, self.cost)
        return np.broadcast_to(price, self.terrain.shape).copy()


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
        Factor per cell, 1 or more; infinite = closed. Not copied if it is of float64.
    side_slope : float
        Steepest slope of the ground across a trench, rise over run.

    Raises
    ------
    OutsideRange
        The cost has another shape than the terrain, or a factor under 1 or NaN.
    """
    price = _held(1.0 if cost is None else cost)
    if cost is not None and np.shape(cost) != terrain.shape:
        msg = f"the cost has shape {np.shape(cost)}, the terrain has {terrain.shape}"
        raise OutsideRange(msg)
    if not price.min() >= 1.0:  # also where one is NaN
        msg = "a cost factor is NaN or under 1; each must be 1 or more, infinite where closed"
        raise OutsideRange(msg)
    return Ground(terrain, _held(slack), price, side_slope)


def is_even(grid: FloatArray) -> bool:
    """Whether one figure in memory stands for all cells (`numpy.broadcast_to`)."""
    return grid.size > 0 and not any(grid.strides)


def _held(value: npt.ArrayLike) -> FloatArray:
    """A grid to read, of one cell for a single figure."""
    grid = np.asarray(value, dtype=np.float64)
    if is_even(grid):
        grid = grid.ravel()[:1] if grid.ndim < 2 else grid[:1, :1]
    grid = np.ascontiguousarray(grid)
    grid = grid.reshape(1, 1) if grid.size == 1 else grid.view()
    grid.flags.writeable = False
    return grid


def band_at(ground: Ground, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) highest and lowest level at (n, 2) points, bilinear; NaN beside closed cells."""
    levels: tuple[FloatArray, FloatArray] = bands(
        ground.soil, *grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    )
    return levels


def price_at(ground: Ground, xy: FloatArray) -> FloatArray:
    """(n,) price of a metre in the cells that hold (n, 2) points; infinite where closed."""
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    rows, cols = ground.cost.shape
    price: FloatArray = ground.cost[
        np.clip(np.floor(row + 0.5), 0, rows - 1).astype(np.int64),
        np.clip(np.floor(col + 0.5), 0, cols - 1).astype(np.int64),
    ]
    return price


def slope_at(ground: Ground, xy: FloatArray) -> tuple[FloatArray, FloatArray]:
    """(n,) slopes of the ground to the east and the north at (n, 2) points, bilinear."""
    place = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    found: tuple[FloatArray, FloatArray] = slopes(ground.terrain.z, *place, *ground.terrain.cell)
    return found
