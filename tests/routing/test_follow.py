"""`follow` against a plain twin that keeps every choice of rising and falling, and drops none."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.follow import grades_of, land_of
from planner.routing.follow_kernel import follow
from planner.routing.ground import make_ground
from planner.terrain.sample import grid_position, ground_at
from planner.terrain.value import Terrain

ROWS, COLS, CELL = 5, 7, (2.0, 3.0)
PART = 1.0  # cells; the twin doubles its choices at each sample
RULES = [
    GradeRule(),
    GradeRule(lowest=0.02, slack=0.4),
    GradeRule(highest=-0.02, slack=0.4),
    GradeRule(lowest=-0.2, highest=0.2, slack=0.3),
    GradeRule(lowest=0.02, slack=0.4, vent_cost=5.0),
]


def rule_from(ground, rule, start, begins="open"):
    return grades_of(ground, Asked(rule, Prices(rule.vent_cost), begins), start)


def plain_cost(terrain, factor, xy, rule, begin):
    """Cost of the cheapest laying along a polyline, or infinity."""
    ways = [rule.rising, rule.falling] if rule.vents_allowed else [rule.rising]
    z = float(ground_at(terrain, *xy[0]))
    states = [(begin[w], w, z - rule.slack, z) for w in range(len(ways))]
    metres, before = 0.0, z
    for (x0, y0), (x1, y1) in pairwise(xy):
        cells = math.hypot((x1 - x0) / CELL[0], (y1 - y0) / CELL[1])
        pieces = max(math.ceil(cells / PART), 1)
        step = math.hypot(x1 - x0, y1 - y0) / pieces
        for k in range(1, pieces + 1):
            x, y = x0 + (x1 - x0) * k / pieces, y0 + (y1 - y0) * k / pieces
            z = float(ground_at(terrain, x, y))
            half = (x - 0.5 * (x1 - x0) / pieces, y - 0.5 * (y1 - y0) / pieces)
            row, col = (int(v + 0.5) for v in grid_position(terrain, *half))
            metres += math.hypot(step, z - before) * factor[row, col]
            before, made = z, []
            for cost, way, low, high in states:
                for onward, (a, b) in enumerate(ways):
                    lo, hi = max(z - rule.slack, low + a * step), min(z, high + b * step)
                    if lo <= hi + 1e-9:
                        vent = rule.vent_cost if way == 0 and onward == 1 else 0.0
                        made.append((cost + vent, onward, lo, hi))
            states = made
    return min((cost for cost, *_ in states), default=math.inf) + metres


levels = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 1.5).map(lambda v: round(v, 2)))
prices = arrays(np.float64, (ROWS, COLS), elements=st.sampled_from([1.0, 2.0, 5.0]))


@settings(max_examples=150, deadline=None)
@given(levels, prices, st.sampled_from(RULES), st.sampled_from(["open", "closed"]))
def test_cost_along_a_line_equals_its_plain_twin(z, factor, rule, begins):
    terrain = Terrain.from_array(z + 0.2 * np.arange(COLS), CELL, origin=(100.0, 50.0))
    ground = make_ground(terrain, rule.slack, factor)
    xy = np.array([(101.3, 47.9), (107.2, 43.1), (112.4, 38.6)])
    leg = rule_from(ground, rule, tuple(xy[0]), begins)
    row, col = grid_position(terrain, xy[:, 0], xy[:, 1])
    land = land_of(ground)._replace(part=PART)
    cost = follow(land, leg, row, col)[0]
    assert cost == pytest.approx(plain_cost(terrain, factor, xy, rule, leg.begin), abs=1e-9)


def test_a_line_over_a_hole_or_a_closed_cell_costs_infinitely_much():
    cost = np.ones((ROWS, COLS))
    cost[:, 3] = np.inf
    ground = make_ground(Terrain.from_array(np.ones((ROWS, COLS)), 1.0), 0.3, cost)
    leg = rule_from(ground, GradeRule(slack=0.3), (0.5, -2.5))
    ends = np.array([2.0, 2.0]), np.array([0.0, 6.0])
    got = follow(land_of(ground), leg, *ends)
    assert got[0] == math.inf
