"""`find_route` as a whole: land turned, mirrored, lifted or scaled gives the same line so moved.

The search is the same to rounding. The straightening ends in one of several good lines, by the
order it tries its changes in, so the cost follows within `PULLED`. Bends and short legs cost
nothing here: their price is no part of the route's cost, and cost is given away for them.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.find import find_route
from planner.terrain.value import Terrain

PULLED = 0.08  # share of the cost; 0.1 to 0.4 % on average
ROWS, COLS = 9, 13
VENT = 6.0  # m of pipe
WIDTH, HEIGHT = 2.0, 3.0
WEST, NORTH = 100.0, 50.0
START, END = (3.3, 5.1), (21.7, 20.2)  # x to the east and y to the south of the corner
RULES = {
    "plain": GradeRule(),
    "rising": GradeRule(lowest=0.02, slack=0.5),
    "falling": GradeRule(highest=0.3, slack=0.5),
    "limits": GradeRule(lowest=-0.2, highest=0.35, slack=0.4),
    "vented": GradeRule(lowest=0.02, slack=0.3, vent_cost=VENT),
}

levels = arrays(np.float64, (ROWS, COLS), elements=st.integers(0, 8).map(lambda v: v / 10))


def patch(row, col, factor):
    """One dear patch on land that is cheap elsewhere."""
    price = np.ones((ROWS, COLS))
    price[row : row + 3, col : col + 4] = factor
    return price


prices = st.builds(patch, st.integers(0, 6), st.integers(0, 9), st.sampled_from([1.0, 2.0, 5.0]))
rules = st.sampled_from(list(RULES))
dig_costs = st.sampled_from([0.0, 0.0, 1.5])


def east_up(z):
    return z + 0.25 * np.arange(COLS)


def cost_of(z, factor, rule, dig, *, cell=(WIDTH, HEIGHT), ends=(START, END)):
    """Cost of the route, None where there is none; ends told from the north-west corner."""
    terrain = Terrain.from_array(z, cell, origin=(WEST, NORTH))
    start, end = ((WEST + x, NORTH - y) for x, y in ends)
    try:
        return find_route(
            terrain, start, end, rule, factor, dig_cost=dig, bend_cost=0.0, least_leg=0.0
        ).cost
    except NoRoute:
        return None


def mirrored(z, factor):
    return z[:, ::-1], factor[:, ::-1], (WIDTH, HEIGHT), lambda x, y: (COLS * WIDTH - x, y)


def upside_down(z, factor):
    return z[::-1], factor[::-1], (WIDTH, HEIGHT), lambda x, y: (x, ROWS * HEIGHT - y)


def transposed(z, factor):
    return z.T, factor.T, (HEIGHT, WIDTH), lambda x, y: (y, x)


def quarter_turned(z, factor):
    """Counter-clockwise: the east side becomes the north side."""
    cell = (HEIGHT, WIDTH)
    return np.rot90(z), np.rot90(factor), cell, lambda x, y: (y, COLS * WIDTH - x)


@pytest.mark.parametrize("moved", [mirrored, upside_down, transposed, quarter_turned])
@settings(max_examples=25, deadline=None, derandomize=True)
@given(levels, prices, rules, dig_costs)
def test_turned_land_costs_the_same(moved, z, factor, rule, dig):
    z = east_up(z)
    there, prices_there, cell, place = moved(z, factor)
    ends = [place(*START), place(*END)]
    one = cost_of(z, factor, RULES[rule], dig)
    two = cost_of(there, prices_there, RULES[rule], dig, cell=cell, ends=ends)
    assert_same(one, two, RULES[rule].vent_cost or 0.0)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(levels, prices, rules, dig_costs, st.sampled_from([-417.25, 0.5, 2048.0]))
def test_land_lifted_costs_the_same(z, factor, rule, dig, lift):
    z = east_up(z)
    one, two = (cost_of(land, factor, RULES[rule], dig) for land in (z, z + lift))
    assert_same(one, two, RULES[rule].vent_cost or 0.0)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(levels, prices, rules, dig_costs)
def test_all_twice_as_large_costs_twice_as_much(z, factor, rule, dig):
    """Cells, levels, trench and vents twice as large; a square metre dug is worth half of it."""
    z, own = east_up(z), RULES[rule]
    vent = None if own.vent_cost is None else 2.0 * own.vent_cost
    twice = GradeRule(own.lowest, own.highest, 2.0 * own.slack, vent)
    ends = [(2.0 * x, 2.0 * y) for x, y in (START, END)]
    cell = (2.0 * WIDTH, 2.0 * HEIGHT)
    large = cost_of(2.0 * z, factor, twice, dig / 2.0, cell=cell, ends=ends)
    half = None if large is None else large / 2.0
    assert_same(cost_of(z, factor, own, dig), half, own.vent_cost or 0.0)


@settings(max_examples=25, deadline=None, derandomize=True)
@given(levels, prices, dig_costs)
def test_a_rise_walked_back_is_a_fall_of_the_same_cost(z, factor, dig):
    z = east_up(z)
    up = cost_of(z, factor, GradeRule(lowest=0.02, slack=0.5), dig)
    down = cost_of(z, factor, GradeRule(highest=-0.02, slack=0.5), dig, ends=(END, START))
    assert_same(up, down)


def assert_same(one, two, vent=0.0):
    assert (one is None) == (two is None)
    if one is not None:
        assert abs(two - one) <= PULLED * one + vent  # one may be slid away
