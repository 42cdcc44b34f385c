"""Awkward ground, ends and prices: the right route, or one sentence on what is wrong."""

import contextlib

import numpy as np
import pytest

from planner.errors import InputError, NoRoute, OutsideRange
from planner.grade.rule import GradeRule
from planner.routing.find import find_route
from planner.terrain.value import Terrain
from tests.routing.checker import faults, job_of

RULES = {
    "plain": GradeRule(),
    "rising": GradeRule(lowest=0.005, slack=0.3),
    "falling": GradeRule(highest=-0.005, slack=0.3),
    "vented": GradeRule(lowest=0.005, slack=0.3, vent_cost=20.0),
    "limits": GradeRule(lowest=-0.3, highest=0.3, slack=0.2),
}
ALL = list(RULES)
UP = ("plain", "rising", "vented", "limits")
COLS, ROWS = 30, 20
RAMP = np.tile(0.1 * np.arange(COLS), (ROWS, 1))  # rises to the east
INF, NAN = np.inf, np.nan


def land(z=RAMP, cell=1.0, origin=(0.0, 0.0)):
    return Terrain.from_array(z, cell, origin=origin)


def routed(terrain, start, end, rule, cost=None, **more):
    """A route without a fault."""
    route = find_route(terrain, start, end, RULES[rule], cost, **more)
    told = {k: v for k, v in more.items() if k in {"way", "side_slope", "begins"}}
    assert faults(job_of(terrain, start, end, RULES[rule], cost, **told), route) == []
    return route


def refused(terrain, start, end, rule, cost=None, **more):
    """What is said where there is no route: one line."""
    with pytest.raises(NoRoute) as caught:
        find_route(terrain, start, end, RULES[rule], cost, **more)
    assert "\n" not in str(caught.value)
    return caught.value


def costs(cells, factor):
    cost = np.ones(RAMP.shape)
    cost[cells] = factor
    return cost


def altered(cells, value):
    z = RAMP.copy()
    z[cells] = value
    return land(z)


@pytest.mark.parametrize("rule", UP)
@pytest.mark.parametrize("side", [INF, 0.5])
def test_a_single_row_or_column_is_followed(rule, side):
    x = 0.1 * np.arange(30.0)
    row = routed(land(x[None, :]), (1.5, -0.5), (25.5, -0.5), rule, side_slope=side)
    column = routed(land(x[::-1, None]), (0.5, -28.5), (0.5, -4.5), rule, side_slope=side)
    assert row.length == pytest.approx(24.0 * np.hypot(1.0, 0.1))
    assert column.length == pytest.approx(row.length)


@pytest.mark.parametrize("rule", ALL)
@pytest.mark.parametrize("side", [INF, 0.2])
def test_one_cell_is_crossed_straight(rule, side):
    route = routed(land([[3.0]]), (0.2, -0.3), (0.8, -0.9), rule, side_slope=side)
    assert route.length == pytest.approx(np.hypot(0.6, 0.6))


@pytest.mark.parametrize("rule", ["plain", "rising", "vented"])
def test_four_cells_are_crossed_straight(rule):
    assert routed(land([[1.0, 2.0], [2.0, 3.0]]), (0.2, -0.3), (1.8, -1.9), rule).vents == 0


@pytest.mark.parametrize("rule", ALL)
def test_start_and_end_in_one_cell(rule):
    assert routed(land(), (5.1, -5.3), (5.7, -5.6), rule).length == pytest.approx(0.6735, abs=1e-3)


@pytest.mark.parametrize("rule", ALL)
@pytest.mark.parametrize("apart", [0.0, 1e-8])
def test_start_equal_to_end_has_no_line(rule, apart):
    said = refused(land(), (5.0, -5.0), (5.0 + apart, -5.0), rule)
    assert "no length" in str(said)
    assert said.where == (5.0, -5.0)


