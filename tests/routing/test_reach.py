"""The sweeps ahead of a search against plain repetition, and what they spare it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices, find_in_band
from planner.routing.find import find_route
from planner.routing.follow import grades_of
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.links import links
from planner.routing.reach import reach_of, reached_from
from planner.routing.stencil import REACH, moves
from planner.routing.walk import Miss, Walk
from planner.terrain.sample import cell_centre, ground_at
from planner.terrain.value import Terrain

RIM = REACH[16]
ROWS, COLS, SLACK, LEAST = 6, 7, 0.3, 0.05
START, END = (4, 1), (1, 5)
levels = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 2).map(lambda v: round(v, 2)))


def rule_from(ground, rule, start):
    return grades_of(ground, Asked(rule, Prices(rule.vent_cost)), start)


def xy_of(terrain, cell):
    x, y = cell_centre(terrain, *cell)
    return float(x), float(y)


def plain_highest(terrain, end):
    """Highest level at each cell that rises to the end: all moves again until nothing changes."""
    cells = list(np.ndindex(ROWS, COLS))
    most = {cell: plain_link(terrain, cell, end) for cell in cells}
    changed = True
    while changed:
        changed = False
        for cell in cells:
            for move in moves(16):
                to = (cell[0] + move[0], cell[1] + move[1])
                level = plain_back(terrain, cell, to, most[to]) if to in most else -np.inf
                if level > most[cell] + 1e-12:
                    most[cell], changed = level, True
    return np.array([most[cell] for cell in cells]).reshape(ROWS, COLS)


def plain_link(terrain, cell, end):
    away = np.hypot(cell[0] - end[0], cell[1] - end[1])
    if max(abs(cell[0] - end[0]), abs(cell[1] - end[1])) > RIM:
        return -np.inf
    return plain_back(terrain, cell, end, np.inf, max(int(np.ceil(away / 0.25 - 1e-9)), 1))


def plain_back(terrain, cell, to, level, count=None):
    (x0, y0), (x1, y1) = xy_of(terrain, cell), xy_of(terrain, to)
    length = np.hypot(x1 - x0, y1 - y0)
    if count is None:
        straight = cell[0] == to[0] or cell[1] == to[1]
        count = 1 if straight else 2 * int(np.ceil(length / 0.5))
    along = np.arange(count, -1, -1) / count
    ground = ground_at(terrain, x0 + (x1 - x0) * along, y0 + (y1 - y0) * along)
    for k, z in enumerate(ground):
        level = min(level if k == 0 else level - LEAST * length / count, z)
        if level < z - SLACK - 1e-9:
            return -np.inf
    return level


def swept(terrain, rule, end):
    ground = make_ground(terrain, rule.slack)
    grid = make_grid(ground)
    leg = rule_from(ground, rule, xy_of(terrain, START))._replace(low=-9.0, high=9.0)
    leave = links(grid, xy_of(terrain, end), "to", None)
    return grid.field, grid.stencil, leg, leave


def inner(flat):
    grid = flat.reshape(ROWS + 2 * RIM, COLS + 2 * RIM)
    return grid[RIM:-RIM, RIM:-RIM]


@settings(max_examples=40, deadline=None)
@given(levels)
def test_highest_levels_equal_plain_repetition(z):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), 1.0)
    reach = reach_of(*swept(terrain, GradeRule(lowest=LEAST, slack=SLACK), END))
    plain = plain_highest(terrain, END)
    assert np.allclose(inner(reach.highest), plain, atol=1e-9)
    assert reach.lowest.size == 0


@settings(max_examples=40, deadline=None)
@given(levels)
def test_a_falling_line_is_a_rising_one_upside_down(z):
    z = z + 0.3 * np.arange(COLS)
    terrain = Terrain.from_array(z, 1.0)
    mirror = Terrain.from_array(SLACK - z, 1.0)
    rising = reach_of(*swept(terrain, GradeRule(lowest=LEAST, slack=SLACK), END))
    falling = reach_of(*swept(mirror, GradeRule(highest=-LEAST, slack=SLACK), END))
    assert np.allclose(inner(falling.lowest), -inner(rising.highest), atol=1e-9)
    assert falling.highest.size == 0


@settings(max_examples=60, deadline=None)
@given(
    levels,
    st.sampled_from([GradeRule(lowest=LEAST, slack=SLACK), GradeRule(highest=-LEAST, slack=SLACK)]),
    st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLS - 1)).filter(START.__ne__),
)
def test_what_is_reached_is_what_a_search_reaches(z, rule, target):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), 1.0)
    ground = make_ground(terrain, rule.slack)
    leg = rule_from(ground, rule, xy_of(terrain, START))
    grid = make_grid(ground)
    back = links(grid, xy_of(terrain, START), "to", None)
    reached = inner(reached_from(grid.field, grid.stencil, leg, back))
    found = find_in_band(
        grid, xy_of(terrain, START), xy_of(terrain, target), rule, Prices(rule.vent_cost)
    )
    if reached[target]:
        assert isinstance(found, Walk)
    elif max(abs(target[0] - START[0]), abs(target[1] - START[1])) > 2 * RIM:
        # Nearer ones a link to an end may still reach, a knight's move aside.
        around = reached[
            max(target[0] - RIM, 0) : target[0] + RIM + 1,
            max(target[1] - RIM, 0) : target[1] + RIM + 1,
        ]
        assert isinstance(found, Miss) or np.any(around)


@pytest.mark.parametrize(
    "rule", [GradeRule(), GradeRule(lowest=0.02, vent_cost=9.0), GradeRule(lowest=-0.2)]
)
def test_no_limit_where_a_line_may_rise_and_fall(rule):
    terrain = Terrain.from_array(np.tile(0.1 * np.arange(COLS), (ROWS, 1)), 1.0)
    reach = reach_of(*swept(terrain, rule, END))
    assert reach.highest.size == reach.lowest.size == 0
    field, stencil, leg, _ = swept(terrain, rule, END)
    back = links(make_grid(make_ground(terrain, 0.0)), xy_of(terrain, START), "to", None)
    assert reached_from(field, stencil, leg, back) is None


def rough_dyke(rows=120, cols=160):
    """Rough land that rises to the east, and a dyke across all of it."""
    rng = np.random.default_rng(11)
    z = 0.1 * np.arange(cols) + rng.normal(0.0, 0.1, (rows, cols))
    z[:, 120] += 2.0
    return Terrain.from_array(z, 1.0)


@pytest.mark.parametrize(
    ("rule", "start", "end"),
    [
        (GradeRule(lowest=0.005, slack=0.7), (5.0, -60.0), (150.0, -60.0)),
        (GradeRule(highest=-0.005, slack=0.7), (150.0, -60.0), (5.0, -60.0)),
    ],
)
def test_the_nearest_miss_still_stands_at_the_foot_of_what_blocks(rule, start, end):
    with pytest.raises(NoRoute) as caught:
        find_route(rough_dyke(), start, end, rule)
    assert caught.value.obstacle == "grade"
    assert caught.value.where is not None
    assert caught.value.where[0] == pytest.approx(120.5, abs=2.0)
