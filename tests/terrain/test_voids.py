"""Filling holes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.terrain.value import FloatArray, Terrain
from planner.terrain.voids import fill_small_voids
from tests.terrain.conftest import hills


def plane(rows: int = 30, cols: int = 40) -> FloatArray:
    row, col = np.mgrid[:rows, :cols]
    level: FloatArray = 100.0 + 0.3 * row - 0.17 * col
    return level


@given(
    st.lists(
        st.tuples(st.integers(1, 24), st.integers(1, 34), st.integers(1, 4), st.integers(1, 4)),
        max_size=4,
    )
)
def test_a_plane_is_restored(holes: list[tuple[int, int, int, int]]) -> None:
    z = plane()
    for row, col, down, across in holes:
        z[row : row + down, col : col + across] = np.nan
    void = np.isnan(z)
    terrain = fill_small_voids(Terrain.from_array(z, (2.0, 3.0)), largest=60.0)
    np.testing.assert_allclose(terrain.z, plane(), atol=1e-9)
    np.testing.assert_array_equal(terrain.filled, void)


@given(st.integers(0, 10_000))
def test_mirrored_ground_is_filled_mirrored(seed: int) -> None:
    z = hills(25, 35)
    random = np.random.default_rng(seed)
    z[random.integers(0, 25, 40), random.integers(0, 35, 40)] = np.nan
    filled = fill_small_voids(Terrain.from_array(z, 2.0))
    mirrored = fill_small_voids(Terrain.from_array(z[::-1, ::-1], 2.0))
    np.testing.assert_allclose(mirrored.z, filled.z[::-1, ::-1], rtol=1e-12)
    np.testing.assert_array_equal(mirrored.filled, filled.filled[::-1, ::-1])


@pytest.mark.parametrize(("side", "filled"), [(10, True), (11, False)])
def test_ten_metres_is_the_limit(side: int, *, filled: bool) -> None:
    z = plane()
    z[5 : 5 + side, 8:10] = np.nan
    terrain = fill_small_voids(Terrain.from_array(z, 1.0))
    assert terrain.filled.any() == filled
    assert np.isnan(terrain.z).any() != filled


def test_coarse_cells_may_miss_two() -> None:
    z = plane()
    z[5:7, 8:10] = np.nan
    z[20:23, 8:9] = np.nan
    terrain = fill_small_voids(Terrain.from_array(z, 30.0))
    assert terrain.filled.sum() == 4
    assert np.isnan(terrain.z).sum() == 3


def test_a_hole_open_to_the_edge_stays() -> None:
    z = plane()
    z[0:2, 5:7] = np.nan
    z[10, 39] = np.nan
    terrain = fill_small_voids(Terrain.from_array(z, 1.0))
    assert np.isnan(terrain.z).sum() == 5
    assert not terrain.filled.any()


def test_all_void_and_none() -> None:
    assert np.isnan(fill_small_voids(Terrain.from_array(np.full((5, 6), np.nan), 1.0)).z).all()
    whole = Terrain.from_array(plane(), 1.0)
    assert fill_small_voids(whole) is whole


def test_what_was_filled_before_stays_marked() -> None:
    marked = np.zeros((30, 40), dtype=bool)
    marked[2, 2] = True
    z = plane()
    z[9, 9] = np.nan
    terrain = fill_small_voids(Terrain(z=z, cell=(1.0, 1.0), filled=marked))
    assert np.argwhere(terrain.filled).tolist() == [[2, 2], [9, 9]]
