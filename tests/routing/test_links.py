"""Links of an end to the cells around it, against the same sampled link by link."""

import time

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.profile.along import samples_along
from planner.routing.grid import make_grid
from planner.routing.ground import band_at, make_ground, price_at, slope_at
from planner.routing.links import links
from planner.terrain.sample import cell_centre, cell_of, grid_position
from planner.terrain.value import Terrain

ROWS, COLS, WEST, NORTH = 13, 17, 100.0, 200.0


def rough(seed, cell, neighbours=16, side_slope=1.0):
    """A grid of rough ground with voids and closed cells."""
    rng = np.random.default_rng(seed)
    z = rng.uniform(0.0, 5.0, (ROWS, COLS))
    z[rng.random(z.shape) < 0.05] = np.nan
    cost = rng.uniform(1.0, 4.0, z.shape)
    cost[rng.random(z.shape) < 0.05] = np.inf
    slack = rng.uniform(0.0, 1.0, z.shape)
    terrain = Terrain.from_array(z, cell, (WEST, NORTH))
    return make_grid(make_ground(terrain, slack, cost, side_slope=side_slope), neighbours)


def plain_links(grid, place, direction, other):
    """Node, price, mean factor, slope across and samples of every open link."""
    terrain, reach = grid.ground.terrain, grid.pad
    rows, cols = terrain.shape
    own = cell_of(terrain, *place)
    assert own is not None
    r0, c0 = own
    targets = [
        (int(grid.node(r, c)), cell_centre(terrain, r, c))
        for r in range(max(r0 - reach, 0), min(r0 + reach + 1, rows))
        for c in range(max(c0 - reach, 0), min(c0 + reach + 1, cols))
    ]
    if np.hypot(other[0] - place[0], other[1] - place[1]) <= reach * max(terrain.cell):
        targets.append((grid.cells, other))
    found = [(node, plain_link(grid, place, there, direction)) for node, there in targets]
    return [(node, *link) for node, link in found if link is not None]


def plain_link(grid, place, target, direction):
    ground = grid.ground
    ends = np.array([place, target] if direction == "from" else [target, place], dtype=np.float64)
    if np.allclose(ends[0], ends[1], rtol=0.0, atol=1e-9):
        top, bottom = band_at(ground, ends[1:])
        return (0.0, 1.0, 0.0, np.zeros(1), top, bottom) if np.isfinite(top[0]) else None
    xy, run = samples_along(ends, 0.25 * min(ground.terrain.cell))
    top, bottom = band_at(ground, xy)
    if not np.all(np.isfinite(top)):
        return None
    factor, step = plain_factor(grid, ends, run / run[-1]), np.diff(run)
    east, north = slope_at(ground, xy)
    ahead, left = (xy[-1] - xy[0]) / np.hypot(*(xy[-1] - xy[0]))
    across = float(np.max(np.abs(east * left - north * ahead)))
    price = float(np.sum(factor * np.hypot(step, np.diff(top))))
    return price, float(np.average(factor, weights=step)), across, step, top[1:], bottom[1:]


def plain_factor(grid, ends, part):
    """Mean price of each piece, by all the borders of cells that the link crosses."""
    x, y = ends.T
    row, col = grid_position(grid.ground.terrain, x, y)
    breaks = [part]
    for first, last in (row, col):
        if first != last:
            borders = np.arange(-1, max(ROWS, COLS)) + 0.5
            breaks.append((borders - first) / (last - first))
    at = np.unique(np.concatenate(breaks).clip(0.0, 1.0))
    middle = (at[1:] + at[:-1]) / 2.0
    price = price_at(grid.ground, ends[0] + middle[:, None] * (ends[1] - ends[0]))
    piece = np.searchsorted(part, middle) - 1
    price[np.diff(at) < 1e-9] = 0.0  # a corner that rounding cuts
    return np.bincount(piece, price * np.diff(at), part.size - 1) / np.diff(part)


@settings(max_examples=80, deadline=None)
@given(
    st.integers(0, 10_000),
    st.sampled_from([(1.0, 1.0), (2.0, 0.7), (0.5, 3.0)]),
    st.sampled_from([8, 16, 32]),
    st.sampled_from(["from", "to"]),
    st.tuples(st.floats(0.01, COLS - 0.01), st.floats(0.01, ROWS - 0.01)),
    st.tuples(st.floats(-2.3, 2.3), st.floats(-2.3, 2.3)),
)
def test_links_equal_the_same_one_by_one(seed, cell, neighbours, direction, at, beyond):
    grid = rough(seed, cell, neighbours)
    place = (WEST + at[0] * cell[0], NORTH - at[1] * cell[1])
    other = (place[0] + beyond[0], place[1] + beyond[1])
    made = links(grid, place, direction, other)
    plain = plain_links(grid, place, direction, other)
    assert made.node.tolist() == [link[0] for link in plain]
    for e, (_, cost, factor, across, step, top, bottom) in enumerate(plain):
        assert made.cost[e] == pytest.approx(cost, abs=1e-9)
        assert made.factor[e] == pytest.approx(factor, abs=1e-9)
        assert made.across[e] == pytest.approx(across, abs=1e-9, nan_ok=True)
        part = slice(*made.sample_from[e : e + 2])
        assert np.allclose(made.step[part], step, rtol=0.0, atol=1e-9)
        assert np.allclose(made.top[part], top, rtol=0.0, atol=1e-9)
        assert np.allclose(made.bottom[part], bottom, rtol=0.0, atol=1e-9)


def test_an_end_in_the_centre_of_its_cell_is_linked_to_it_at_no_cost():
    terrain = Terrain.from_array(np.arange(12.0).reshape(3, 4), 2.0)
    grid = make_grid(make_ground(terrain, 0.5), 8)
    made = links(grid, (3.0, -3.0), "from", None)
    own = int(np.flatnonzero(made.node == grid.node(1, 1))[0])
    assert made.cost[own] == 0.0
    assert made.top[made.sample_from[own]] == terrain.z[1, 1]
    assert np.diff(made.sample_from)[own] == 1
    assert made.node.size == 9


def test_no_link_from_a_closed_cell():
    cost = np.ones((5, 5))
    cost[2, 2] = np.inf
    grid = make_grid(make_ground(Terrain.from_array(np.zeros((5, 5)), 1.0), 0.0, cost), 16)
    assert links(grid, (2.5, -2.5), "to", None).node.size == 0


def test_links_take_no_time():
    grid, place = rough(1, (1.0, 1.0)), (108.3, 194.2)
    links(grid, place, "from", None)
    times = []
    for _ in range(20):
        begin = time.perf_counter()
        links(grid, place, "from", None)
        times.append(time.perf_counter() - begin)
    assert min(times) < 2e-3  # ten times what it takes, for a busy machine
