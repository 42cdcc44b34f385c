"""Grids of corridors: filled where chosen, closed all round, the rest untouched."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.routing.grid import corridor_grid, make_grid
from planner.routing.ground import band_at, make_ground, price_at, slope_at
from planner.routing.pages import LARGE, sparse_zeros
from planner.terrain.sample import bilinear, grid_position, ground_at
from planner.terrain.value import Terrain

CELL = (2.0, 3.0)


def made(rng, shape=(13, 17), *, uniform=False):
    z = rng.normal(0.0, 3.0, shape)
    z[rng.random(shape) < 0.05] = np.nan
    terrain = Terrain.from_array(z, CELL, origin=(100.0, 900.0))
    if uniform:
        return make_ground(terrain, 0.4, side_slope=1.0)
    cost = rng.uniform(1.0, 4.0, shape)
    cost[rng.random(shape) < 0.1] = np.inf
    return make_ground(terrain, rng.uniform(0.0, 0.5, shape), cost, side_slope=1.0)


@given(seed=st.integers(0, 99), side=st.integers(1, 6), neighbours=st.sampled_from([8, 16, 32]))
@settings(max_examples=40, deadline=None)
def test_a_corridor_is_the_ground_inside_and_closed_around(seed, side, neighbours):
    rng = np.random.default_rng(seed)
    ground = made(rng, uniform=seed % 3 == 0)
    rows, cols = ground.terrain.shape
    blocks = rng.random((-(-rows // side), -(-cols // side))) < 0.3
    blocks[rng.integers(blocks.shape[0]), rng.integers(blocks.shape[1])] = True
    grid, full = corridor_grid(ground, neighbours, blocks, side), make_grid(ground, neighbours)
    held = np.kron(blocks, np.ones((side, side), dtype=bool))[:rows, :cols]
    inside = np.argwhere(held)
    here, there = grid.node(*inside.T), full.node(*inside.T)
    for name in ("top", "bottom", "factor", "east", "north"):
        got, want = getattr(grid.field, name)[here], getattr(full.field, name)[there]
        np.testing.assert_array_equal(got, want)
    np.testing.assert_array_equal(grid.centre(here), full.centre(there))
    reach = range(-grid.pad, grid.pad + 1)
    within = {(r, c) for r, c in inside.tolist()}
    for r, c in inside.tolist():
        around = [(r + dr, c + dc) for dr in reach for dc in reach]
        outside = np.array([place for place in around if place not in within]).reshape(-1, 2)
        nodes = grid.node(*outside.T)
        assert np.all((nodes >= 0) & (nodes < grid.cells))
        assert np.all(np.isnan(grid.field.top[nodes]))


@pytest.mark.parametrize("uniform", [False, True])
def test_a_whole_grid_is_the_ground_with_closed_padding(uniform):
    ground = made(np.random.default_rng(1), uniform=uniform)
    grid = make_grid(ground, 32)
    top = grid.field.top.reshape(-1, grid.columns)
    np.testing.assert_array_equal(top[3:-3, 3:-3], ground.top)
    assert np.isnan(top[:3]).all()
    assert np.isnan(top[:, -3:]).all()
    for name in ("bottom", "factor"):
        got = getattr(grid.field, name).reshape(-1, grid.columns)[3:-3, 3:-3]
        open_cells = ground.open_cells
        np.testing.assert_array_equal(got[open_cells], getattr(ground, name)[open_cells])
    right = np.gradient(ground.terrain.z, CELL[0], axis=1)
    down = np.gradient(ground.terrain.z, CELL[1], axis=0)
    for got, want in ((grid.field.east, right), (grid.field.north, -down)):
        np.testing.assert_allclose(got.reshape(-1, grid.columns)[3:-3, 3:-3], want)


@given(seed=st.integers(0, 99))
@settings(max_examples=25, deadline=None)
def test_figures_at_points_are_those_of_the_whole_arrays(seed):
    rng = np.random.default_rng(seed)
    ground = made(rng, uniform=seed % 2 == 0)
    west, south, east, north = ground.terrain.bounds
    xy = np.column_stack([rng.uniform(west, east, 50), rng.uniform(south, north, 50)])
    xy[::5, 0] = west + CELL[0] * (rng.integers(0, 17, 10) + 0.5)  # on centre lines
    top, bottom = band_at(ground, xy)
    for got, grid in ((top, ground.top), (bottom, ground.bottom)):
        level = Terrain(z=grid, cell=CELL, origin=(100.0, 900.0))
        np.testing.assert_allclose(got, ground_at(level, *xy.T), rtol=0.0, atol=1e-12)
    place = grid_position(ground.terrain, *xy.T)
    right = np.gradient(ground.terrain.z, CELL[0], axis=1)
    down = np.gradient(ground.terrain.z, CELL[1], axis=0)
    for got, grid in zip(slope_at(ground, xy), (right, -down), strict=True):
        np.testing.assert_allclose(got, bilinear(grid, *place), rtol=0.0, atol=1e-7)
    price = price_at(ground, xy)
    cells = tuple(
        np.floor(p + 0.5).astype(int).clip(0, n - 1) for p, n in zip(place, (13, 17), strict=True)
    )
    known = np.isfinite(price)
    np.testing.assert_array_equal(price[known], ground.factor[cells][known])
    assert np.isnan(ground.top[cells][~known]).all()


def test_a_point_off_the_land_has_no_band():
    ground = made(np.random.default_rng(2))
    assert np.isnan(band_at(ground, np.array([[99.0, 880.0], [120.0, 901.0]]))[0]).all()


def test_a_grid_of_one_row_has_slopes():
    terrain = Terrain.from_array([[0.0, 1.0, 3.0]], 1.0)
    east, north = slope_at(make_ground(terrain, 0.0), np.array([[0.5, -0.5], [1.5, -0.5]]))
    assert east.tolist() == [1.0, 1.5]
    assert north.tolist() == [0.0, 0.0]


def test_a_cost_of_float64_is_read_where_it_lies():
    cost = np.ones((13, 17))
    ground = make_ground(Terrain.from_array(np.zeros((13, 17)), 1.0), 0.3, cost)
    assert np.shares_memory(ground.cost, cost)
    assert cost.flags.writeable
    assert ground.slack.shape == (1, 1)


@pytest.mark.parametrize("bytes_", [64, LARGE, 3 * LARGE])
def test_sparse_zeros_are_zeros_to_write_on(bytes_):
    zeros = sparse_zeros(bytes_ // 8, np.float64)
    assert zeros.shape == (bytes_ // 8,)
    assert not zeros.any()
    zeros[-1] = 3.0
    assert zeros.sum() == 3.0