@pytest.mark.parametrize("rule", UP)
def test_ends_in_the_outermost_half_cell(rule):
    routed(land(), (0.1, -0.1), (29.9, -19.9), rule)
    routed(land(), (0.0, 0.0), (30.0, -20.0), rule)


@pytest.mark.parametrize("rule", ALL)
def test_ends_outside_the_data_are_both_named(rule):
    said = refused(land(), (-0.1, -0.1), (30.1, -19.9), rule)
    assert said.obstacle == "edge"
    assert "the start of the line at x -0.1, y -0.1 and the end" in str(said)
    assert refused(land(), (3.0, -3.0), (1e300, -19.9), rule).obstacle == "edge"


@pytest.mark.parametrize("rule", ALL)
@pytest.mark.parametrize("place", [(NAN, -3.0), (3.0, INF), (-INF, NAN)])
def test_places_that_are_no_numbers_are_refused(rule, place):
    ends = (3.0, -3.0), (20.0, -10.0)
    for start, end, way in ((place, ends[1], ()), (ends[0], place, ()), (*ends, (place,))):
        with pytest.raises(OutsideRange, match="finite"):
            find_route(land(), start, end, RULES[rule], way=way)


@pytest.mark.parametrize("rule", ALL)
def test_ground_without_any_data_is_a_hole(rule):
    said = refused(land(np.full((5, 6), NAN)), (1.0, -1.0), (4.0, -4.0), rule)
    assert said.obstacle == "void"
    assert "lie on a hole" in str(said)


@pytest.mark.parametrize("rule", UP)
def test_every_other_row_void(rule):
    rows = altered(np.s_[::2], NAN)
    routed(rows, (3.5, -1.5), (25.5, -1.5), rule)
    said = refused(rows, (3.5, -1.5), (25.5, -5.5), rule)
    assert said.obstacle == "void"
    assert said.shortfall == pytest.approx(4.0)


@pytest.mark.parametrize("rule", UP)
def test_a_hole_is_passed(rule):
    hole = altered(np.s_[4:19, 15], NAN)
    route = routed(hole, (3.5, -9.5), (25.5, -9.5), rule)
    assert max(y for _, y in route.line.coords) > -4.0


CLOSED = costs(np.s_[5:8, 5:8], INF) * costs(np.s_[5:8, 20:23], INF)


@pytest.mark.parametrize("rule", ALL)
@pytest.mark.parametrize("closed", [CLOSED, costs(np.s_[4:9, 4:24], INF)])
def test_both_ends_on_closed_areas_are_both_named(rule, closed):
    """Each on its own, or both on one; nothing but themselves stands in the way."""
    said = refused(land(), (6.5, -6.5), (21.5, -6.5), rule, closed)
    assert said.obstacle == "closed"
    assert said.where == (6.5, -6.5)
    assert "and the end of the line at x 21.5, y -6.5 stand in" in str(said)


@pytest.mark.parametrize("rule", UP)
def test_an_end_beside_a_closed_area_is_no_obstacle(rule):
    routed(land(), (2.5, -6.5), (4.3, -9.2), rule, CLOSED)


@pytest.mark.parametrize("rule", UP)
def test_a_wall_names_the_place_where_it_is_thinnest(rule):
    wall = costs(np.s_[:, 14:18], INF)
    wall[12, 14:17] = 1.0
    said = refused(land(), (3.5, -3.5), (25.5, -3.5), rule, wall)
    assert said.obstacle == "closed"
    assert said.shortfall == pytest.approx(2.0)
    assert said.where is not None
    assert said.where[1] == pytest.approx(-12.5)


@pytest.mark.parametrize("cost", [np.ones((3, 3)), np.float64(2.0), np.ones(ROWS * COLS)])
def test_a_cost_of_another_shape_is_refused(cost):
    with pytest.raises(OutsideRange, match="shape"):
        find_route(land(), (2.5, -6.5), (14.3, -9.2), GradeRule(), cost)


