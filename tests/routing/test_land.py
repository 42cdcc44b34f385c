"""Areas burnt into the ground: closed, costly, shallow, and the parcel to stay on."""

import numpy as np
import pytest
import shapely
from shapely.geometry import LineString, Polygon, box

from planner.routing.land import make_land
from planner.site.defaults import default_line
from planner.site.value import Laying
from planner.terrain.sample import bilinear, cell_centre, grid_position
from planner.terrain.value import Terrain

BURIED = Laying("buried", least_cover=0.5, deepest_trench=1.2, least_grade=0.005)


def ground(rows=30, cols=40):
    return Terrain.from_array(np.zeros((rows, cols)), 1.0, origin=(100.0, 200.0))


def cells_inside(terrain, shape):
    """(rows, cols) whether a cell's square and the shape share any area: by trying each."""
    rows, cols = terrain.shape
    inside = np.zeros((rows, cols), bool)
    for r, c in np.ndindex(rows, cols):
        x, y = cell_centre(terrain, r, c)
        inside[r, c] = box(x - 0.5, y - 0.5, x + 0.5, y + 0.5).intersection(shape).area > 1e-9
    return inside


LOZENGE = Polygon([(110.0, 185.3), (121.4, 192.2), (126.0, 180.0), (113.7, 176.1)])


def test_avoid_closes_every_cell_it_touches():
    terrain = ground()
    land = make_land(terrain, avoid=[LOZENGE])
    closed = np.isinf(land.cost)
    inside = cells_inside(terrain, LOZENGE)
    assert np.all(closed[inside])
    # And no cell a whole cell away from it.
    far = ~cells_inside(terrain, LOZENGE.buffer(1.5))
    assert not np.any(closed & far)


def test_a_sliver_thinner_than_a_cell_is_a_wall_without_gaps():
    terrain = ground()
    wall = LineString([(100.2, 171.3), (139.6, 199.1)]).buffer(0.01)
    closed = np.isinf(make_land(terrain, avoid=[wall]).cost)
    for t in np.linspace(0.0, 1.0, 500):
        row, col = grid_position(terrain, 100.2 + t * 39.4, 171.3 + t * 27.8)
        assert closed[int(row + 0.5), int(col + 0.5)]


def test_overlapping_costly_areas_take_the_dearest_factor_and_the_shallowest_trench():
    terrain = ground()
    wide, small = box(105, 175, 130, 195), box(115, 180, 125, 190)
    land = make_land(terrain, costly=[(wide, 3.0, 0.7), (small, 2.0, 1.0)])
    row, col = (int(v) for v in grid_position(terrain, 120.5, 185.5))
    assert land.cost[row, col] == 3.0
    assert land.deepest[row, col] == 0.7
    assert land.cost[0, 0] == 1.0
    assert np.isinf(land.deepest[0, 0])


def test_a_costly_area_without_a_depth_limits_no_trench():
    land = make_land(ground(), costly=[(box(105, 175, 130, 195), 3.0, None)])
    assert np.all(np.isinf(land.deepest))
    assert np.all(land.slack(BURIED) == pytest.approx(0.7))


def test_between_cell_centres_the_trench_is_nowhere_too_deep_in_rock():
    terrain = ground()
    land = make_land(terrain, costly=[(LOZENGE, 4.0, 0.8)])
    rng = np.random.default_rng(2)
    x, y = rng.uniform(101, 139, 4000), rng.uniform(171, 199, 4000)
    slack = bilinear(land.slack(BURIED), *grid_position(terrain, x, y))
    inside = shapely.contains_xy(LOZENGE, x, y)
    assert np.any(inside)
    assert np.all(slack[inside] <= 0.3 + 1e-12)
    assert slack.max() == pytest.approx(0.7)


@pytest.mark.parametrize(("depth", "slack"), [(0.9, 0.4), (0.5, 0.0), (0.2, 0.0), (2.0, 0.7)])
def test_slack_is_trench_less_cover_and_never_negative(depth, slack):
    land = make_land(ground(), costly=[(box(0, 0, 500, 500), 2.0, depth)])
    assert np.all(land.slack(BURIED) == pytest.approx(slack))


def test_a_line_on_the_surface_has_its_props_for_slack():
    laying = default_line("delivery", "summer").laying
    assert np.all(make_land(ground()).slack(laying) == pytest.approx(0.3))


def test_stay_leaves_open_what_lies_wholly_inside_any_parcel():
    terrain = ground()
    west, east = box(102.3, 172.3, 118.0, 198.0), box(125.0, 172.0, 138.0, 198.0)
    land = make_land(terrain, stay=[west, east])
    open_cells = np.isfinite(land.cost)
    for r, c in np.ndindex(*terrain.shape):
        x, y = cell_centre(terrain, r, c)
        square = box(x - 0.5, y - 0.5, x + 0.5, y + 0.5)
        if open_cells[r, c]:
            assert west.contains(square) or east.contains(square)
        elif west.buffer(-1.5).contains(square) or east.buffer(-1.5).contains(square):
            pytest.fail("a cell well inside the parcel is closed")


def test_avoid_inside_the_parcel_stays_closed():
    land = make_land(ground(), stay=[box(101, 171, 139, 199)], avoid=[LOZENGE])
    row, col = (int(v) for v in grid_position(ground(), 118.0, 184.0))
    assert np.isinf(land.cost[row, col])


def test_areas_outside_the_data_change_nothing():
    land = make_land(
        ground(), avoid=[box(900, 900, 950, 950)], costly=[(box(-50, 0, -10, 9), 5.0, 0.1)]
    )
    assert np.all(land.cost == 1.0)
    assert np.all(np.isinf(land.deepest))
