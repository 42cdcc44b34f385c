"""Whether a line keeps to the elevation data."""

import numpy as np

from planner.errors import TerrainError
from planner.profile.value import Profile
from planner.terrain.value import Terrain


def refuse_off_data(terrain: Terrain, profile: Profile, line: str = "the line") -> None:
    """Refuse a line that runs off the elevation data, or over a hole in it.

    Parameters
    ----------
    line : str
        What the line is called in the message.

    Raises
    ------
    TerrainError
        It tells which, and from where to where along the line.
    """
    west, south, east, north = terrain.bounds
    x, y = profile.xy.T
    off = np.flatnonzero((x < west) | (x > east) | (y < south) | (y > north))
    if off.size:
        msg = (
            f"{line} lies outside the elevation data from {_between(profile, off)} along it; bring "
            "data that covers it, or cut the line there"
        )
        raise TerrainError(msg)
    holes = np.flatnonzero(np.isnan(profile.ground))
    if holes.size:
        msg = (
            f"{line} crosses a hole in the elevation data from {_between(profile, holes)} along "
            "it; move the line or bring data that covers it"
        )
        raise TerrainError(msg)


def _between(profile: Profile, samples: np.ndarray) -> str:
    first, last = profile.chainage[samples[0]], profile.chainage[samples[-1]]
    return f"{first:.1f} m to {last:.1f} m"
