"""The plain cost field: a slow twin, two libraries, its symmetries, walls and slopes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra
from skimage.graph import MCP_Geometric

from planner.routing.ground import slope_at
from planner.routing.plain import cost_field, find_plain
from planner.routing.stencil import moves
from planner.routing.walk import Miss, Walk
from tests.routing.sweeps import (
    CELLS,
    NEIGHBOURS,
    costs_of,
    grid_of,
    grid_on,
    mirrors,
    place_in,
    plain_field,
    rough,
    seeds,
)

START, END = (4.87, 1.19), (1.13, 6.71)


def anywhere(_levels, _steps):
    return True


@settings(max_examples=40, deadline=None)
@given(
    seeds,
    st.sampled_from(CELLS),
    st.sampled_from(NEIGHBOURS),
    st.sampled_from([1.0, 5.0, 1e6]),
)
def test_the_field_equals_a_search_with_a_heap(seed, cell, neighbours, dearest):
    grid = grid_on(rough(seed, dearest=dearest), cell, neighbours)
    field = cost_field(grid, place_in(grid, *END))
    plain = plain_field(grid, field.root, anywhere)
    np.testing.assert_allclose(costs_of(grid, field.cost), plain, rtol=1e-12)
    assert np.array_equal(field.onward != 0, field.cost != 0.0)


@pytest.mark.parametrize("dearest", [1.0, 10.0, 1e6])
@pytest.mark.parametrize("cell", CELLS)
def test_eight_neighbours_as_in_two_libraries(cell, dearest):
    # scikit-image: skimage.graph.MCP_Geometric; scipy: sparse.csgraph.dijkstra.
    rng = np.random.default_rng(5)
    cost = dearest ** rng.uniform(0.0, 1.0, (70, 90))
    root = (31, 17)
    grid = grid_of(np.zeros(cost.shape), cost, cell, 8)
    found = costs_of(grid, cost_field(grid, place_in(grid, *root)).cost)
    sampling = (cell[1], cell[0])
    theirs, _ = MCP_Geometric(cost, sampling=sampling).find_costs([root])
    np.testing.assert_allclose(found, theirs, rtol=1e-9, atol=1e-9)
    np.testing.assert_allclose(found, scipy_field(cost, cell, root), rtol=1e-9, atol=1e-9)


def scipy_field(cost, cell, root):
    """The same by scipy, over a graph built from the means of neighbouring cells."""
    rows, cols = cost.shape
    node = np.arange(rows * cols).reshape(rows, cols)
    begin, end, weight = [], [], []
    for down, right in moves(8):
        r0, r1 = max(down, 0), rows + min(down, 0)
        c0, c1 = max(right, 0), cols + min(right, 0)
        there = np.s_[r0:r1, c0:c1]
        here = np.s_[r0 - down : r1 - down, c0 - right : c1 - right]
        length = np.hypot(down * cell[1], right * cell[0])
        begin.append(node[here].ravel())
        end.append(node[there].ravel())
        weight.append((cost[here] + cost[there]).ravel() / 2.0 * length)
    edges = np.concatenate(weight), (np.concatenate(begin), np.concatenate(end))
    graph = coo_matrix(edges, shape=(rows * cols, rows * cols)).tocsr()
    return dijkstra(graph, indices=node[root]).reshape(rows, cols)


@settings(max_examples=40, deadline=None)
@given(seeds, st.sampled_from(CELLS), st.sampled_from(NEIGHBOURS))
def test_costs_follow_the_ground_mirrored_turned_and_shifted(seed, cell, neighbours):
    z, cost = rough(seed)
    base = total(z, cost, cell, neighbours, (START, END))
    for z_turned, cost_turned, cell_turned, ends in mirrors(z, cost, cell, (START, END)):
        assert total(z_turned, cost_turned, cell_turned, neighbours, ends) == pytest.approx(
            base, rel=1e-9
        )
    assert total(z + 100.0, cost, cell, neighbours, (START, END)) == pytest.approx(base, rel=1e-9)
    back = total(z, cost, cell, neighbours, (END, START))
    assert back == pytest.approx(base, rel=1e-9)
    double = (2.0 * cell[0], 2.0 * cell[1])
    twice = total(2.0 * z, cost, double, neighbours, (START, END))
    assert twice == pytest.approx(2.0 * base, rel=1e-9)


def total(z, cost, cell, neighbours, ends):
    grid = grid_of(z, cost, cell, neighbours)
    walk = find_plain(grid, *(place_in(grid, *end) for end in ends))
    return walk.cost if isinstance(walk, Walk) else np.inf


@settings(max_examples=60, deadline=None)
@given(seeds, st.sampled_from(NEIGHBOURS))
def test_a_stopped_field_knows_what_it_knows(seed, neighbours):
    grid = grid_on(rough(seed, rows=15, cols=20), (1.0, 1.0), neighbours)
    start, end = place_in(grid, 4.2, 12.3), place_in(grid, 10.8, 15.1)
    whole, stopped = cost_field(grid, end), cost_field(grid, end, start)
    full, part = costs_of(grid, whole.cost), costs_of(grid, stopped.cost)
    final = full <= stopped.final
    assert np.array_equal(part[final], full[final])
    assert np.all(part[~final] >= stopped.final)
    one, other = whole.route_from(start), stopped.route_from(start)
    if isinstance(one, Walk):
        assert isinstance(other, Walk)
        assert other.cost == one.cost
    else:
        assert isinstance(other, Miss)
    assert whole.final == np.inf


@pytest.mark.parametrize("neighbours", NEIGHBOURS)
@pytest.mark.parametrize("slanted", [False, True])
def test_a_wall_one_cell_thin_holds(neighbours, slanted):
    cost = np.ones((30, 30))
    for r in range(30):
        cost[r, r if slanted else 15] = np.inf
    grid = grid_of(np.zeros(cost.shape), cost, (1.0, 1.0), neighbours)
    start, end = place_in(grid, 25.0, 3.0), place_in(grid, 3.0, 25.0)
    missed = find_plain(grid, start, end)
    assert isinstance(missed, Miss)
    assert missed.nearest is not None
    row, col = round(-missed.nearest[1] - 0.5), round(missed.nearest[0] - 0.5)
    assert (row - col == 1) if slanted else (row, col) == (3, 14)
    cost[12, 12 if slanted else 15] = 1.0
    cost[13, 12 if slanted else 15] = 1.0
    cost[12, 13] = 1.0
    grid = grid_of(np.zeros(cost.shape), cost, (1.0, 1.0), neighbours)
    assert isinstance(find_plain(grid, start, end), Walk)


@pytest.mark.parametrize("neighbours", NEIGHBOURS)
def test_a_walk_costs_what_its_moves_cost(neighbours):
    z, cost = rough(11, rows=40, cols=50, closed=0.0)
    grid = grid_of(z, cost, (2.0, 0.7), neighbours)
    field = cost_field(grid, place_in(grid, 5.3, 44.2))
    for start in [(33.4, 4.1), (20.0, 20.0), (5.3, 44.2), (5.5, 44.0)]:
        place = place_in(grid, *start)
        walk = field.route_from(place)
        assert isinstance(walk, Walk)
        assert tuple(walk.xy[0]) == place
        assert tuple(walk.xy[-1]) == field.root
        inner = costs_of(grid, field.cost)
        at = [(int(-y / 0.7), int(x / 2.0)) for x, y in walk.xy[1:-1]]
        along = np.array([inner[cell] for cell in at])
        assert np.all(np.diff(along) < 0.0)
        assert walk.cost >= (along[0] if at else 0.0)
    standing = field.route_from(field.root)
    assert isinstance(standing, Walk)
    assert standing.cost == 0.0


def test_no_move_crosses_ground_too_steep_across():
    z = np.tile(0.5 * np.arange(40.0), (40, 1))
    grid = grid_of(z, None, (1.0, 1.0), 16, side_slope=0.3)
    walk = find_plain(grid, place_in(grid, 35.2, 5.1), place_in(grid, 20.0, 30.0))
    assert isinstance(walk, Walk)
    legs = np.diff(walk.xy, axis=0)
    middle = (walk.xy[1:] + walk.xy[:-1]) / 2.0
    east, north = slope_at(grid.ground, middle)
    across = np.abs(east * legs[:, 1] - north * legs[:, 0]) / np.hypot(*legs.T)
    assert np.all(across <= 0.3 + 1e-9)
    assert isinstance(
        find_plain(
            grid_of(z, None, (1.0, 1.0), 16, side_slope=0.0),
            place_in(grid, 35.2, 5.1),
            place_in(grid, 20.0, 30.0),
        ),
        Miss,
    )


def test_ends_in_void_or_outside_reach_nothing():
    z = np.zeros((12, 12))
    z[3:6, 3:6] = np.nan
    grid = grid_of(z, None, (1.0, 1.0), 8)
    inside, out = place_in(grid, 4.0, 4.0), (-5.0, -5.0)
    for lost in (inside, out):
        assert find_plain(grid, lost, (9.5, -9.5)) == Miss(None)
        assert isinstance(find_plain(grid, (9.5, -9.5), lost), Miss)
