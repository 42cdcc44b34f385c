"""After warming up nothing is left to compile, whatever line is looked for."""

import numpy as np

from planner.errors import NoRoute
from planner.grade import kernel
from planner.grade.rule import GradeRule
from planner.routing import ahead_kernel, follow_kernel, search_kernel
from planner.routing.delivery import find_delivery
from planner.routing.find import find_route
from planner.routing.full import find_full
from planner.routing.supply import find_falling
from planner.routing.warm import warm_up
from tests.routing.ground import BURIED, hump, land, slope

ENTRIES = (  # the compiled functions that are called from Python
    kernel.fewest_joints,
    kernel.shallowest_levels,
    kernel.rise_shortfall,
    ahead_kernel.highest_levels,
    ahead_kernel.cost_ahead,
    follow_kernel.follow,
    search_kernel.search,
)


def compiled():
    """How many signatures each has."""
    return [len(function.signatures) for function in ENTRIES]


def test_no_finder_compiles_after_the_warm_up():
    warm_up()
    before = compiled()
    assert all(before)
    west, east = (5.0, -30.0), (92.0, -30.0)
    for ground in (land(slope()), land(slope(0.02) + hump(2.5))):
        find_delivery(ground, west, east, BURIED)
        find_falling(ground, east, west, BURIED)
        find_full(ground, east, west, BURIED)
    cost = np.ones(ground.terrain.shape)
    cost[:, 50] = np.inf
    for rule in (GradeRule(), GradeRule(lowest=0.001), GradeRule(lowest=-0.4, highest=0.4)):
        try:
            find_route(ground.terrain, west, east, rule, cost)
        except NoRoute:
            continue
    assert compiled() == before
