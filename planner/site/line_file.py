"""A line drawn by hand, walked with a GPS or staked, from a file."""

import re
from itertools import pairwise
from pathlib import Path

import numpy as np
import shapely
from pyproj import Geod
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.feature import Feature
from planner.site.geodata import read_content, read_features
from planner.site.lonlat import to_lonlat
from planner.site.stake_list import none_called, stakes_of_line
from planner.terrain.value import FloatArray

LARGEST_GAP = 25.0  # m between pieces that are still one line: a GPS that lost sight of the sky
MOST_VERTICES = 100_000
EARTH = Geod(ellps="WGS84")
TAG = re.compile(rb"<(?P<shut>/?)(?:\w+:)?(?P<name>trkpt|time|Track)\b")


def read_line(path: str | Path, name: str | None = None) -> LineString:
    """A line of a GeoJSON, GPX (track or route), KML or GeoPackage file, or a CSV of stakes.

    Parameters
    ----------
    path : str or Path
        Several pieces are joined in their order where each begins within 25 m of the end of the
        one before.
    name : str, optional
        Where the file holds several lines: what the wanted one is called, whatever its case. A
        file of one line gives that line, whatever it is called.

    Returns
    -------
    shapely.LineString
        Longitude, latitude [degrees, WGS 84], without repeated points and without heights.

    Raises
    ------
    SketchError
        The file can't be read, holds no line or none of that name, or lines that do not belong
        together.
    """
    path = Path(path)
    if path.suffix.lower() == ".csv":
        pegs = stakes_of_line(read_content(path), path.name, name)
        return LineString(_whole(_on_earth(pegs, path.name), path.name))
    collection = read_features(path)
    features = [f for f in collection.features if f.shape.geom_type.endswith("LineString")]
    if not features:
        msg = f"{path.name} holds no line; give one with a LineString, a track or a route"
        raise SketchError(msg)
    if name is not None:
        features = _called(features, name, path.name)
    lines, swapped = to_lonlat(
        [feature.shape for feature in features], collection.crs, [f.place for f in features]
    )
    _refuse_swapped(path.name, swapped=swapped)
    return LineString(_whole(_joined([*shapely.get_parts(lines)], path.name), path.name))


def is_recorded(path: Path) -> bool:
    """Whether a file of a line was recorded by a GPS as it was carried: its points have times.

    Raises
    ------
    SketchError
        The file can't be read.
    """
    if path.suffix.lower() not in (".gpx", ".kml"):
        return False
    tags = [tag["shut"] + tag["name"] for tag in TAG.finditer(read_content(path))]
    if path.suffix.lower() == ".kml":
        return b"Track" in tags
    return any(pair == (b"trkpt", b"time") for pair in pairwise(tags))


def _called(features: list[Feature], name: str, file: str) -> list[Feature]:
    """The features of that name, each shape once; all of them where they have one name or none."""
    for key in ("name", "line"):
        wanted = [one for one in features if _said(one, key).casefold() == name.casefold()]
        if wanted:
            return _each_once(wanted)
    names = list(dict.fromkeys(_said(one, "name") for one in features))
    if len(names) > 1:
        raise SketchError(none_called(file, name, names))
    return features


def _said(feature: Feature, key: str) -> str:
    return str(feature.said.get(key, "")).strip()


def _each_once(features: list[Feature]) -> list[Feature]:
    """Without those whose shape another has already: a route and a track of one line."""
    return list({_course(one.shape): one for one in reversed(features)}.values())[::-1]


def _course(shape: BaseGeometry) -> bytes:
    """What two lines through the same points share, whichever way they run."""
    points: FloatArray = shapely.get_coordinates(shape)
    return min(points.tobytes(), points[::-1].tobytes())


def _on_earth(pegs: list[tuple[float, float]], file: str) -> FloatArray:
    shapes, swapped = to_lonlat([Point(peg) for peg in pegs], None, [file] * len(pegs))
    _refuse_swapped(file, swapped=swapped)
    points: FloatArray = shapely.get_coordinates(shapes)
    return points


def _refuse_swapped(file: str, *, swapped: bool) -> None:
    if swapped:
        msg = f"{file} has latitude before longitude; save it with longitude first"
        raise SketchError(msg)


def _joined(pieces: list[LineString], name: str) -> FloatArray:
    whole: FloatArray = shapely.get_coordinates(pieces[0])
    for number, piece in enumerate(pieces[1:], start=2):
        more = shapely.get_coordinates(piece)
        gap = EARTH.inv(*whole[-1], *more[0])[2]
        if gap > LARGEST_GAP:
            msg = (
                f"{name} holds {len(pieces)} pieces, and number {number} begins {gap:,.0f} m from "
                f"the end of the one before; keep one line in the file, or pieces in order"
            )
            raise SketchError(msg)
        whole = np.concatenate([whole, more])
    return whole


def _whole(points: FloatArray, name: str) -> FloatArray:
    """The points of a line without those that repeat the one before."""
    if not len(points):
        msg = f"{name} holds no line; give one of two points or more"
        raise SketchError(msg)
    moved = np.any(np.diff(points, axis=0) != 0.0, axis=1)
    line: FloatArray = points[np.concatenate([[True], moved])]
    if len(line) < 2:
        msg = f"the line in {name} stands still; give one of two points or more"
        raise SketchError(msg)
    if len(line) > MOST_VERTICES:
        msg = f"the line in {name} has {len(line):,} points; keep at most {MOST_VERTICES:,}"
        raise SketchError(msg)
    return line
