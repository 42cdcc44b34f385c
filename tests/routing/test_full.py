"""Mains and distribution: they run full, may sag and climb, and pay for each crest."""

import numpy as np
import pytest
from shapely.geometry import box

from planner.errors import NoRoute
from planner.routing.full import find_full
from tests.routing.ground import BURIED, check_laid, grid, hump, land, slope

TANK, TAP = (92.0, -30.0), (5.0, -30.0)


def test_a_straight_fall_has_neither_crest_nor_sag():
    ground = land(slope())
    way = find_full(ground, TANK, TAP, BURIED)
    check_laid(way, ground, BURIED)
    assert way.rule_kept
    assert not way.laid.high_points
    assert not way.laid.low_points


def test_a_valley_is_crossed_by_one_sag_without_a_crest():
    x, _ = grid()
    ground = land(0.15 * np.abs(x - 50.0) + 0.02 * x)
    way = find_full(ground, TANK, TAP, BURIED)
    check_laid(way, ground, BURIED)
    assert not way.laid.high_points
    (low,) = way.laid.low_points
    assert way.laid.profile.xy[low.index, 0] == pytest.approx(50.0, abs=2.0)
    assert low.sag_m > 5.0


def test_a_dyke_is_one_crest_and_keeps_the_rule_of_the_role():
    way = find_full(land(slope(0.02) + hump(2.5)), TANK, TAP, BURIED)
    assert len(way.laid.high_points) == 1
    assert way.rule_kept


def test_it_goes_round_a_dyke_when_that_is_cheaper_than_a_vent():
    _, y = grid()
    z = slope(0.05) + np.where(y < -20.0, hump(2.5, wide=2.0), 0.0)
    way = find_full(land(z), TANK, TAP, BURIED)
    assert not way.laid.high_points
    assert way.laid.profile.xy[:, 1].max() > -21.0


def test_uphill_it_climbs():
    ground = land(slope())
    way = find_full(ground, TAP, TANK, BURIED)
    check_laid(way, ground, BURIED)
    assert not way.laid.high_points


def test_dear_land_is_walked_round_and_closed_land_never_touched():
    ground = land(
        slope(),
        costly=[(box(40, -40, 60, -20), 8.0, None)],
        avoid=[box(40, -20, 60, -16)],
    )
    way = find_full(ground, TANK, TAP, BURIED)
    check_laid(way, ground, BURIED)
    xy = way.laid.profile.xy
    between = xy[(xy[:, 0] > 42) & (xy[:, 0] < 58)]
    assert np.all((between[:, 1] < -39.0) | (between[:, 1] > -17.0))


def test_cut_off_ends_are_told():
    with pytest.raises(NoRoute) as caught:
        find_full(land(slope(), avoid=[box(40, -60, 43, 0)]), TANK, TAP, BURIED)
    assert caught.value.obstacle == "closed"
