"""Compiling the kernels ahead of their first use; from then on they come from numba's cache.

Lines of every kind are found on land so small that nothing but the compiling takes time. A page can
have it done in a thread while its reader looks around. The cache stands beside the kernels, or,
where that folder can't be written, in the user's cache folder.
"""

from contextlib import suppress
from functools import cache

import numpy as np

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.profile.along import profile_along
from planner.profile.lay import lay, lay_falling
from planner.routing.band import Prices
from planner.routing.band_field import band_field
from planner.routing.coarse import make_coarse
from planner.routing.corridor import corridors
from planner.routing.drive import chamber_on, find_drive
from planner.routing.drive_rule import drive_rule, drives
from planner.routing.find import find_route
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground, slope_at
from planner.routing.land import make_land
from planner.routing.plain import cost_field
from planner.routing.rising import falling_field, rising_field
from planner.site.value import Laying
from planner.terrain.value import FloatArray, Terrain

LEAST = 0.005
SIDE, WIDE = 24, 96  # cells
HIGH, LOW = (21.5, -12.3), (2.5, -11.7)
RULES = (
    GradeRule(),
    GradeRule(lowest=LEAST, slack=0.5),
    GradeRule(highest=-LEAST, slack=0.5),
    GradeRule(lowest=LEAST, slack=0.5, vent_cost=5.0),
    GradeRule(lowest=-0.3, highest=0.3, slack=0.5),
)


@cache
def warm_up() -> None:
    """Find and lay a line of each kind over a few hundred cells: every kernel is compiled.

    Once in a process; asked again, nothing is left to do.
    """
    east = np.tile(0.15 * np.arange(SIDE), (SIDE, 1))
    for z in (east, east + 2.0 * (np.arange(SIDE) == 12)):  # a ramp, and one with a dyke across
        terrain = Terrain.from_array(z, 1.0)
        for rule in RULES:
            _route(terrain, rule)
        _fields(terrain)
        _lay(terrain)
    _drives(terrain)
    _corridors()


def _route(terrain: Terrain, rule: GradeRule) -> None:
    """Both ways, with and without prices, depths cell by cell and a limit across the slope."""
    cost: FloatArray = np.where(np.arange(SIDE) == 8, 2.0, 1.0) * np.ones((SIDE, 1))
    slack = np.full(terrain.shape, rule.slack)
    for ends in ((LOW, HIGH), (HIGH, LOW)):
        with suppress(NoRoute):
            find_route(terrain, *ends, rule)
        with suppress(NoRoute):
            find_route(
                terrain,
                *ends,
                rule,
                cost,
                slack=slack,
                way=[(12.0, -5.0)],
                dig_cost=2.0,
                side_slope=5.0,
                begins="closed",
                least_leg=2.0,
            )


def _fields(terrain: Terrain) -> None:
    grid = make_grid(make_ground(terrain, 0.5))
    slope_at(grid.ground, np.array([LOW, HIGH]))
    cost_field(grid, HIGH).route_from(LOW)
    rising_field(grid, HIGH, LEAST).route_from(LOW)
    falling_field(grid, LOW, LEAST).route_from(HIGH)
    field = band_field(grid, HIGH, RULES[1], Prices())
    if field is not None:
        field.cost()
        field.line(LOW)


def _corridors() -> None:
    """Of ground so wide that a corridor leaves some of it out."""
    ground = make_ground(Terrain.from_array(np.zeros((WIDE, WIDE)), 1.0), 0.5)
    for part in corridors(ground, make_coarse(ground, 4, vent_cost=5.0), LOW, HIGH, width=8.0):
        part.proves(np.inf)


def _lay(terrain: Terrain) -> None:
    for ends in ((LOW, HIGH), (HIGH, LOW)):
        profile = profile_along(terrain, np.array(ends))
        lay(profile, cover=0.5, slack=0.5, least=LEAST)
        lay_falling(profile, cover=0.5, slack=0.5, least=LEAST)


def _drives(terrain: Terrain) -> None:
    land, laying = make_land(terrain), Laying("surface", -0.5, 0.5, LEAST)
    rule = drive_rule(laying, [0.05])
    find_drive(land, HIGH, LOW, bend=rule)
    chamber_on(land, profile_along(terrain, np.array([HIGH, LOW])), LOW, laying, bores=[0.05])
    drives(make_ground(terrain, 0.0), [HIGH], [LOW], rule)
