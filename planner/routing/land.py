"""`Land`: what the sketch says of the ground: where a pipe may not go, what it costs, how deep."""

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from scipy.ndimage import minimum_filter
from shapely.geometry.base import BaseGeometry

from planner.routing.crossing import crossing_prices
from planner.site.value import Laying
from planner.terrain.burn import touched
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
        return np.maximum(np.minimum(self.deepest, laying.deepest_trench) - laying.least_cover, 0.0)


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
    cost, deepest = np.ones(terrain.shape), np.full(terrain.shape, np.inf)
    for shape, factor, depth in costly:
        cells = touched(terrain, shape)
        cost[cells] = np.maximum(cost[cells], factor)
        if depth is not None:
            deepest[cells] = np.minimum(deepest[cells], depth)
    added = crossing_prices(terrain, crossings)
    if added is not None:
        cost += added
    deepest = minimum_filter(deepest, size=3, mode="nearest")
    parcels = list(stay)
    if parcels:
        inside = np.zeros(terrain.shape, dtype=np.bool_)
        for shape in parcels:
            inside |= touched(terrain, shape) & ~touched(terrain, shape.boundary)
        cost[~inside] = np.inf
    for shape in avoid:
        cost[touched(terrain, shape)] = np.inf
    return Land(terrain, cost, deepest)
