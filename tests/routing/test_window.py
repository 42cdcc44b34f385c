"""The window around two ends: cells keep their place, and the land between the ends is in it."""

import numpy as np
import pytest

from planner.routing.ground import make_ground
from planner.routing.window import window
from planner.terrain.sample import cell_centre, cell_of
from planner.terrain.value import Terrain

HERE, THERE = (1150.0, 4860.0), (1190.0, 4830.0)


def ground(rows=260, cols=330, cell=(1.0, 1.5)):
    z = 100.0 * np.arange(rows)[:, None] + np.arange(cols)[None, :]
    terrain = Terrain.from_array(z, cell, origin=(1000.0, 5000.0))
    cost = np.where(np.arange(cols) == 170, 3.0, 1.0) * np.ones((rows, 1))
    return make_ground(terrain, 0.3, cost)


def test_cells_keep_their_place_level_and_price():
    whole = ground()
    part = window(whole, HERE, THERE)
    assert part.terrain.z.size < whole.terrain.z.size / 2
    x, y = cell_centre(part.terrain, 7, 30)
    cell = cell_of(whole.terrain, float(x), float(y))
    assert cell is not None
    assert part.terrain.z[7, 30] == whole.terrain.z[cell]
    assert part.cost[7, 30] == whole.cost[cell]
    assert part.slack.size == 1


def test_it_reaches_as_far_again_as_the_ends_lie_apart():
    west, south, east, north = window(ground(), HERE, THERE).terrain.bounds
    assert west <= 1150.0 - 60.0  # forty cells of 1.5 m
    assert east >= 1190.0 + 60.0
    assert north >= 4860.0 + 60.0
    assert south <= 4830.0 - 60.0


@pytest.mark.parametrize("there", [(1001.0, 4999.0), (1329.0, 4611.0)])
def test_it_ends_where_the_ground_ends(there):
    whole = ground()
    part = window(whole, HERE, there)
    assert part.terrain.bounds[0] >= whole.terrain.bounds[0]
    assert part.terrain.bounds[1] >= whole.terrain.bounds[1]
    assert cell_of(part.terrain, *there) is not None
    assert window(whole, (1001.0, 4999.0), (1329.0, 4611.0)) is whole
