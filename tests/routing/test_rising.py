"""Strictly rising and falling fields: a slow twin, the closed form of the test, symmetries."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.routing.rising import falling_field, rising_field
from planner.routing.stencil import corners, moves, sampled
from planner.routing.sweep import extreme_pieces
from planner.routing.walk import Miss, Walk
from planner.terrain.sample import ground_at
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

LOWEST, HIGHEST = 0.03, 0.6
START, END = (5.3, 0.8), (1.13, 6.71)


def between(lowest, highest):
    """Whether all samples of a move rise by grades between two."""

    def passes(levels, steps):
        rise = np.diff(levels)
        low = np.all(rise >= lowest * steps - 1e-9)
        return bool(low and np.all((rise <= highest * steps + 1e-9) | (steps == 0.0)))

    return passes


def slope(seed, steep=0.3, cell=(1.0, 1.0)):
    """Rough ground that rises to the east, so that a good part of it reaches the end."""
    z, cost = rough(seed, closed=0.06)
    return 0.08 * z + steep * cell[0] * np.arange(z.shape[1]), cost


@settings(max_examples=40, deadline=None)
@given(
    seeds,
    st.sampled_from(CELLS),
    st.sampled_from(NEIGHBOURS),
    st.sampled_from([np.inf, HIGHEST, 0.35]),
)
def test_the_field_equals_a_search_with_a_heap(seed, cell, neighbours, highest):
    grid = grid_on(slope(seed, cell=cell), cell, neighbours)
    field = rising_field(grid, place_in(grid, *END), LOWEST, highest)
    plain = plain_field(grid, field.root, between(LOWEST, highest))
    np.testing.assert_allclose(costs_of(grid, field.cost), plain, rtol=1e-12)


def test_a_good_part_is_reached():
    reached = [
        np.mean(rising_field(grid, place_in(grid, *END), LOWEST).onward > 0)
        for grid in (grid_on(slope(seed), (1.0, 1.0), 16) for seed in range(10))
    ]
    assert np.mean(reached) > 0.1


@settings(max_examples=60, deadline=None)
@given(seeds, st.sampled_from(CELLS), st.sampled_from(NEIGHBOURS))
def test_falling_is_rising_upside_down(seed, cell, neighbours):
    z, cost = slope(seed, cell=cell)
    up, down = (grid_of(ground, cost, cell, neighbours) for ground in (z, -z))
    rising = rising_field(up, place_in(up, *END), LOWEST, HIGHEST)
    falling = falling_field(down, place_in(down, *END), LOWEST, HIGHEST)
    assert np.array_equal(rising.cost, falling.cost)


@given(
    st.lists(st.floats(-5.0, 5.0), min_size=100, max_size=100),
    st.sampled_from(NEIGHBOURS),
    st.data(),
)
@settings(max_examples=150, deadline=None)
def test_the_extreme_pieces_stand_for_every_quarter_cell(levels, neighbours, data):
    """The parabola's first and last piece bound all pieces, sampled as the stencil samples them."""
    z = np.array(levels).reshape(10, 10)
    rows, cols = data.draw(st.sampled_from(moves(neighbours)))
    at = (5, 5)

    def level(part):
        around = corners(rows * part, cols * part)
        return sum(share * z[at[0] + r, at[1] + c] for r, c, share in around)

    part = np.array(sampled(rows, cols))
    run = np.diff(part)
    assert np.all(run * np.hypot(rows, cols) <= 0.25 + 1e-9) or 0 in (rows, cols)
    grades = np.diff([level(t) for t in part]) / run
    tested = extreme_pieces(rows, cols) or [(0.0, 1.0)]
    extreme = [(level(t1) - level(t0)) / (t1 - t0) for t0, t1 in tested]
    assert min(extreme) == pytest.approx(np.min(grades), abs=1e-9)
    assert max(extreme) == pytest.approx(np.max(grades), abs=1e-9)


@pytest.mark.parametrize("neighbours", [8, 16, 32, 80])
def test_no_sample_straddles_two_patches(neighbours):
    for rows, cols in moves(neighbours):
        part = np.array(sampled(rows, cols))
        for count in (rows, cols):
            if count and 0 not in (rows, cols):
                lines = np.arange(abs(count) + 1) / abs(count)
                assert np.all(np.min(np.abs(part[:, None] - lines), axis=0) < 1e-12)


