"""Drive pipe: straight in plan and profile, and where on a supply line its chamber could stand."""

from collections.abc import Iterator

import numpy as np
from shapely.geometry import LineString

from planner.errors import NoRoute
from planner.profile.along import profile_along
from planner.profile.lay import Laid, lay_straight
from planner.profile.value import Profile
from planner.routing.ground import Ground, band_at, make_ground
from planner.routing.land import Land
from planner.routing.way import Place, Way
from planner.site.value import Laying

LENGTH_TO_FALL = (3.0, 10.0)  # sources disagree: 3-7, 5-10 in a US bulletin
SHORTEST = 3.0  # m, from chamber to ram
WORTH = 0.5  # of the fall down to the ram, or the chamber costs more than it mends
CHAMBER_STEP = 1.0  # m along the supply line


def find_drive(land: Land, start: Place, end: Place) -> Way:
    """The straight pipe from chamber to ram.

    Raises
    ------
    NoRoute
        It would cross a closed area or a hole in the elevation data, or has no length.
    """
    return Way(_drive(make_ground(land.terrain, 0.0, land.cost), start, end), rule_kept=True)


def chamber_on(
    land: Land, supply: Profile, ram: Place, laying: Laying, *, beyond: float = 0.0
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
    beyond : float
        How far along the supply line at least [m]: past the points the line must pass.

    Returns
    -------
    (float, float) or None
        x, y [m]; None where no place gives a length of 3 to 10 falls close to the ground and half
        of the fall there is: a ram starves on less, and a long drive pipe is the lesser evil.
    """
    ground = make_ground(land.terrain, 0.0, land.cost)
    fitting = [
        (fall, place)
        for place in _places(supply, ram, beyond)
        if (fall := _fall(ground, place, ram, laying)) is not None
    ]
    fall, best = max(fitting, key=lambda found: found[0], default=(0.0, None))
    there = float(np.interp(beyond, supply.run, supply.ground) - supply.ground[-1])
    return best if fall >= WORTH * there else None


def _places(supply: Profile, ram: Place, beyond: float) -> Iterator[Place]:
    for run in np.arange(beyond, supply.run[-1] - SHORTEST, CHAMBER_STEP):
        x, y = supply.xy[int(np.searchsorted(supply.run, run))]
        if np.hypot(x - ram[0], y - ram[1]) >= SHORTEST:
            yield float(x), float(y)


def _fall(ground: Ground, place: Place, ram: Place, laying: Laying) -> float | None:
    """Fall [m] of a drive pipe from a place, if it can be laid and has a length to suit."""
    try:
        drive = _drive(ground, place, ram).profile
    except NoRoute:
        return None
    fall = float(drive.pipe[0] - drive.pipe[-1])
    low, high = laying.least_cover, laying.deepest_trench
    if fall <= 0.0 or not np.all((drive.depth >= low) & (drive.depth <= high)):
        return None
    shortest, longest = LENGTH_TO_FALL
    return fall if shortest <= drive.length / fall <= longest else None


def _drive(ground: Ground, start: Place, end: Place) -> Laid:
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
