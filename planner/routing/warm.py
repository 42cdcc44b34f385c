"""Compiling the kernels ahead of their first use; from then on they come from numba's cache."""

import numpy as np

from planner.grade.rule import GradeRule
from planner.profile.along import profile_along
from planner.profile.lay import lay, lay_falling
from planner.routing.find import find_route
from planner.terrain.value import Terrain

ENDS = (1.5, -1.5), (6.5, -6.5)


def warm_up() -> None:
    """Route and lay lines over eight by eight cells, one over a crest: every kernel is compiled."""
    tiny = Terrain.from_array(np.tile(0.1 * np.arange(8.0), (8, 1)), 1.0)
    find_route(tiny, *ENDS, GradeRule(lowest=0.005, slack=0.5))
    route = find_route(tiny, *ENDS, GradeRule(lowest=0.005, slack=0.5, vent_cost=10.0))
    profile = profile_along(tiny, route.line)
    roof = Terrain.from_array(np.tile(-np.abs(np.arange(8.0) - 3.5), (8, 1)), 1.0)
    lay(profile_along(roof, route.line), cover=0.5, slack=0.5, least=0.005)
    lay_falling(profile, cover=0.5, slack=0.5, least=0.005)
