"""The nearest miss, planted: so much deeper a trench there, and the line is found."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.find import find_route
from planner.routing.ground import make_ground
from planner.routing.shortfall import edge_cells, shortfall
from planner.terrain.value import Terrain

ROWS, COLS = 50, 80
WEST, EAST = (5.3, -25.2), (70.1, -24.6)
GRADE, SLACK = 0.005, 0.3
X, Y = np.meshgrid(np.arange(COLS) + 0.5, -np.arange(ROWS) - 0.5)


def dyke(height, *, saddle=None):
    """Land that rises to the east by a tenth, with a dyke of one cell across it, lower in part."""
    z = 0.1 * X
    z[:, 40] += height
    if saddle is not None:
        z[30:36, 40] += saddle - height
    return Terrain.from_array(z, 1.0)


def missing(terrain, ends=(WEST, EAST), slack=SLACK):
    low, high = ends
    return shortfall(make_ground(terrain, slack), low, high, GRADE)


def by_hand(height):
    """At the bottom of the trench on the dyke, then a cell farther under the ground there."""
    return height - 0.1 - SLACK + GRADE


@pytest.mark.parametrize("height", [0.6, 2.0])
def test_a_dyke_is_short_by_its_height(height):
    short = missing(dyke(height))
    assert short is not None
    assert short.level == pytest.approx(by_hand(height), abs=1e-6)
    assert 40.5 <= short.where[0] <= 41.5


def test_the_lowest_saddle_is_named_though_it_lies_aside():
    short = missing(dyke(2.0, saddle=0.9))
    assert short is not None
    assert short.level == pytest.approx(by_hand(0.9), abs=1e-6)
    assert -36.0 <= short.where[1] <= -30.0


@pytest.mark.parametrize(("more", "found"), [(0.001, True), (-0.02, False)])
def test_so_much_deeper_and_the_line_is_found(more, found):
    short = missing(dyke(2.0, saddle=0.9))
    assert short is not None
    deeper = GradeRule(lowest=GRADE, slack=SLACK + short.level + more)
    try:
        find_route(dyke(2.0, saddle=0.9), WEST, EAST, deeper)
    except NoRoute:
        assert not found
    else:
        assert found


def test_nothing_is_missing_where_a_line_exists():
    assert missing(dyke(0.2)) is None


def test_the_edge_of_the_data_is_told_where_a_way_beyond_it_might_be():
    short = missing(dyke(2.0))
    assert short is not None
    assert short.edge is not None
    assert short.edge[1] in (-0.5, -ROWS + 0.5)
    assert short.edge[0] < 40.0  # before the dyke


def test_a_dyke_all_round_the_start_needs_no_more_data():
    away = np.hypot(X - WEST[0] - 10.0, Y - WEST[1])
    ring = Terrain.from_array(0.1 * X + 2.0 * (np.abs(away - 20.0) < 1.5), 1.0)
    inside = (WEST[0] + 10.0, WEST[1])
    short = missing(ring, (inside, EAST))
    assert short is not None
    assert short.level > 1.0
    assert short.edge is None


def test_a_pit_deeper_than_the_trench_holds_a_line_that_falls_from_it():
    """Upside down: the pit's rim is a dyke for a line from the pit; from below it is the end."""
    z = 0.1 * X
    z[20:29, 60:69] -= 3.0
    short = missing(Terrain.from_array(z, 1.0), ((64.5, -24.5), (66.5, -40.5)))
    assert short is None  # rising out of a pit is what rising lines do
    short = missing(Terrain.from_array(z, 1.0), (WEST, (64.5, -24.5)))
    assert short is not None
    assert short.level == pytest.approx(6.0 + GRADE * 5.0 - SLACK - z[24, 64], abs=0.5)


land = arrays(np.float64, (9, 11), elements=st.integers(0, 20).map(lambda v: v / 10))


@settings(max_examples=40, deadline=None)
@given(land)
def test_turned_round_a_rise_is_a_fall(z):
    terrain = Terrain.from_array(z + 0.2 * np.arange(11), (2.0, 3.0), origin=(100.0, 50.0))
    ends = (103.0, 45.5), (117.0, 27.5)
    turned = tuple((100.0 + 22.0 - (x - 100.0), y) for x, y in ends)
    mirror = Terrain.from_array(terrain.z[:, ::-1], (2.0, 3.0), origin=(100.0, 50.0))
    one, two = (missing(t, e, slack=0.1) for t, e in ((terrain, ends), (mirror, turned)))
    assert (one is None) == (two is None)
    if one is not None and two is not None:
        # Of many pieces that could be laid across some are tried, and not the mirrored same.
        assert one.level == pytest.approx(two.level, abs=0.05)


@settings(max_examples=40, deadline=None)
@given(land)
def test_what_is_missing_would_do(z):
    """Deeper by that and a little, for pieces off the grid's moves: then there is a line."""
    terrain = Terrain.from_array(z + 0.2 * np.arange(11), 2.0)
    ends = (3.0, -3.0), (19.0, -15.0)
    short = missing(terrain, ends, slack=0.1)
    if short is not None:
        assert missing(terrain, ends, slack=0.1 + short.level + 0.2) is None


def test_a_void_that_reaches_the_border_is_an_edge_and_one_inside_is_not():
    z = np.zeros((6, 7))
    z[0, 0:3] = z[1, 1] = z[4, 4] = np.nan
    whole = Terrain.from_array(z, 1.0)
    edge = edge_cells(whole, whole)
    assert edge[2, 1]
    assert edge[1, 2]
    assert not edge[3, 4]
    assert edge[3, 6]
    part = Terrain.from_array(z[1:5, 1:6], 1.0, origin=(1.0, -1.0))
    assert not edge_cells(part, whole).any()
