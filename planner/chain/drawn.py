"""A line drawn by hand or walked: laid where it is, not routed."""

from pathlib import Path

import numpy as np
from shapely.geometry import LineString

from planner.chain.on_data import refuse_off_data
from planner.profile.along import profile_along
from planner.profile.lay import Laid, lay, lay_straight
from planner.profile.value import Profile
from planner.record.value import Line
from planner.site.defaults import default_line
from planner.site.line_file import read_line
from planner.site.value import Laying, LineRole
from planner.terrain.frame import to_local
from planner.terrain.read import read_terrain
from planner.terrain.value import Terrain


def read_drawn(
    dem: Path, file: Path, *, role: LineRole = "main", crs: str | None = None
) -> tuple[Terrain, Line]:
    """The ground around a line in a file, and the line laid on it.

    Parameters
    ----------
    dem : path
        An elevation file.
    file : path
        GeoJSON, GPX track or route, or KML.
    crs : str, optional
        Coordinate system of an elevation file that carries none.

    Raises
    ------
    InputError
        Either file can't be used, or the line leaves the elevation data.
    """
    lonlat = read_line(file)
    terrain = read_terrain(dem, around=lonlat.bounds, crs=crs)
    return terrain, drawn_line(terrain, lonlat, role)


def drawn_line(terrain: Terrain, lonlat: LineString, role: LineRole = "main") -> Line:
    """Lay a line in the direction it is drawn, in the usual trench of its role.

    Parameters
    ----------
    lonlat : shapely.LineString
        Longitude, latitude [degrees]; heights in it are left aside, they are no levels.
    role : str
        A delivery's start is a ram, where air can't leave; other ends are open. A drive pipe is
        rigid and lies straight from end to end.

    Raises
    ------
    TerrainError
        The line leaves the elevation data or crosses a hole in it.
    SketchError
        The line has no length.
    """
    settings = default_line(role)
    xy = to_local(terrain, np.array(lonlat.coords)[:, :2])
    profile = profile_along(terrain, xy)
    refuse_off_data(terrain, profile)
    laid = _laid(profile, role, settings.laying)
    return Line(
        name=role,
        role=role,
        start="start",
        end="end",
        settings=settings,
        profile=laid.profile,
        high_points=laid.high_points,
        low_points=laid.low_points,
        flats=laid.flats,
        rule_kept=not laid.high_points,
    )


def _laid(profile: Profile, role: LineRole, laying: Laying) -> Laid:
    if role == "drive":
        return lay_straight(profile)
    return lay(
        profile,
        cover=laying.least_cover,
        slack=laying.slack,
        least=laying.least_grade,
        start="closed" if role == "delivery" else "open",
    )
