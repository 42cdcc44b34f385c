"""Waste and overflow fall all the way and end in the open."""

import numpy as np
import pytest
from shapely.geometry import box

from planner.routing.outfall import APART, FARTHEST, find_overflow, find_waste
from planner.terrain.sample import ground_at
from tests.routing.ground import BURIED, check_laid, grades, grid, land, slope

RAM = (50.0, -30.0)


def bank(rise=0.15):
    """A stream along the south edge, falling to the west, and a bank up from it."""
    x, y = grid()
    return 0.02 * x + rise * np.clip(y + 50.0, 0.0, None)


def stream():
    x = np.arange(99.5, 0.0, -1.0)
    return np.column_stack([x, np.full(x.size, -50.5)])


def check_open_end(way, ground):
    profile = way.laid.profile
    check_laid(way, ground, BURIED, mouth=True)
    assert way.rule_kept
    assert np.all(grades(way) <= -BURIED.least_grade + 1e-9)
    assert profile.depth[0] >= BURIED.least_cover - 1e-9
    assert profile.depth[-1] == pytest.approx(0.0, abs=1e-9)
    covered = profile.depth >= BURIED.least_cover - 1e-9
    first = int(np.argmin(covered))  # once it has come up it does not dive again
    assert not np.any(covered[first:])


def test_waste_falls_to_the_stream_below_and_comes_out_at_its_level():
    ground = land(bank())
    way = find_waste(ground, RAM, [stream()], BURIED)
    assert way is not None
    check_open_end(way, ground)
    end = way.laid.profile.xy[-1]
    assert end[1] == pytest.approx(-50.5)
    assert way.laid.profile.length < 25.0
    assert way.laid.profile.ground[-1] < ground_at(ground.terrain, *RAM) - 0.5


def test_no_stream_no_waste_line():
    assert find_waste(land(bank()), RAM, [], BURIED) is None
    assert find_waste(land(bank()), RAM, [np.empty((0, 2))], BURIED) is None


def test_a_stream_above_the_ram_takes_no_water():
    _, y = grid()
    ground = land(-0.1 * y)
    assert find_waste(ground, RAM, [stream()], BURIED) is None


def test_a_stream_hardly_below_the_ram_would_drown_the_pipe():
    # 0.4 m of fall don't bring a pipe under 0.5 m of cover to the open.
    beside = stream()[45:55]
    assert find_waste(land(bank(rise=0.02)), RAM, [beside], BURIED) is None
    assert find_waste(land(bank(rise=0.04)), RAM, [beside], BURIED) is not None


def test_the_nearest_fitting_place_downstream_is_taken():
    """At the foot of the ram the bank is too low; downstream the stream has fallen away."""
    x, y = grid()
    bed = 0.05 * x
    z = bed + np.clip(y + 40.0, 0.0, None) * 0.001
    ground = land(z)
    course = np.column_stack([np.arange(99.5, 0.0, -1.0), np.full(100, -40.5)])
    way = find_waste(ground, (50.0, -35.0), [course], BURIED)
    assert way is not None
    check_open_end(way, ground)
    assert way.laid.profile.xy[-1, 0] < 42.0


def test_a_stream_too_far_or_at_the_pit_itself_is_none():
    ground = land(bank())
    beyond = stream() + np.array([FARTHEST + 100.0, 0.0])
    assert find_waste(ground, RAM, [beyond], BURIED) is None
    beside = np.array([[RAM[0] + 0.6 * APART, RAM[1]], [RAM[0] + 0.7 * APART, RAM[1]]])
    assert find_waste(ground, RAM, [beside], BURIED) is None


def test_a_closed_bank_leaves_no_way():
    ground = land(bank(), avoid=[box(0, -46, 100, -44)])
    assert find_waste(ground, RAM, [stream()], BURIED) is None


def test_overflow_runs_off_down_the_slope_away_from_the_footing():
    ground = land(slope())
    way = find_overflow(ground, RAM, BURIED)
    assert way is not None
    check_open_end(way, ground)
    end = way.laid.profile.xy[-1]
    assert end[0] < RAM[0] - 8.0
    assert np.hypot(*(end - RAM)) >= 12.0 - 1e-9


def test_on_the_level_there_is_no_overflow_line():
    assert find_overflow(land(slope(0.0)), RAM, BURIED) is None


def test_on_gentle_land_the_wider_ring_serves():
    # 4 %: 0.48 m at 12 m is too little for half a metre of cover, 0.72 m at 18 m is enough.
    way = find_overflow(land(slope(0.04)), RAM, BURIED)
    assert way is not None
    check_open_end(way, land(slope(0.04)))
    assert np.hypot(*(way.laid.profile.xy[-1] - RAM)) == pytest.approx(18.0)


def test_a_tank_at_the_edge_of_the_data_looks_only_inland():
    ground = land(slope(-0.1))
    way = find_overflow(ground, (95.0, -5.0), BURIED)
    assert way is None or way.laid.profile.xy[-1, 0] < 100.0
