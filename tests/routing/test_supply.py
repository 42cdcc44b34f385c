"""Supply lines: falling all the way; else the best line there is, its rule broken."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import box

from planner.errors import NoRoute
from planner.routing.supply import find_falling
from tests.routing.ground import BURIED, check_laid, grades, grid, hump, land, slope

SPRING, CHAMBER = (92.0, -30.0), (5.0, -30.0)


def test_it_falls_all_the_way_and_straight():
    ground = land(slope())
    way = find_falling(ground, SPRING, CHAMBER, BURIED)
    check_laid(way, ground, BURIED)
    assert way.rule_kept
    assert np.all(grades(way) <= -BURIED.least_grade + 1e-9)
    assert way.laid.profile.run[-1] == pytest.approx(87.0, rel=1e-6)
    assert not way.laid.high_points
    assert not way.laid.low_points
    assert not way.laid.flats


def test_a_dyke_that_the_trench_cuts_is_cut():
    ground = land(slope(0.05) + hump(0.6))
    way = find_falling(ground, SPRING, CHAMBER, BURIED)
    check_laid(way, ground, BURIED)
    assert way.rule_kept
    assert np.all(grades(way) <= -BURIED.least_grade + 1e-9)
    assert way.laid.profile.depth.max() > 0.6


def test_a_dyke_too_high_breaks_the_rule_and_shows_where():
    ground = land(slope(0.02) + hump(2.5))
    way = find_falling(ground, SPRING, CHAMBER, BURIED)
    check_laid(way, ground, BURIED)
    assert not way.rule_kept
    (high,) = way.laid.high_points
    assert way.laid.profile.xy[high.index, 0] == pytest.approx(50.0, abs=2.5)


def test_an_end_too_high_has_no_way_and_says_by_how_much():
    with pytest.raises(NoRoute) as caught:
        find_falling(land(slope()), CHAMBER, SPRING, BURIED)
    assert caught.value.obstacle == "fall"
    # 87 m at 10 % up, at 0.5 % down, less the trench.
    assert caught.value.shortfall == pytest.approx(8.7 - 0.7 + 0.435, abs=0.01)


def test_a_contour_is_followed_at_the_least_grade_to_an_end_hardly_lower():
    _, y = grid()
    ground = land(0.2 * (y + 60.0))  # falls to the south: east to west it is level
    way = find_falling(ground, (92.0, -30.0), (5.0, -33.0), BURIED)
    check_laid(way, ground, BURIED)
    assert way.rule_kept


GENTLE = replace(BURIED, greatest_grade=0.15)


def test_no_piece_falls_more_steeply_than_asked():
    ground = land(slope(0.2))  # 17.4 m down: 87 m straight, 117 m at 15 %
    way = find_falling(ground, SPRING, CHAMBER, GENTLE)
    check_laid(way, ground, GENTLE)
    assert way.rule_kept
    assert grades(way).min() >= -0.15 - 1e-6
    assert grades(way).max() <= -GENTLE.least_grade + 1e-9
    shortest = (17.4 - BURIED.slack) / 0.15
    assert shortest - 1.0 <= way.laid.profile.run[-1] <= 1.1 * shortest


def test_land_gentler_than_asked_is_crossed_straight():
    ground = land(slope(0.1))
    way = find_falling(ground, SPRING, CHAMBER, GENTLE)
    assert way.rule_kept
    assert way.laid.profile.run[-1] == pytest.approx(87.0, rel=1e-6)


def test_where_there_is_no_room_for_a_gentle_line_the_steep_one_breaks_the_rule():
    ground = land(slope(0.4), stay=[box(-1, -31.2, 101, -29.8)])  # a lane one cell wide
    laying = replace(GENTLE, deepest_trench=BURIED.least_cover)
    way = find_falling(ground, (92.0, -30.5), (5.0, -30.5), laying)
    check_laid(way, ground, laying)
    assert not way.rule_kept
    assert grades(way).min() < -0.15
    assert grades(way).max() <= -GENTLE.least_grade + 1e-9  # falling all the way, still
    assert not way.laid.high_points


def test_a_dyke_across_a_gentle_line_breaks_the_rule_and_shows_where():
    way = find_falling(land(slope(0.02) + hump(2.5)), SPRING, CHAMBER, GENTLE)
    assert not way.rule_kept
    assert len(way.laid.high_points) == 1


def test_cut_off_ends_are_told():
    with pytest.raises(NoRoute) as caught:
        find_falling(land(slope(), avoid=[box(40, -60, 43, 0)]), SPRING, CHAMBER, BURIED)
    assert caught.value.obstacle == "closed"