@pytest.mark.parametrize("rule", UP)
def test_huge_costs_are_paid(rule):
    ends = (2.5, -6.5), (24.3, -9.2)
    cheap = routed(land(), *ends, rule)
    everywhere = routed(land(), *ends, rule, np.full(RAMP.shape, 1e6))
    assert everywhere.cost == pytest.approx(1e6 * cheap.cost)
    gap = costs(np.s_[:, 15], 1e6)
    gap[2, 15] = 1.0
    assert routed(land(), *ends, rule, gap).cost < 60.0  # round through the gap


@pytest.mark.parametrize("rule", UP)
def test_oblong_cells_far_from_the_origin(rule):
    west, north = 1e7 + 0.3, -1e7
    ends = (west + 5.0, north - 10.0), (west + 50.0, north - 50.0)
    route = routed(land(RAMP, (2.0, 3.0), (west, north)), *ends, rule)
    rise = 0.05 * 45.0
    assert route.length == pytest.approx(np.hypot(np.hypot(45.0, 40.0), rise), rel=1e-6)


@pytest.mark.parametrize("rule", UP)
def test_way_points_told_twice_or_at_the_ends(rule):
    way = ((3.0, -3.0), (8.0, -9.0), (8.0, -9.0), (20.0, -10.0))
    routed(land(), (3.0, -3.0), (20.0, -10.0), rule, way=way)


@pytest.mark.parametrize("rule", ALL)
def test_way_points_off_the_land_are_named_as_such(rule):
    ends = (3.5, -3.5), (25.5, -9.5)
    for place, cost, obstacle in (
        ((80.0, -9.0), None, "edge"),
        ((21.5, -6.5), CLOSED, "closed"),
    ):
        said = refused(land(), *ends, rule, cost, way=[place])
        assert said.obstacle == obstacle
        assert str(said).startswith("the way point of the line")
        assert said.where == place
    said = refused(altered(np.s_[2, 10], NAN), *ends, rule, way=[(10.5, -2.5)])
    assert said.obstacle == "void"


def test_a_way_point_below_the_start_can_t_be_reached_by_a_rise():
    said = refused(land(), (10.0, -3.0), (25.0, -10.0), "rising", way=[(3.5, -6.5)])
    assert said.obstacle == "fall"
    assert said.shortfall == pytest.approx(0.65 - 0.3 + 0.005 * np.hypot(6.5, 3.5), abs=1e-6)


@pytest.mark.parametrize("rule", ["plain", "vented", "limits"])
def test_round_by_a_way_point_and_back_again(rule):
    route = routed(land(), (3.0, -3.0), (3.0, -3.0), rule, way=[(8.0, -9.0)])
    assert route.length > 2.0 * np.hypot(5.0, 6.0)


def test_a_pit_is_left_by_a_rise_and_entered_by_a_fall():
    pit = altered(np.s_[8:11, 8:11], RAMP[8:11, 8:11] - 3.0)
    inside, east = (9.5, -9.5), (25.5, -9.5)
    routed(pit, inside, east, "rising")
    routed(pit, east, inside, "falling")
    assert refused(pit, inside, (2.5, -9.5), "falling").obstacle == "fall"


def test_a_pit_s_rim_holds_a_line_that_only_falls():
    """The floor lies 0.2 m above the end, the rim a metre above the floor."""
    z = RAMP + 0.0
    z[7:12, 17:22] = 3.0
    z[8:11, 18:21] = 2.0
    said = refused(land(z), (19.5, -9.5), (8.5, -9.5), "falling")
    assert said.obstacle == "grade"
    assert said.shortfall == pytest.approx(1.0 - 0.3 + 0.005, abs=0.01)
    assert said.where is not None
    assert np.hypot(said.where[0] - 19.5, said.where[1] + 9.5) < 3.0
    assert "short of fall at" in str(said)


@pytest.mark.parametrize("rule", ["plain", "rising", "vented"])
def test_a_summit_is_reached_by_a_rise(rule):
    top = altered(np.s_[8:11, 18:21], RAMP[8:11, 18:21] + 3.0)
    routed(top, (2.5, -9.5), (19.5, -9.5), rule)


