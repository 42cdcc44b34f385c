"""Longitude and latitude to the terrain's grid and back."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import TerrainError
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.value import Terrain

TERRAIN = Terrain.from_array(np.zeros((3, 4)), 1.0, crs="EPSG:32633")


@given(st.floats(12.0, 18.0), st.floats(-60.0, 60.0))
def test_there_and_back(lon: float, lat: float) -> None:
    np.testing.assert_allclose(
        to_lonlat(TERRAIN, to_local(TERRAIN, (lon, lat)))[0], (lon, lat), atol=1e-8
    )


def test_known_point() -> None:
    """The central meridian at the equator is 500 km, 0 km by the definition of UTM."""
    np.testing.assert_allclose(to_local(TERRAIN, (15.0, 0.0))[0], (500_000.0, 0.0), atol=1e-6)


def test_without_a_coordinate_system() -> None:
    plain = Terrain.from_array(np.zeros((3, 4)), 1.0)
    with pytest.raises(TerrainError, match="no coordinate system"):
        to_local(plain, (15.0, 0.0))
    with pytest.raises(TerrainError, match="no coordinate system"):
        to_lonlat(plain, (15.0, 0.0))
