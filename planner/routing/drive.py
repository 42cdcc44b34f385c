"""Drive pipe: straight in plan and profile, and where on a supply line its chamber could stand."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.errors import NoRoute
from planner.profile.along import profile_along
from planner.profile.lay import Laid, lay_straight
from planner.profile.value import FloatArray, Profile
from planner.routing.drive_bend import bent_drive
from planner.routing.drive_rule import DriveRule, drive_rule, drives
from planner.routing.ground import Ground, band_at, make_ground
from planner.routing.land import Land
from planner.routing.way import Place, Way
from planner.site.value import Laying

SHORTEST = 3.0  # m, from chamber to ram
WORTH = 0.5  # of the fall down to the ram, or the chamber costs more than it mends
CHAMBER_STEP = 1.0  # m along the supply line


def find_drive(land: Land, start: Place, end: Place, *, bend: DriveRule | None = None) -> Way:
    """The straight pipe from chamber to ram, or on request one with a single bend.

    Parameters
    ----------
    bend : DriveRule, optional
        Where the straight pipe leaves the ground farther than this allows, one bend is taken that
        keeps it, if there is such a one. None: straight, whatever the ground.

    Raises
    ------
    NoRoute
        It would cross a closed area or a hole in the elevation data, or has no length.
    """
    ground = make_ground(land.terrain, 0.0, land.cost)
    if bend is not None and start != end and not _lies_clear(ground, start, end, bend):
        bent = bent_drive(ground, start, end, bend)
        if bent is not None:
            return Way(bent, rule_kept=True)
    return Way(_straight(ground, start, end), rule_kept=True)


def chamber_on(
    land: Land,
    supply: Profile,
    ram: Place,
    laying: Laying,
    *,
    bores: Sequence[float] = (),
    beyond: float = 0.0,
) -> Place | None:
    """Where on the supply line a chamber gives the straight drive pipe most fall.

    Parameters
    ----------
    supply : Profile
        A falling line from the source to the ram.
    ram : (float, float)
        x, y [m].
    laying : Laying
        How far a drive pipe may be propped and dug in.
    bores : sequence of float
        Of the drive pipes that can be had [m]. A place from which the length suits one of them is
        preferred to any other.
    beyond : float
        How far along the supply line at least [m]: past the points the line must pass.

    Returns
    -------
    (float, float) or None
        x, y [m]; None where no place gives a length of 3 to 10 falls close to the ground and half
        of the fall there is: a ram starves on less, and a long drive pipe is the lesser evil.
    """
    ground = make_ground(land.terrain, 0.0, land.cost)
    places = _places(supply, ram, beyond)
    there = float(np.interp(beyond, supply.run, supply.ground) - supply.ground[-1])
    for rule in dict.fromkeys((drive_rule(laying, bores), drive_rule(laying))):
        found = drives(ground, places, [ram], rule)
        best = int(np.argmax(found.fall)) if found.fall.size else -1
        if best >= 0 and found.fall[best] >= WORTH * there:
            x, y = places[found.chamber[best]]
            return float(x), float(y)
    return None


def _places(supply: Profile, ram: Place, beyond: float) -> FloatArray:
    """(n, 2) places along the supply line, a step apart."""
    runs = np.arange(beyond, supply.run[-1] - SHORTEST, CHAMBER_STEP)
    xy = supply.xy[np.searchsorted(supply.run, runs)]
    away: FloatArray = xy[np.hypot(xy[:, 0] - ram[0], xy[:, 1] - ram[1]) >= SHORTEST]
    return away


def _lies_clear(ground: Ground, start: Place, end: Place, rule: DriveRule) -> bool:
    """Whether the straight pipe keeps to the ground, be its length what it may."""
    anyhow = replace(rule, bores=(), length_to_fall=(0.0, np.inf))
    return drives(ground, [start], [end], anyhow).fall.size > 0


def _straight(ground: Ground, start: Place, end: Place) -> Laid:
    if start == end:
        msg = "the drive pipe has no length: chamber and ram stand at the same point"
        raise NoRoute(msg, obstacle="grade", where=start, shortfall=0.0)
    profile = profile_along(ground.terrain, LineString([start, end]))
    shut = np.flatnonzero(np.isnan(band_at(ground, profile.xy)[0]))
    if shut.size:
        first = int(shut[0])
        where = (float(profile.xy[first, 0]), float(profile.xy[first, 1]))
        hole = bool(np.isnan(profile.ground[shut]).any())
        what = "a hole in the elevation data" if hole else "a closed area"
        msg = f"the drive pipe runs straight from chamber to ram and would cross {what}"
        wide = float(profile.run[shut[-1]] - profile.run[first])
        raise NoRoute(msg, obstacle="void" if hole else "closed", where=where, shortfall=wide)
    return lay_straight(profile)
