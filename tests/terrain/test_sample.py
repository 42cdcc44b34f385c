"""Levels between cells."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.terrain.sample import cell_centre, cell_of, grid_position, ground_at
from planner.terrain.value import Terrain
from tests.terrain.conftest import hills

TERRAIN = Terrain.from_array(hills(), (2.0, 3.0), origin=(100.0, 900.0))


@given(st.floats(0, 39), st.floats(0, 59))
def test_position_and_centre_are_inverse(row: float, col: float) -> None:
    back = np.array(grid_position(TERRAIN, *cell_centre(TERRAIN, row, col)))
    np.testing.assert_allclose(back, (row, col), atol=1e-9)


@given(st.floats(0.0, 39.0), st.floats(0.0, 59.0), st.floats(-1, 1), st.floats(-1, 1))
def test_a_plane_is_met_exactly(row: float, col: float, east: float, south: float) -> None:
    r, c = np.mgrid[:40, :60]
    terrain = Terrain.from_array(5.0 + south * r + east * c, (2.0, 3.0))
    x, y = cell_centre(terrain, row, col)
    assert float(ground_at(terrain, x, y)) == pytest.approx(
        5.0 + south * row + east * col, abs=1e-6
    )


def test_cell_centres_return_their_cells() -> None:
    x, y = cell_centre(TERRAIN, *np.indices(TERRAIN.shape))
    np.testing.assert_array_equal(ground_at(TERRAIN, x, y), TERRAIN.z)


def test_outer_half_cell_and_beyond() -> None:
    west, south, east, north = TERRAIN.bounds
    assert ground_at(TERRAIN, west, north) == TERRAIN.z[0, 0]
    assert ground_at(TERRAIN, east, south) == TERRAIN.z[-1, -1]
    for x, y in ((west - 0.01, north), (west, north + 0.01), (np.nan, north), (np.inf, north)):
        assert np.isnan(ground_at(TERRAIN, x, y))


def test_a_hole_reaches_as_far_as_its_cell_counts() -> None:
    z = hills()
    z[10, 10] = np.nan
    terrain = Terrain.from_array(z, 2.0)
    x, y = cell_centre(terrain, 10, 11)
    assert float(ground_at(terrain, x, y)) == z[10, 11]  # weight of the hole is zero
    assert np.isnan(ground_at(terrain, x - 0.1, y))


def test_cell_of() -> None:
    assert cell_of(TERRAIN, 100.0, 900.0) == (0, 0)
    assert cell_of(TERRAIN, 103.9, 896.9) == (1, 1)
    assert cell_of(TERRAIN, 99.9, 900.0) is None
    assert cell_of(TERRAIN, 100.0, 900.1) is None
