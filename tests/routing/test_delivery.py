"""Delivery lines: rising all the way where the land allows it, vented where it does not."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import Point, box

from planner.errors import NoRoute
from planner.routing.delivery import find_delivery
from tests.routing.ground import BURIED, check_laid, grades, grid, hump, land, slope

RAM, TANK = (5.0, -30.0), (92.0, -30.0)


def test_on_an_even_slope_it_rises_straight():
    ground = land(slope())
    way = find_delivery(ground, RAM, TANK, BURIED)
    check_laid(way, ground, BURIED)
    assert way.rule_kept
    assert not way.laid.high_points
    assert way.laid.profile.run[-1] == pytest.approx(87.0, rel=1e-6)
    assert np.all(grades(way) >= BURIED.least_grade - 1e-9)


def test_a_hump_across_the_land_takes_one_vent_at_its_top():
    ground = land(slope(0.02) + hump(2.5))
    way = find_delivery(ground, RAM, TANK, BURIED)
    check_laid(way, ground, BURIED)
    assert not way.rule_kept
    (high,) = way.laid.high_points
    assert way.laid.profile.xy[high.index, 0] == pytest.approx(50.0, abs=2.5)
    assert len(way.laid.low_points) == 1


@pytest.mark.parametrize("height", [0.2, 0.6])
def test_a_hump_that_the_trench_takes_needs_no_vent(height):
    # Over 8 m behind its crest the slope of 2 % gives 0.16 m back, the trench 0.7 m.
    ground = land(slope(0.02) + hump(height))
    way = find_delivery(ground, RAM, TANK, BURIED)
    assert way.rule_kept
    assert not way.laid.high_points
    assert np.all(grades(way) >= BURIED.least_grade - 1e-9)


def test_it_walks_round_a_hump_that_has_an_end():
    _, y = grid()
    z = slope(0.05) + np.where(y < -12.0, hump(2.5, wide=2.0), 0.0)
    way = find_delivery(land(z), RAM, TANK, BURIED)
    assert way.rule_kept
    assert way.laid.profile.xy[:, 1].max() > -12.5
    check_laid(way, land(z), BURIED)


@pytest.mark.parametrize(("vent_cost", "vents"), [(30.0, 1), (60.0, 0)])
def test_a_detour_is_taken_where_it_costs_less_than_a_vent(vent_cost, vents):
    """Round the dyke's end it is 127 m, over it 87 m."""
    _, y = grid()
    ground = land(slope(0.05) + np.where(y < -4.0, hump(1.6, wide=2.0), 0.0))
    laying = replace(BURIED, vent_cost=vent_cost)
    way = find_delivery(ground, (5.0, -50.0), (92.0, -50.0), laying)
    check_laid(way, ground, laying)
    assert len(way.laid.high_points) == vents
    assert way.rule_kept == (vents == 0)
    assert way.laid.profile.run[-1] == pytest.approx(87.0 if vents else 127.5, abs=3.0)


@pytest.mark.parametrize(("dig_cost", "round_it"), [(0.0, False), (40.0, True)])
def test_a_detour_is_taken_where_it_costs_less_than_digging(dig_cost, round_it):
    """A low dyke that the trench takes, and that ends 6 m beside the straight way."""
    _, y = grid()
    ground = land(slope(0.05) + np.where(y < -24.0, hump(0.8, wide=2.0), 0.0))
    laying = replace(BURIED, dig_cost=dig_cost, vent_cost=1000.0)
    way = find_delivery(ground, RAM, TANK, laying)
    check_laid(way, ground, laying)
    assert way.rule_kept
    at = int(np.argmin(np.abs(way.laid.profile.xy[:, 0] - 50.0)))
    assert (way.laid.profile.xy[at, 1] > -24.5) == round_it


def test_falling_away_from_the_ram_counts_a_high_point_at_its_very_start():
    x, _ = grid()
    z = np.where(x < 25.0, 4.0 - 0.1 * x, 1.5 + 0.1 * (x - 25.0))
    way = find_delivery(land(z), RAM, TANK, BURIED)
    assert [high.index for high in way.laid.high_points] == [0]
    assert way.laid.high_points[0].run_m == 0.0


