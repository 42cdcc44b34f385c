"""`Land`: what the sketch says of the ground: where a pipe may not go, what it costs, how deep."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from scipy.ndimage import minimum_filter
from shapely.geometry.base import BaseGeometry

from planner.routing.crossing import crossing_prices
from planner.routing.ground import is_even
from planner.site.value import Laying
from planner.terrain.burn import touched
from planner.terrain.sample import bilinear, grid_position
from planner.terrain.value import FloatArray, Terrain


@dataclass(frozen=True, eq=False, slots=True)
class Land:
    """The terrain with the sketch's areas burnt in.

    Attributes
    ----------
    terrain : Terrain
    cost : (rows, cols) ndarray
        Factor per cell, 1 or more; infinite where closed.
    deepest : (rows, cols) ndarray
        Deepest trench that can be dug [m]; infinite where nothing is said. A shallow trench
        reaches a cell beyond its area, so that between cell centres, where depths are
        interpolated, it is nowhere too deep inside.
    """

    terrain: Terrain
    cost: FloatArray
    deepest: FloatArray

    def slack(self, laying: Laying) -> FloatArray:
        """(rows, cols) depth the trench of a line may vary by [m], cell by cell."""
        return _slack(self.deepest, laying)

    def slack_at(self, laying: Laying, xy: FloatArray) -> FloatArray:
        """(n,) the same at (n, 2) points, bilinear; NaN outside the grid."""
        row, col = grid_position(self.terrain, xy[:, 0], xy[:, 1])
        rows, cols = (
            _around(at, count) for at, count in zip((row, col), self.cost.shape, strict=True)
        )
        part = _slack(self.deepest[rows, cols], laying)
        return bilinear(part, row - rows.start, col - cols.start)


def _slack(deepest: FloatArray, laying: Laying) -> FloatArray:
    if is_even(deepest) and deepest.size > 1:
        return np.broadcast_to(_slack(deepest[:1, :1], laying), deepest.shape)
    return np.maximum(np.minimum(deepest, laying.deepest_trench) - laying.least_cover, 0.0)


def _deepest(
    terrain: Terrain, costly: Iterable[tuple[BaseGeometry, float, float | None]]
) -> FloatArray:
    """`Land.deepest`; one figure that stands for all where nothing is said."""
    limits = [(shape, depth) for shape, _, depth in costly if depth is not None]
    if not limits:
        return np.broadcast_to(np.inf, terrain.shape)
    deepest = np.full(terrain.shape, np.inf)
    for shape, depth in limits:
        cells = touched(terrain, shape)
        deepest[cells] = np.minimum(deepest[cells], depth)
    shallow: FloatArray = minimum_filter(deepest, size=3, mode="nearest")
    return shallow


def _around(at: FloatArray, count: int) -> slice:
    """The cells, of so many, between which fractional positions lie."""
    first = int(np.clip(np.floor(at.min()), 0, count - 1))
    last = int(np.clip(np.floor(at.max()) + 1, 0, count - 1))
    return slice(first, last + 1)


def make_land(
    terrain: Terrain,
    *,
    avoid: Iterable[BaseGeometry] = (),
    costly: Iterable[tuple[BaseGeometry, float, float | None]] = (),
    stay: Iterable[BaseGeometry] = (),
    crossings: Iterable[tuple[BaseGeometry, float]] = (),
) -> Land:
    """Land from areas in the terrain's x, y.

    Parameters
    ----------
    avoid : shapes
        Closed: every cell they touch.
    costly : (shape, factor, deepest trench or None)
        Where several overlap the dearest factor and the shallowest trench count.
    stay : shapes
        If any: all cells but those wholly inside their union are closed.
    crossings : (line, price of crossing it [m of pipe])
        See `planner.routing.crossing`.
    """
    cost = np.ones(terrain.shape)
    deepest = _deepest(terrain, costly := tuple(costly))
    for shape, factor, _ in costly:
        cells = touched(terrain, shape)
        cost[cells] = np.maximum(cost[cells], factor)
    added = crossing_prices(terrain, crossings)
    if added is not None:
        cost += added
    parcels = list(stay)
    if parcels:
        inside = np.zeros(terrain.shape, dtype=np.bool_)
        for shape in parcels:
            inside |= touched(terrain, shape) & ~touched(terrain, shape.boundary)
        cost[~inside] = np.inf
    for shape in avoid:
        cost[touched(terrain, shape)] = np.inf
    return Land(terrain, cost, deepest)
