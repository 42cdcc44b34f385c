"""Straightened lines against the definition of their rule, and against what they are to be like."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.grade.rule import GradeRule
from planner.routing.band import one_sided, rooted_at_end
from planner.routing.follow import cost_along, land_of
from planner.routing.ground import band_at, make_ground
from planner.routing.line_kernel import SHORT, begin, price
from planner.routing.pipe_kernel import meet
from planner.routing.price import price_along
from planner.routing.straighten import pipe_along, straighten
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.value import Terrain
from tests.routing.checker import fewest_vents, job_of, rises_between, slope_across, track_of
from tests.routing.graded import asked_of, dense, kernel_rule, length_on, plane, route

ROWS, COLS, CELL = 7, 9, (2.0, 3.0)
RULES = [
    GradeRule(slack=0.3),
    GradeRule(lowest=0.02, slack=0.4),
    GradeRule(highest=-0.02, slack=0.4),
    GradeRule(lowest=-0.3, highest=0.25, slack=0.2),
    GradeRule(lowest=0.02, slack=0.3, vent_cost=4.0),
]
digs = st.sampled_from([0.0, 0.5, 8.0])
begins = st.sampled_from(["open", "closed"])
levels = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 0.8).map(lambda v: round(v, 2)))
prices = arrays(np.float64, (ROWS, COLS), elements=st.sampled_from([1.0, 1.0, 2.0, np.inf]))
ways = st.lists(
    st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLS - 1)),
    min_size=3,
    max_size=8,
    unique=True,
)


def line_over(terrain, cells):
    return np.column_stack(cell_centre(terrain, *np.transpose(cells)))


def scene(z, factor, cells, asked, **more):
    terrain = Terrain.from_array(z + 0.1 * np.arange(COLS), CELL, origin=(100.0, 50.0))
    ground = make_ground(terrain, asked.rule.slack, factor, **more)
    xy = line_over(terrain, cells)
    assume(np.isfinite(band_at(ground, xy[:1])[0][0]))
    assume(price_along(ground, asked, xy).cost < np.inf)
    return ground, xy


@settings(max_examples=300, deadline=None)
@given(levels, prices, ways, st.sampled_from(RULES), st.sampled_from([0.0, 0.3]), digs, begins)
def test_a_straightened_line_keeps_its_rule_and_costs_no_more(
    z, factor, cells, rule, bend, dig, start
):
    asked = asked_of(rule, dig, start)
    ground, xy = scene(z, factor, cells, asked)
    got = straighten(ground, asked, xy, bend_cost=bend)
    assert np.array_equal(got[[0, -1]], xy[[0, -1]])
    assert np.array_equal(got, straighten(ground, asked, xy, bend_cost=bend))
    cost = [price_along(ground, asked, line).cost for line in (got, xy)]
    assert cost[0] <= cost[1] + 1e-7
    assert cost[0] + bend * len(got) <= cost[1] + bend * len(xy) + 1e-7
    job = job_of(ground.terrain, tuple(xy[0]), tuple(xy[-1]), rule, factor)
    track = track_of(job, got)
    assert np.all(np.isfinite(track.top))
    if rule.vents_allowed:
        assert fewest_vents(track, rule.lowest) is not None
    else:
        assert rises_between(track, *rule.rising)


@settings(max_examples=200, deadline=None)
@given(levels, ways, st.sampled_from(RULES), st.sampled_from([0.0, 7.0]), digs)
def test_no_vertex_is_left_that_could_be_dropped(z, cells, rule, least, dig):
    asked = asked_of(rule, dig)
    ground, xy = scene(z, None, cells, asked)
    got = straighten(ground, asked, xy, bend_cost=0.2, least_leg=least)
    most = price_along(ground, asked, xy).cost

    def worth(line):
        legs = np.hypot(*np.diff(line, axis=0).T)
        short = SHORT * np.sum((2.0 - legs[legs < least] / least) if least else 0.0)
        cost = price_along(ground, asked, line).cost
        return cost + 0.2 * (len(line) - 2 + short) if cost <= most else np.inf

    kept = worth(got)
    for k in range(1, len(got) - 1):
        assert worth(np.delete(got, k, axis=0)) > kept - 1e-6


@settings(max_examples=100, deadline=None)
@given(levels, ways, st.sampled_from([0.15, 0.3]))
def test_the_slope_across_is_kept(z, cells, limit):
    asked = asked_of(GradeRule(slack=0.3))
    ground, xy = scene(z, None, cells, asked, side_slope=limit)
    got = straighten(ground, asked, xy)
    job = job_of(ground.terrain, tuple(xy[0]), tuple(xy[-1]), GradeRule(), side_slope=limit)
    assert np.max(slope_across(job, track_of(job, got))) <= limit + 1e-6


def _through_a_corner(start, end):
    """Whether a leg between centres of cells meets a corner of cells."""
    rows, cols = (abs(b - a) for a, b in zip(start, end, strict=True))
    common = math.gcd(rows, cols)
    return common > 0 and rows // common % 2 == 1 and cols // common % 2 == 1


@settings(max_examples=300, deadline=None)
@given(levels, prices, ways, st.sampled_from(RULES), digs, begins)
def test_labels_from_both_ends_meet_at_the_price_of_the_whole(z, factor, cells, rule, dig, start):
    # Levels that meet the band to the last digit are decided by rounding: here none do. Which of
    # two prices holds at a corner of cells is decided by it too.
    rounding = 0.05 if any(_through_a_corner(*leg) for leg in pairwise(cells)) else 1e-6
    asked = asked_of(replace(rule, slack=0.98717 * rule.slack), dig, start)
    ground, xy = scene(0.99731 * z, factor, cells, asked)
    way = xy[::-1] if one_sided(rule) and rooted_at_end(rule) else xy
    row, col = grid_position(ground.terrain, way[:, 0], way[:, 1])
    pipe, land = pipe_along(ground, asked, way), land_of(ground)
    assert pipe is not None
    line = begin(land, pipe, row, col, np.zeros(len(row), np.bool_))
    assert price(line, land, pipe)
    whole = price_along(ground, asked, xy).cost
    for i in range(len(row)):
        ahead, behind = ((line.labels[side, i], line.counts[side, i]) for side in (0, 1))
        extras = meet(pipe, *ahead, *behind, 1e-7)  # as `price` meets
        assert line.paid[0] + extras == pytest.approx(whole, abs=rounding)


def test_a_wall_one_cell_thin_is_not_cut():
    cost = np.ones((40, 60))
    cost[5:, 30] = np.inf
    terrain = Terrain.from_array(np.zeros((40, 60)), 1.0)
    ground = make_ground(terrain, 0.3, cost)
    xy = np.array([(10.5, -30.5), (20.5, -8.5), (30.5, -2.5), (40.5, -8.5), (50.5, -30.5)])
    leg, asked = kernel_rule(ground, GradeRule(), tuple(xy[0])), asked_of(GradeRule(slack=0.3))
    got = straighten(ground, asked, xy, bend_cost=0.0)
    across = np.interp(30.5, got[:, 0], got[:, 1])
    assert -5.0 < across <= -4.0  # round its end, as close as may be: a pipe, not a centre line
    assert np.isfinite(cost_along(ground, leg, got)[0])


def test_the_corner_of_a_closed_cell_is_not_clipped():
    cost = np.ones((5, 5))
    cost[2, 2] = np.inf
    ground = make_ground(Terrain.from_array(np.zeros((5, 5)), 1.0), 0.3, cost)
    leg = kernel_rule(ground, GradeRule(slack=0.3), (0.5, -0.5))
    # From patch to diagonal patch by a sliver of the one between: between two samples.
    clips = np.array([(0.5, -2.55), (2.5, -0.55)])
    clear = np.array([(0.5, -2.45), (2.5, -0.45)])
    assert np.isfinite(cost_along(ground, leg, clear)[0])
    assert cost_along(ground, leg, clips)[0] == np.inf


def saw(land, teeth):
    """A zigzag between two places on a plane, each leg at the limit of its grade."""
    start, end = np.array(land.start), np.array(land.end)
    t = (np.arange(teeth + 1) / teeth)[:, None]
    middle = start + t * (end - start)
    run = land.rise / land.limit
    apart = np.hypot(*(end - start))
    aside = np.sqrt(run**2 - apart**2) / teeth / 2.0
    turned = np.array([-(end - start)[1], (end - start)[0]]) / apart
    middle[1:-1] += np.where(np.arange(1, teeth) % 2, 1.0, -1.0)[:, None] * aside * turned
    return middle


@pytest.mark.parametrize("degrees", [0, 13, 30])
def test_a_saw_at_the_limit_becomes_a_few_long_legs(degrees):
    land = plane(degrees, 2.0, aside=0.0)
    ground = make_ground(land.terrain, 0.4)
    leg = kernel_rule(ground, land.rule, land.start)
    teeth = saw(land, 30)
    assert np.isfinite(cost_along(ground, leg, teeth)[0])
    got = straighten(ground, asked_of(land.rule), teeth)
    assert len(got) <= 4
    assert cost_along(ground, leg, got)[0] <= cost_along(ground, leg, teeth)[0] + 1.0


@pytest.mark.parametrize("land", [plane(13, 2.0), plane(45, 4.0)], ids=lambda v: v.name)
def test_the_least_leg_is_kept_where_the_land_allows_it(land):
    got, _ = route(land, least_leg=6.0)
    assert np.min(np.hypot(*np.diff(got, axis=0).T)) >= 0.95 * 6.0
    assert length_on(land, got) <= 1.04 * land.shortest


def test_a_least_leg_does_not_drive_the_line_over_dear_ground():
    cost = np.ones((60, 80))
    cost[10:40, 30:40] = 6.0
    ground = make_ground(Terrain.from_array(np.zeros((60, 80)), 1.0), 0.3, cost)
    up = [(10.5 + k, -25.5 + k) for k in range(18)]
    along = [(28.5 + k, -7.5) for k in range(16)]
    down = [(44.5 + k, -7.5 - k) for k in range(18)]
    round_it = np.array([*up, *along, *down])
    got = straighten(ground, asked_of(GradeRule(slack=0.3)), round_it, least_leg=3.0)
    assert np.interp(35.0, got[:, 0], got[:, 1]) > -12.0
    assert np.min(np.hypot(*np.diff(got, axis=0).T)) >= 3.0 - 1e-6


def test_vertices_that_must_stay_do_so():
    ground = make_ground(Terrain.from_array(np.zeros((30, 30)), 1.0), 0.3)
    xy = np.array([(1.5, -1.5), (3.5, -8.5), (20.25, -2.75), (22.5, -9.5), (28.5, -28.5)])
    stop = (20.25, -2.75)
    got = straighten(ground, asked_of(GradeRule(slack=0.3)), xy, stops=[stop])
    assert np.array_equal(got, xy[[0, 2, 4]])


def test_a_line_that_breaks_its_rule_stays_as_it_is():
    land = plane(0, 2.0)
    ground = make_ground(land.terrain, 0.1)
    steep = np.array([land.start, (60.0, -60.0), land.end])
    assert np.array_equal(straighten(ground, asked_of(land.rule), steep), steep)


def test_without_a_limit_the_shortest_way_over_a_cone_is_its_geodesic():
    """A cone unrolls to a plane: the geodesic is a straight line there (do Carmo, 1976, 4-6)."""
    side, slope, radius, turn = 121, 1.0, 45.0, 1.5
    middle = side / 2.0
    x, y = np.meshgrid(np.arange(side) + 0.5, -np.arange(side) - 0.5)
    terrain = Terrain.from_array(-slope * np.hypot(x - middle, y + middle), 1.0)
    ground = make_ground(terrain, 0.3)
    angle = np.linspace(0.0, turn, 60)  # along the parallel, which is no geodesic
    xy = np.column_stack([middle + radius * np.cos(angle), -middle + radius * np.sin(angle)])
    got = straighten(ground, asked_of(GradeRule(slack=0.3)), xy, bend_cost=0.001)
    stretched = np.hypot(1.0, slope)
    geodesic = 2.0 * radius * stretched * np.sin(turn / stretched / 2.0)
    points, run = dense(got)
    away = np.hypot(points[:, 0] - middle, points[:, 1] + middle)
    length = np.sum(np.hypot(np.diff(run), slope * np.diff(away)))
    assert geodesic * (1.0 - 1e-6) <= length <= 1.005 * geodesic
