"""Drive pipe: straight in plan and profile, and where on a supply line its chamber could stand."""

import numpy as np
from shapely.geometry import LineString

from planner.profile.along import profile_along
from planner.profile.lay import lay_straight
from planner.profile.value import Profile
from planner.routing.way import Place, Way
from planner.site.value import Laying
from planner.terrain.value import Terrain

LENGTH_TO_FALL = (3.0, 10.0)  # sources disagree: 3-7, 5-10 in a US bulletin
SHORTEST = 3.0  # m, from chamber to ram
CHAMBER_STEP = 1.0  # m along the supply line


def find_drive(terrain: Terrain, start: Place, end: Place) -> Way:
    """The straight pipe from chamber to ram."""
    return Way(lay_straight(profile_along(terrain, LineString([start, end]))), rule_kept=True)


def chamber_on(terrain: Terrain, supply: Profile, ram: Place, laying: Laying) -> Place | None:
    """Where on the supply line a chamber gives the straight drive pipe most fall.

    Parameters
    ----------
    supply : Profile
        A falling line from the source to the ram.
    ram : (float, float)
        x, y [m].
    laying : Laying
        How far a drive pipe may be propped and dug in.

    Returns
    -------
    (float, float) or None
        x, y [m]; None where no place gives a length of 3 to 10 falls close to the ground.
    """
    best: tuple[float, Place] | None = None
    for run in np.arange(0.0, supply.run[-1] - SHORTEST, CHAMBER_STEP):
        k = int(np.searchsorted(supply.run, run))
        place = (float(supply.xy[k, 0]), float(supply.xy[k, 1]))
        if np.hypot(place[0] - ram[0], place[1] - ram[1]) < SHORTEST:
            continue
        drive = find_drive(terrain, place, ram).laid.profile
        fall = float(drive.pipe[0] - drive.pipe[-1])
        low, high = laying.least_cover, laying.deepest_trench
        near = bool(np.all((drive.depth >= low) & (drive.depth <= high)))
        if not (near and fall > 0.0 and LENGTH_TO_FALL[0] <= drive.length / fall):
            continue
        if drive.length / fall <= LENGTH_TO_FALL[1] and (best is None or fall > best[0]):
            best = (fall, place)
    return None if best is None else best[1]
