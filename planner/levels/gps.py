"""What a GPX file is good for among levels: where named points stand. Its heights are no levels."""

import html
import re
from dataclasses import dataclass
from pathlib import Path

from shapely.errors import ShapelyError

from planner.errors import InputError
from planner.levels.leg import LonLat, Place
from planner.levels.names import StationNames, shown
from planner.levels.table import shown_name
from planner.levels.value import Row
from planner.site.geodata import FORMATS, read_features
from planner.site.words import LONGEST_NAME

LARGEST_START = 4096  # bytes looked at

_HEIGHT = re.compile(r"<(?:\w+:)?ele\b")
_NAME = re.compile(r"<(?:\w+:)?name>([^<]*)<")


@dataclass(frozen=True, slots=True)
class Track:
    """A GPX file.

    Attributes
    ----------
    name : str
    waypoints : tuple of (str, (lon, lat), Row)
        Its named points [degrees]; names too long for a station's are left out.
    has_heights : bool
    """

    name: str
    waypoints: tuple[tuple[str, LonLat, Row], ...]
    has_heights: bool


def is_gpx(path: Path) -> bool:
    """Whether a file is GPX, by its name or by how it begins."""
    if path.suffix.lower() == ".gpx":
        return True
    try:
        if not path.is_file():
            return False
        with path.open("rb") as file:
            return FORMATS[".gpx"].start.match(file.read(LARGEST_START)) is not None
    except (OSError, ValueError):
        return False  # the reader of tables says what is wrong


def read_gpx(path: Path, name: str = "") -> Track:
    """The named points of a GPX file.

    Raises
    ------
    InputError
        The file can't be read as GPX, or its name does not say that it is.
    """
    name = shown_name(name or path.name)
    if path.suffix.lower() != ".gpx":
        msg = f"{name} holds GPX under another name; let its name end in .gpx"
        raise InputError(msg)
    try:
        features = read_features(path).features
        text = path.read_bytes().replace(b"\0", b"").decode("utf-8", errors="replace")
    except InputError:
        raise
    except (OSError, ValueError, ShapelyError) as error:
        reason = " a track of one point is no line;" if isinstance(error, ShapelyError) else ""
        msg = f"{name} can't be read as GPX;{reason} save it again"
        raise InputError(msg) from error
    lines = _lines_of_names(text)
    waypoints = tuple(
        (said, (float(feature.shape.x), float(feature.shape.y)), Row(name, lines.get(said, 1)))
        for feature in features
        if feature.shape.geom_type == "Point"
        and 0 < len(said := str(feature.said.get("name", "")).strip()) <= LONGEST_NAME
    )
    for said, (lon, lat), row in waypoints:
        if not (abs(lon) <= 180.0 and abs(lat) <= 90.0):
            msg = f"{row}: {shown(said)} stands at no place on the Earth; take it out of the file"
            raise InputError(msg)
    return Track(name, waypoints, has_heights=_HEIGHT.search(text) is not None)


def _lines_of_names(text: str) -> dict[str, int]:
    found: dict[str, int] = {}
    for number, line in enumerate(text.split("\n"), start=1):
        for said in _NAME.findall(line):
            found.setdefault(html.unescape(said).strip(), number)
    return found


def taken_from(track: Track, stations: set[str], names: StationNames) -> tuple[list[Place], str]:
    """Places of those waypoints that are stations of the readings, and what was done, in words."""
    found = [Place(names.find(name, row), at, row) for name, at, row in track.waypoints]
    places = [place for place in found if place.station in stations]
    if track.has_heights:
        told = "its heights are left aside, since phone and handheld heights are never levels"
    else:
        told = "it holds no heights; they would not be taken for levels either"
    if places:
        told += f"; it tells where {len(places)} of the stations stand"
    if len(places) < len(found):
        told += f"; {len(found) - len(places)} points in it are no stations of the readings"
    return places, f"{track.name}: {told}"
