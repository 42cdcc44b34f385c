"""What a GPX file is good for among levels: where named points stand. Its heights are no levels."""

import re
from dataclasses import dataclass
from pathlib import Path

import shapely

from planner.errors import InputError
from planner.levels.leg import Place
from planner.levels.names import StationNames
from planner.levels.value import Row
from planner.site.geodata import read_features

LARGEST_START = 4096  # bytes looked at
_GPX = re.compile(rb"<(?:\w+:)?gpx\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Track:
    """A GPX file: its name, its named points, and whether any height is in it."""

    name: str
    waypoints: tuple[tuple[str, tuple[float, float]], ...]
    has_heights: bool


def is_gpx(path: Path) -> bool:
    """Whether a file is GPX, by its name or by how it begins."""
    if path.suffix.lower() == ".gpx":
        return True
    try:
        with path.open("rb") as file:
            return _GPX.search(file.read(LARGEST_START)) is not None
    except (OSError, ValueError):
        return False  # the reader of tables says what is wrong


def read_gpx(path: Path) -> Track:
    """The named points of a GPX file.

    Raises
    ------
    InputError
        The file can't be read as GPX, or does not bear its suffix.
    """
    name = " ".join("".join(c if c.isprintable() else " " for c in path.name[:60]).split())
    if path.suffix.lower() != ".gpx":
        msg = f"{name} holds GPX under another name; let its name end in .gpx"
        raise InputError(msg)
    try:
        features = read_features(path).features
    except ValueError as error:
        if isinstance(error, InputError):
            raise
        msg = f"{name} can't be read as GPX; save it again"
        raise InputError(msg) from error
    waypoints = tuple(
        (str(feature.said["name"]), (float(feature.shape.x), float(feature.shape.y)))
        for feature in features
        if feature.shape.geom_type == "Point" and feature.said.get("name")
    )
    has_heights = any(shapely.has_z(feature.shape) or "ele" in feature.said for feature in features)
    return Track(name, waypoints, has_heights)


def taken_from(track: Track, stations: set[str], names: StationNames) -> tuple[list[Place], str]:
    """Places of those waypoints that are stations of the readings, and what was done, in words."""
    row = Row(track.name, 1)
    found = [Place(names.find(name, row), at, row) for name, at in track.waypoints if name.strip()]
    places = [place for place in found if place.station in stations]
    if track.has_heights:
        begun = "its heights are left aside, since phone and handheld heights are never levels"
    else:
        begun = "it holds no heights, and none were looked for"
    told = "; no point in it is a station of the readings"
    if places:
        told = f"; it tells where {len(places)} of the stations stand"
    return places, f"{track.name}: {begun}{told}"
