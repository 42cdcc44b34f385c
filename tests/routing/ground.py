"""Small land with planted truths, and what a laid line must keep whatever land it crosses."""

from typing import Any

import numpy as np

from planner.routing.land import Land, make_land
from planner.routing.way import Way
from planner.site.value import Laying
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain

BURIED = Laying("buried", least_cover=0.5, deepest_trench=1.2, least_grade=0.005)
SKIN = 1e-6  # m; rounding

ROWS, COLS = 60, 100
Array = np.ndarray[Any, np.dtype[np.float64]]


def grid() -> tuple[Array, Array]:
    """x, y [m] of the cell centres: the land lies from (0, -60) to (100, 0)."""
    return np.meshgrid(np.arange(COLS) + 0.5, -np.arange(ROWS) - 0.5)


def slope(grade: float = 0.1) -> Array:
    """Land that rises to the east."""
    x, _ = grid()
    return grade * x


def hump(height: float, *, x: float = 50.0, wide: float = 3.0) -> Array:
    """A dyke across the whole land at x."""
    east, _ = grid()
    return height * np.exp(-(((east - x) / wide) ** 2))


def land(z: Array, **areas: Any) -> Land:
    return make_land(Terrain.from_array(z, 1.0), **areas)


def check_laid(way: Way, land: Land, laying: Laying, *, mouth: bool = False) -> None:
    """The pipe lies between least cover and deepest trench, over open ground; levels as told.

    `mouth`: the line may come up to the ground towards its end.
    """
    profile = way.laid.profile
    level = ground_at(land.terrain, profile.xy[:, 0], profile.xy[:, 1])
    assert np.allclose(profile.ground, level)
    assert np.all(profile.depth <= laying.deepest_trench + SKIN)
    assert np.all(profile.depth >= (0.0 if mouth else laying.least_cover) - SKIN)
    steps = np.hypot(np.diff(profile.run), np.diff(profile.pipe))
    assert np.allclose(np.diff(profile.chainage), steps)
    rows = np.floor(-profile.xy[:, 1]).astype(int).clip(0, land.terrain.shape[0] - 1)
    cols = np.floor(profile.xy[:, 0]).astype(int).clip(0, land.terrain.shape[1] - 1)
    assert np.all(np.isfinite(land.cost[rows, cols]))


def grades(way: Way) -> Array:
    """Laid grade of every step, rise over run."""
    profile = way.laid.profile
    return np.asarray(np.diff(profile.pipe) / np.diff(profile.run))
