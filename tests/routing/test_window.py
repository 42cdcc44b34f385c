"""Windows of the ground: what is found in one is what is found on the whole."""

import numpy as np
import pytest

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.find import find_route
from planner.routing.ground import make_ground
from planner.routing.window import windows
from planner.terrain.sample import cell_centre
from planner.terrain.value import Terrain

HERE, THERE = (1150.0, 4860.0), (1175.0, 4850.0)


def wide(rows=260, cols=330):
    rng = np.random.default_rng(5)
    z = 0.05 * np.arange(cols)[None, :] + rng.normal(0.0, 0.02, (rows, cols))
    return Terrain.from_array(z, 1.0, origin=(1000.0, 5000.0))


def test_windows_grow_to_the_whole_and_keep_their_place():
    ground = make_ground(wide(), 0.3)
    seen = list(windows(ground, HERE, THERE))
    assert len(seen) > 2
    assert seen[-1].ground is ground
    assert seen[-1].outside == np.inf
    bounds = [w.outside for w in seen]
    assert bounds == sorted(bounds)
    for window in seen:
        part = window.ground.terrain
        x, y = cell_centre(part, 3, 4)
        row, col = round(5000.0 - float(y) - 0.5), round(float(x) - 1000.0 - 0.5)
        assert part.z[3, 4] == ground.terrain.z[row, col]


def test_a_way_round_outside_the_first_window_is_found():
    cost = np.ones((260, 330))
    cost[20:240, 162:164] = np.inf  # a wall far longer than the first window is wide
    route = find_route(wide(), HERE, THERE, GradeRule(), cost)
    assert route.length > 190.0
    cost[:, 162:164] = np.inf
    with pytest.raises(NoRoute) as caught:
        find_route(wide(), HERE, THERE, GradeRule(), cost)
    assert caught.value.obstacle == "closed"


def test_dear_ground_does_not_hide_a_cheaper_way_outside():
    cost = np.full((260, 330), 40.0)
    cost[:20, :] = 1.0
    cost[:, 145:152] = 1.0
    cost[:, 173:180] = 1.0
    route = find_route(wide(), HERE, THERE, GradeRule(), cost)
    assert max(y for _, y in route.line.coords) > 4979.0
