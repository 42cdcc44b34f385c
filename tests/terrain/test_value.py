"""The value itself."""

from typing import Any

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.terrain.value import Terrain


def test_arrays_are_own_and_read_only() -> None:
    z = np.ones((3, 4))
    terrain = Terrain.from_array(z, 1.0)
    z[0, 0] = 9.0
    assert terrain.z[0, 0] == 1.0
    with pytest.raises(ValueError, match="read-only"):
        terrain.z[0, 0] = 5.0
    with pytest.raises(ValueError, match="read-only"):
        terrain.filled[0, 0] = True


def test_bounds_and_shape() -> None:
    terrain = Terrain.from_array(np.zeros((3, 4)), (2.0, 5.0), origin=(10, 100))
    assert terrain.shape == (3, 4)
    assert terrain.bounds == (10.0, 85.0, 18.0, 100.0)


def test_infinite_is_void() -> None:
    assert np.isnan(Terrain.from_array([[np.inf, -np.inf, np.nan]], 1.0).z).all()


@pytest.mark.parametrize(
    ("z", "cell", "crs"),
    [
        (np.zeros(5), 1.0, None),
        (np.zeros((0, 4)), 1.0, None),
        (np.zeros((2, 2, 2)), 1.0, None),
        (np.zeros((2, 2)), 0.0, None),
        (np.zeros((2, 2)), (1.0, -1.0), None),
        (np.zeros((2, 2)), float("nan"), None),
        (np.zeros((2, 2)), 1.0, "EPSG:nonsense"),
    ],
)
def test_what_is_no_terrain(z: Any, cell: Any, crs: Any) -> None:
    with pytest.raises(TerrainError):
        Terrain.from_array(z, cell, crs=crs)
