"""What a finding is about: its line, the point of it where the pipe turns, places on the map."""

import numpy as np

from planner.record.value import Finding, Line, Plan
from planner.site.edits.value import LonLat
from planner.terrain.frame import to_lonlat

SAME = 0.01  # m; one and the same place of a line
DEGREE = 7  # decimals; a centimetre


def line_of(plan: Plan, finding: Finding) -> Line | None:
    """The line a finding is about, None where it names none."""
    return next((line for line in plan.lines if line.name == finding.line), None)


def sample_of(line: Line, finding: Finding) -> int | None:
    """The sample of a line at which a finding stands, None where it tells no place."""
    if finding.chainage_m is None:
        return None
    away = np.abs(line.profile.chainage - finding.chainage_m)
    index = int(np.argmin(away))
    return index if away[index] < SAME else None


def lonlat_at(plan: Plan, xy: tuple[float, float]) -> LonLat:
    """Longitude and latitude of a place on the terrain, to the centimetre."""
    lon, lat = to_lonlat(plan.terrain, np.array([xy]))[0].tolist()
    return round(lon, DEGREE), round(lat, DEGREE)
