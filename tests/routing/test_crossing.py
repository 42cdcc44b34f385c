"""Crossing a road or a stream costs its price, whatever the cells, the moves and the direction."""

from functools import cache

import numpy as np
import pytest
from shapely.geometry import LineString, box

from planner.routing.crossing import crossing_prices
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.land import make_land
from planner.routing.plain import find_plain
from planner.routing.walk import Walk
from planner.terrain.value import Terrain

PRICE = 20.0
ROWS, COLS = 42, 51
NEIGHBOURS = [8, 16, pytest.param(32, marks=pytest.mark.slow)]
CELLS = [(1.0, 1.0), (5.0, 5.0), (2.0, 0.7)]


@cache
def flat(cell):
    return Terrain.from_array(np.zeros((ROWS, COLS)), cell, origin=(300.0, 700.0))


def cost_between(terrain, start, end, neighbours, lines=()):
    cost = make_land(terrain, crossings=[(line, PRICE) for line in lines]).cost
    grid = make_grid(make_ground(terrain, 0.0, cost), neighbours)
    walk = find_plain(grid, (float(start[0]), float(start[1])), (float(end[0]), float(end[1])))
    assert isinstance(walk, Walk)
    return walk.cost


def straight(terrain, angle, off):
    """A line through the middle of the land at an angle, its direction and its normal."""
    west, south, east, north = terrain.bounds
    ahead = np.array([np.cos(angle), np.sin(angle)])
    middle = np.array([(west + east) / 2, (south + north) / 2]) + off
    far = 2.0 * (east - west + north - south)
    line = LineString([middle - far * ahead, middle + far * ahead])
    return line, middle, ahead, np.array([-ahead[1], ahead[0]])


def angles(cell):
    """Along the cells and their diagonals, a little off both, and anyhow."""
    diagonal = np.arctan2(cell[1], cell[0])
    rng = np.random.default_rng(7)
    return [0.0, 0.05, np.pi / 2, np.pi / 2 - 0.07, diagonal, -diagonal, *rng.uniform(0, 3.14, 6)]


@pytest.mark.parametrize("neighbours", NEIGHBOURS)
@pytest.mark.parametrize("cell", CELLS)
def test_each_crossing_costs_about_its_price(cell, neighbours):
    terrain = flat(cell)
    rng = np.random.default_rng(3)
    extras = []
    for k, angle in enumerate(angles(cell)):
        # By turns through centres, along edges and corners, and anyhow.
        off = ((0.0, 0.0), np.array(cell) / 2, rng.uniform(-1, 1, 2) * cell)[k % 3]
        line, middle, ahead, aside = straight(terrain, angle, off)
        away = 8.0 * min(cell)
        one, two = rng.uniform(-away, away, 2)
        start = middle + away * aside + one * ahead
        end = middle - away * aside + two * ahead
        free = cost_between(terrain, start, end, neighbours)
        extras.append(cost_between(terrain, start, end, neighbours, [line]) - free)
    assert min(extras) > 0.7 * PRICE
    assert max(extras) < (1.7 if neighbours == 8 else 1.6) * PRICE
    assert np.median(extras) == pytest.approx(PRICE, rel=0.15)


@pytest.mark.parametrize("neighbours", NEIGHBOURS)
def test_a_stream_from_centre_to_centre_is_never_leapt_over(neighbours):
    """As streams are found in the ground: steps to one of eight neighbours, corners passed."""
    terrain = flat((1.0, 1.0))
    row, path = 20, []
    rng = np.random.default_rng(5)
    for col in range(COLS):
        path.append((300.5 + col, 699.5 - row))
        row += int(rng.integers(-1, 2))
    stream = LineString(path)
    extras = [
        cost_between(terrain, (x, 690.0), (x + turn, 665.0), neighbours, [stream])
        - cost_between(terrain, (x, 690.0), (x + turn, 665.0), neighbours)
        for x in np.arange(305.0, 340.0, 7.7)
        for turn in (-4.0, 0.0, 4.0)
    ]
    assert min(extras) > 0.7 * PRICE
    assert max(extras) < 1.7 * PRICE


def test_the_price_comes_on_top_of_dear_ground():
    terrain = flat((1.0, 1.0))
    road = LineString([(300.0, 680.3), (351.0, 680.3)])
    rock = box(300, 670, 351, 690)
    land = make_land(terrain, costly=[(rock, 3.0, None)], crossings=[(road, PRICE)])
    assert land.cost[19, 10] == 3.0 + PRICE  # one cell of 1 m thick
    assert land.cost[18, 10] == 3.0
    assert land.cost[0, 0] == 1.0


def test_along_the_line_every_cell_s_width_costs_as_much():
    terrain = flat((5.0, 5.0))
    road = LineString([(300.0, 622.0), (555.0, 622.0)])
    prices = crossing_prices(terrain, [(road, PRICE)])
    assert prices is not None
    row = int((700.0 - 622.0) / 5.0)
    assert np.all(prices[row] == PRICE / 5.0)
    assert np.count_nonzero(prices) == COLS


def test_a_route_runs_beside_a_road_not_on_it():
    terrain = flat((1.0, 1.0))
    road = LineString([(300.0, 680.3), (351.0, 680.3)])
    along = cost_between(terrain, (303.0, 680.3), (347.0, 680.3), 16, [road])
    assert along < 44.0 + 1.1 * PRICE  # out of the road and in again, half of it each time


def test_a_line_that_ends_in_the_stream_pays_for_it_once_at_most():
    terrain = flat((1.0, 1.0))
    stream = LineString([(300.0, 680.5), (351.0, 680.5)])
    for start in ((320.0, 680.5), (320.5, 680.1), (320.3, 680.9)):
        extra = cost_between(terrain, start, (325.0, 690.0), 16, [stream])
        extra -= cost_between(terrain, start, (325.0, 690.0), 16)
        assert extra <= 1.05 * PRICE


def test_where_lines_share_a_cell_the_dearest_counts():
    terrain = flat((1.0, 1.0))
    road = LineString([(300.0, 680.5), (351.0, 680.5)])
    ditch = LineString([(320.5, 700.0), (320.5, 658.0)])
    both = crossing_prices(terrain, [(road, 30.0), (ditch, 8.0)])
    assert both is not None
    assert both[19, 20] == 30.0
    assert both[5, 20] == 8.0


@pytest.mark.parametrize(
    "crossings",
    [[], [(LineString([(0, 0), (1, 1)]), 0.0)]],
)
def test_nothing_to_cross_adds_nothing(crossings):
    assert crossing_prices(flat((1.0, 1.0)), crossings) is None
    assert np.all(make_land(flat((1.0, 1.0)), crossings=crossings).cost == 1.0)


def test_a_line_off_the_data_changes_nothing():
    land = make_land(flat((1.0, 1.0)), crossings=[(LineString([(0, 0), (9, 9)]), PRICE)])
    assert np.all(land.cost == 1.0)


def test_a_line_that_runs_off_the_edge_costs_its_price_to_the_last_cell():
    terrain = flat((1.0, 1.0))
    prices = crossing_prices(terrain, [(LineString([(290, 680.4), (400, 680.4)]), PRICE)])
    assert prices is not None
    assert np.all(prices[19, [0, -1]] == PRICE)


def test_a_closed_cell_stays_closed():
    road = LineString([(300.0, 680.3), (351.0, 680.3)])
    land = make_land(flat((1.0, 1.0)), avoid=[box(310, 670, 312, 690)], crossings=[(road, PRICE)])
    assert np.isinf(land.cost[19, 11])
