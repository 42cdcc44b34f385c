"""Which ground of a line was levelled, and which is the elevation data's."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString, Point

from planner.levels.value import Survey
from planner.profile.value import FloatArray, Profile

NEAR = 3.0  # m; a station so near a line stands on it
APART = 30.0  # m; ground between stations nearer than this counts as levelled


@dataclass(frozen=True, slots=True)
class Station:
    """A levelled station on a line: its run [m] and its level [m]."""

    name: str
    run: float
    level: float


def stations_on(profile: Profile, survey: Survey | None) -> tuple[Station, ...]:
    """The levelled stations that stand on a line, along it."""
    if survey is None:
        return ()
    path = LineString(profile.xy)
    found = [
        Station(one.name, float(path.project(Point(one.xy))), one.level)
        for one in survey.stations
        if path.distance(Point(one.xy)) <= NEAR
    ]
    return tuple(sorted(found, key=lambda one: one.run))


def levelled_ground(profile: Profile, stations: tuple[Station, ...]) -> FloatArray:
    """(n,) the ground between neighbouring levelled stations [m], NaN elsewhere."""
    shown = np.full(profile.run.size, np.nan)
    for one, following in pairwise(stations):
        if following.run - one.run <= APART:
            between = (profile.run >= one.run - 0.3) & (profile.run <= following.run + 0.3)
            shown[between] = profile.ground[between]
    return shown