@settings(max_examples=40, deadline=None)
@given(seeds, st.sampled_from(CELLS), st.sampled_from(NEIGHBOURS))
def test_costs_follow_the_ground_mirrored_turned_and_shifted(seed, cell, neighbours):
    z, cost = slope(seed, cell=cell)
    base = total(z, cost, cell, neighbours, (START, END))
    for z_turned, cost_turned, cell_turned, ends in mirrors(z, cost, cell, (START, END)):
        assert total(z_turned, cost_turned, cell_turned, neighbours, ends) == pytest.approx(
            base, rel=1e-9
        )
    assert total(z + 100.0, cost, cell, neighbours, (START, END)) == pytest.approx(base, rel=1e-9)
    double = (2.0 * cell[0], 2.0 * cell[1])
    twice = total(2.0 * z, cost, double, neighbours, (START, END))
    assert twice == pytest.approx(2.0 * base, rel=1e-9)


def total(z, cost, cell, neighbours, ends):
    grid = grid_of(z, cost, cell, neighbours)
    start, end = (place_in(grid, *place) for place in ends)
    walk = rising_field(grid, end, LOWEST, HIGHEST).route_from(start)
    return walk.cost if isinstance(walk, Walk) else np.inf


def test_one_field_serves_every_pump_and_each_walk_rises():
    rng = np.random.default_rng(2)
    z = 0.1 * np.arange(80.0) + rng.normal(0.0, 0.02, (60, 80))
    grid = grid_of(z, None, (1.0, 1.0), 16)
    field = rising_field(grid, place_in(grid, 30.2, 75.4), 0.01, 0.5)
    found = 0
    for _ in range(60):
        place = place_in(grid, *rng.uniform((5.0, 2.0), (55.0, 60.0)))
        walk = field.route_from(place)
        if isinstance(walk, Walk):
            found += 1
            for (x0, y0), (x1, y1) in zip(walk.xy[:-1], walk.xy[1:], strict=True):
                part = np.linspace(0.0, 1.0, max(int(np.ceil(np.hypot(x1 - x0, y1 - y0) * 4)), 1))
                level = ground_at(grid.ground.terrain, x0 + (x1 - x0) * part, y0 + (y1 - y0) * part)
                assert np.all(np.diff(level) > 0.0)
    assert found > 20


def test_a_miss_tells_how_near_a_line_came_and_what_is_short():
    z = np.tile(0.1 * np.arange(60.0), (30, 1))
    z[:, 40:] -= 1.0  # a step down across all of it
    grid = grid_of(z, None, (1.0, 1.0), 16)
    missed = rising_field(grid, place_in(grid, 15.0, 41.0), 0.02).route_from(place_in(grid, 15, 5))
    assert isinstance(missed, Miss)
    assert missed.nearest is not None
    assert missed.nearest[0] == pytest.approx(39.5)
    # From 3.9 m at column 39 to 3.1 m at column 41, and 2 % of the 2 m between.
    assert missed.short == pytest.approx(0.8 + 0.04)


def test_a_level_line_is_no_rise_and_too_small_a_grade_is_refused():
    grid = grid_of(np.zeros((20, 20)), None, (1.0, 1.0), 8)
    missed = rising_field(grid, (10.5, -10.5), 0.005).route_from((3.5, -3.5))
    assert isinstance(missed, Miss)
    assert missed.nearest == (3.5, -3.5)  # the cell it stands on
    assert missed.short == pytest.approx(0.005 * np.hypot(7.0, 7.0))
    for lowest in (0.0, -0.1, 1e-9, np.nan):
        with pytest.raises(OutsideRange):
            rising_field(grid, (10.5, -10.5), lowest)


def test_the_tank_on_a_summit_is_reached_from_all_around():
    y, x = np.mgrid[:41, :41] - 20.0
    grid = grid_of(-0.2 * np.hypot(x, y), None, (1.0, 1.0), 8)
    field = rising_field(grid, place_in(grid, 20, 20), 0.01)
    assert np.all(np.isfinite(costs_of(grid, field.cost)))
    assert isinstance(falling_field(grid, field.root, 0.01).route_from((3.5, -3.5)), Miss)
