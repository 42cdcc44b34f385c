"""Straightening by the price of the whole line."""

from itertools import pairwise

import numpy as np
import pytest

from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.ground import make_ground
from planner.routing.price import price_along
from planner.routing.settle import SHORT, price_of_shape, settle
from planner.routing.straighten import straighten
from planner.terrain.value import Terrain
from tests.routing.checker import job_of, rises_between, track_of
from tests.routing.graded import kernel_rule

STAIRS = np.array([(k // 2, (k + 1) // 2) for k in range(21)], dtype=np.float64)


def length(xy):
    return float(np.hypot(*np.diff(xy, axis=0).T).sum())


def no_shape(xy):
    return 0.0


def test_a_staircase_becomes_one_leg():
    got = settle(STAIRS, length, no_shape, 1.0, 1000)
    assert np.array_equal(got, STAIRS[[0, -1]])


def test_a_line_goes_round_what_is_barred():
    """Round a disc the shortest way is two tangents and an arc; one bend costs little more."""

    def price(xy):
        run = np.linspace(0.0, 1.0, 200)[:, None]
        points = np.concatenate([a + run * (b - a) for a, b in pairwise(xy)])
        return np.inf if np.min(np.hypot(*(points - (5.0, 5.0)).T)) < 2.0 else length(xy)

    start = np.array([(0.0, 0.0), (0.0, 10.0), (10.0, 10.0)])
    got = settle(start, price, no_shape, 1.0, 2000)
    apart = np.hypot(5.0, 5.0)
    tangent, arc = np.sqrt(apart**2 - 4.0), 2.0 * (np.pi / 2.0 - np.arccos(2.0 / apart))
    shortest = 2.0 * tangent + 2.0 * arc
    assert shortest <= price(got) <= 1.03 * shortest


def test_no_more_lines_are_priced_than_allowed():
    asked = []

    def price(xy):
        asked.append(len(xy))
        return length(xy) if len(xy) == len(STAIRS) else np.inf

    assert np.array_equal(settle(STAIRS, price, no_shape, 1.0, 40)[[0, -1]], STAIRS[[0, -1]])
    assert len(asked) <= 41


def test_what_a_shape_is_charged():
    xy = np.array([(0.0, 0.0), (3.0, 0.0), (3.0, 8.0)])
    assert price_of_shape(xy, 0.5, 0.0) == 0.5
    assert price_of_shape(xy, 0.5, 5.0) == pytest.approx(0.5 + SHORT * 2.0)


@pytest.mark.slow
@pytest.mark.parametrize("vent_cost", [None, 12.0])
def test_where_digging_is_paid_the_line_is_straight_and_costs_no_more(vent_cost):
    x, y = np.meshgrid(np.arange(70) + 0.5, np.arange(50) + 0.5)
    z = 0.06 * x + 0.25 * np.sin(x / 5.0) * np.sin(y / 4.0)
    rule = GradeRule(lowest=0.005, slack=0.6, vent_cost=vent_cost)
    terrain = Terrain.from_array(z, 1.0)
    ground, asked = make_ground(terrain, rule.slack), Asked(rule, Prices(vent_cost, 2.0))
    along = np.linspace(0.0, 1.0, 60)
    xy = np.column_stack([3.5 + 62.0 * along, -25.0 + 4.0 * np.sin(14.0 * along)])

    def price(line):
        return price_along(ground, asked, line).cost

    leg = kernel_rule(ground, rule, tuple(xy[0]))
    got = straighten(ground, leg, xy, bend_cost=0.05, price=price)
    assert len(got) < 20
    assert price(got) + 0.05 * len(got) < price(xy) + 0.05 * len(xy)
    without = straighten(ground, leg, xy, bend_cost=0.05)
    assert price(got) + 0.05 * len(got) <= price(without) + 0.05 * len(without)
    if vent_cost is None:
        job = job_of(terrain, tuple(xy[0]), tuple(xy[-1]), rule)
        assert rises_between(track_of(job, got), 0.005, np.inf)
