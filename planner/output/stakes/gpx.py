"""`stakes.gpx`: stakes as waypoints in order and each line as a track, for a handheld or phone."""

import datetime
from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np
from gpxpy.gpx import GPX, GPXBounds, GPXTrack, GPXTrackPoint, GPXTrackSegment, GPXWaypoint

from planner.output.look import ROLES
from planner.output.rounding import DEGREE, number
from planner.output.stakes.clean import one_line
from planner.output.stakes.thin import needed_samples
from planner.output.stakes.value import StakedLine
from planner.output.stakes.words import described, source_note
from planner.record.value import Line, Plan
from planner.terrain.frame import to_lonlat

SYMBOL = "Flag"  # the schema leaves it free; most devices have one of that name
CENTIMETRES = 2  # decimals of a height


def write_stakes_gpx(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write GPX 1.1: a waypoint a stake, named like it, and a track a line, named like it.

    `ele` is the ground level of the elevation data, left out where it is not known; each
    description says so.

    Parameters
    ----------
    plan : Plan
    staked : sequence of StakedLine
    path : Path

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    gpx = GPX()
    gpx.creator = "headfall"
    gpx.name = one_line(plan.site.title)
    gpx.description = source_note(plan)
    gpx.time = datetime.datetime.combine(plan.made, datetime.time(), datetime.UTC)
    gpx.waypoints = list(_waypoints(plan, staked))
    gpx.tracks = [_track(plan, one.line) for one in staked]
    gpx.bounds = _bounds(gpx)
    path.write_bytes(gpx.to_xml("1.1").encode())


def _waypoints(plan: Plan, staked: Sequence[StakedLine]) -> Iterator[GPXWaypoint]:
    for one in staked:
        for place, stake in enumerate(one.stakes):
            lon, lat = stake.lonlat
            yield GPXWaypoint(
                latitude=number(lat, DEGREE),
                longitude=number(lon, DEGREE),
                elevation=number(stake.ground_m, CENTIMETRES),
                name=stake.name,
                description=described(plan, one, place),
                symbol=SYMBOL,
                type=ROLES[one.line.role].word,
            )


def _track(plan: Plan, line: Line) -> GPXTrack:
    track = GPXTrack(name=line.name, description=f"{one_line(line.start)} – {one_line(line.end)}")
    needed = needed_samples(line.profile.xy)
    lonlat = np.round(to_lonlat(plan.terrain, line.profile.xy[needed]), DEGREE)
    ground = line.profile.ground[needed]
    points = [
        GPXTrackPoint(latitude=lat, longitude=lon, elevation=number(level, CENTIMETRES))
        for (lon, lat), level in zip(lonlat.tolist(), ground.tolist(), strict=True)
    ]
    track.segments.append(GPXTrackSegment(points))
    return track


def _bounds(gpx: GPX) -> GPXBounds | None:
    points = [*gpx.waypoints, *(p for t in gpx.tracks for s in t.segments for p in s.points)]
    if not points:
        return None
    lat, lon = [p.latitude for p in points], [p.longitude for p in points]
    return GPXBounds(min(lat), max(lat), min(lon), max(lon))