def test_a_tank_no_higher_than_the_ram_is_reached_with_a_vent():
    way = find_delivery(land(slope()), TANK, RAM, BURIED)
    assert not way.rule_kept
    assert len(way.laid.high_points) == 1


def test_a_wall_across_the_land_is_told_as_closed():
    ground = land(slope(), avoid=[box(40, -60, 41, 0)])
    with pytest.raises(NoRoute) as caught:
        find_delivery(ground, RAM, TANK, BURIED)
    assert caught.value.obstacle == "closed"
    assert caught.value.shortfall == pytest.approx(1.0, abs=1.5)
    assert caught.value.where is not None
    assert caught.value.where[0] == pytest.approx(39.5, abs=1.1)


def test_a_wall_with_a_gate_is_passed_through_the_gate():
    ground = land(slope(), avoid=[box(40, -60, 41, -10), box(40, -6, 41, 0)])
    way = find_delivery(ground, RAM, TANK, BURIED)
    check_laid(way, ground, BURIED)
    at = np.argmin(np.abs(way.laid.profile.xy[:, 0] - 40.5))
    assert -10.0 < way.laid.profile.xy[at, 1] < -6.0


def test_way_points_lie_on_the_line_in_order():
    via = [(25.3, -50.2), (60.7, -8.1)]
    ground = land(slope())
    way = find_delivery(ground, RAM, TANK, BURIED, via)
    check_laid(way, ground, BURIED)
    xy = way.laid.profile.xy
    at = [int(np.argmin(np.hypot(*(xy - place).T))) for place in via]
    assert at == sorted(at)
    assert all(np.hypot(*(xy[k] - place)) < 1e-9 for k, place in zip(at, via, strict=True))


def rock_and_soil():
    """A hump of 0.6 m in soil all along, but rock with a shallow trench in a band of it."""
    rock = box(0, -60, 100, -20)
    return land(slope(0.02) + hump(0.6), costly=[(rock, 2.0, 0.6)]), rock


def test_in_rock_the_trench_stays_shallow():
    ground, rock = rock_and_soil()
    ends = (5.0, -45.0), (92.0, -45.0)
    way = find_delivery(ground, *ends, BURIED)
    check_laid(way, ground, BURIED)
    profile = way.laid.profile
    inside = np.array([rock.contains(Point(xy)) for xy in profile.xy])
    assert np.all(profile.depth[inside] <= 0.6 + 1e-6)
    if not way.laid.high_points:  # it went round by the soil, where the trench takes the hump
        assert profile.xy[:, 1].max() > -20.0


def test_a_line_wholly_in_rock_needs_the_vent_that_soil_would_spare():
    ground = land(slope(0.02) + hump(0.6), costly=[(box(0, -60, 100, 0), 1.0, 0.6)])
    way = find_delivery(ground, RAM, TANK, BURIED)
    assert len(way.laid.high_points) == 1
    assert np.all(way.laid.profile.depth <= 0.6 + 1e-6)
    assert way.laid.high_points[0].deeper_m > 0.0


def test_high_points_paid_in_the_search_are_those_laid_beside_rock():
    """The band of search and laying is one, also where depths change from cell to cell."""
    rng = np.random.default_rng(4)
    for seed in range(6):
        x, y = grid()
        z = 0.04 * x + 0.5 * np.sin(x / 6.0 + seed) * np.cos(y / 7.0) + rng.normal(0, 0.03, x.shape)
        rocks = [(box(20 + 9 * k, -60, 26 + 9 * k, 0), 1.5, 0.6 + 0.1 * k) for k in range(6)]
        ground = land(z, costly=rocks)
        strict = find_delivery(ground, RAM, TANK, BURIED)
        check_laid(strict, ground, BURIED)
        for shape, _, depth in rocks:
            inside = np.array([shape.contains(Point(xy)) for xy in strict.laid.profile.xy])
            assert np.all(strict.laid.profile.depth[inside] <= depth + 1e-6)


def test_a_start_on_a_closed_cell_is_told():
    with pytest.raises(NoRoute) as caught:
        find_delivery(land(slope(), avoid=[box(0, -35, 10, -25)]), RAM, TANK, BURIED)
    assert caught.value.obstacle == "closed"