def test_a_summit_steeper_than_the_limit_says_so():
    top = altered(np.s_[9, 19], 6.0)
    said = refused(top, (2.5, -9.5), (19.5, -9.5), "limits")
    assert said.obstacle == "grade"
    assert "too steep" in str(said)
    assert "-30.0% to 30.0%" in str(said)


@pytest.mark.parametrize("rule", ["plain", "rising", "vented"])
@pytest.mark.parametrize("height", [0.3048, 1.2192, 30.48])
def test_a_cliff_of_so_many_feet_is_climbed(rule, height):
    cliff = land(np.tile(np.where(np.arange(COLS) > 15, height, 0.0), (ROWS, 1)) + 0.01 * RAMP)
    route = routed(cliff, (2.5, -9.5), (19.5, -9.5), rule)
    assert route.length >= height + 15.0


STAIRS = np.floor(RAMP)


def test_whole_metres_are_a_stair_for_a_strict_rise_and_the_message_says_so():
    said = refused(land(STAIRS), (1.5, -3.5), (28.5, -9.5), "rising", slack=np.zeros(RAMP.shape))
    assert said.obstacle == "grade"
    assert "whole metres" in str(said)
    assert "whole metres" not in str(
        refused(land(STAIRS + 0.3), (1.5, -3.5), (28.5, -9.5), "rising", slack=np.zeros(RAMP.shape))
    )


@pytest.mark.parametrize("rule", ["rising", "vented"])
def test_a_trench_carries_a_line_over_the_flats_of_a_stair(rule):
    route = routed(land(STAIRS), (1.5, -3.5), (28.5, -9.5), rule)
    assert route.vents == 0


def test_flat_land_is_crossed_as_far_as_the_trench_allows():
    flat = land(np.zeros(RAMP.shape))
    routed(flat, (1.5, -3.5), (28.5, -3.5), "rising")  # 27 m at 0.5 % use 0.135 m of the 0.3 m
    thin = np.full(RAMP.shape, 0.1)
    said = refused(flat, (1.5, -3.5), (28.5, -3.5), "rising", slack=thin)
    assert said.obstacle == "fall"
    assert said.shortfall == pytest.approx(0.035)
    find_route(flat, (1.5, -3.5), (28.5, -3.5), RULES["vented"], slack=thin)


def test_flat_land_without_any_trench_can_t_be_vented():
    said = refused(
        land(np.zeros(RAMP.shape)), (1.5, -3.5), (28.5, -3.5), "vented", slack=np.zeros(RAMP.shape)
    )
    assert said.obstacle == "grade"
    assert "too flat" in str(said)


@pytest.mark.parametrize("rule", ["plain", "rising"])
def test_a_slope_too_steep_across_is_named(rule):
    z = np.tile(np.arange(ROWS)[::-1, None] * 1.0, (1, COLS))
    said = refused(land(z + RAMP), (2.5, -9.5), (25.5, -9.0), rule, side_slope=0.3)
    assert said.obstacle == "grade"
    assert "30% at most across the trench" in str(said)


@pytest.mark.parametrize("rule", ALL)
def test_nothing_but_our_own_errors_whatever_the_ends(rule):
    """On ground with holes, walls, cliffs and flats, ends everywhere, in and out of it."""
    z = np.floor(RAMP * 4.0) / 2.0
    z[5:9, 10:14], z[15] = NAN, 50.0
    cost = costs(np.s_[2:18, 20], INF)
    rng = np.random.default_rng(3)
    for start, end in rng.uniform((-2.0, -22.0), (32.0, 2.0), (25, 2, 2)):
        ends = (float(start[0]), float(start[1])), (float(end[0]), float(end[1]))
        with contextlib.suppress(NoRoute, InputError):
            routed(land(z), *ends, rule, cost)
