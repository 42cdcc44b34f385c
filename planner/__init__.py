"""headfall: plan rural water lines by gravity and hydraulic ram on an elevation model.

The public names load lazily, so that `headfall --help` needs no numpy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.grade.rule import GradeRule
    from planner.plan import make_plan
    from planner.profile.along import profile_along
    from planner.profile.lay import high_points
    from planner.routing.find import find_route
    from planner.site.read import read_site
    from planner.terrain.read import read_terrain
    from planner.terrain.value import Terrain

__version__ = "0.1.0"

_HOMES = {
    "GradeRule": "planner.grade.rule",
    "Terrain": "planner.terrain.value",
    "find_route": "planner.routing.find",
    "high_points": "planner.profile.lay",
    "make_plan": "planner.plan",
    "profile_along": "planner.profile.along",
    "read_site": "planner.site.read",
    "read_terrain": "planner.terrain.read",
}

__all__ = [
    "GradeRule",
    "Terrain",
    "find_route",
    "high_points",
    "make_plan",
    "profile_along",
    "read_site",
    "read_terrain",
]


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        msg = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(msg)
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted([*globals(), *_HOMES])
