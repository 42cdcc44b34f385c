"""Features of a GeoJSON text (RFC 7946), with the older `crs` member heeded."""

import json
from typing import Any

import numpy as np
from pyproj import CRS
from shapely.errors import ShapelyError
from shapely.geometry import shape

from planner.errors import SketchError
from planner.site.feature import Collection, Feature
from planner.site.lonlat import known_crs
from planner.site.outline import MOST_VERTICES, too_many_vertices

MOST_FEATURES = 20_000


def features(content: bytes, name: str) -> Collection:
    """The features of a GeoJSON file's content.

    Raises
    ------
    SketchError
        It is no GeoJSON, or a shape is broken or too large.
    """
    data = parsed(content, name)
    read = (one(each, place(name, n)) for n, each in enumerate(members(data, name), start=1))
    return Collection(tuple(each for each in read if each is not None), crs_of(data, name))


def place(name: str, number: int) -> str:
    """Where a feature stands, counted from 1, for messages."""
    return f"{name}, feature {number}"


def parsed(content: bytes, name: str) -> dict[str, Any]:
    """The outermost object of a GeoJSON file's content.

    Raises
    ------
    SketchError
        It is no JSON, or no object.
    """
    try:
        data = json.loads(content)
    except UnicodeDecodeError as error:
        msg = f"{name} is not written in UTF-8; save it again as GeoJSON in UTF-8"
        raise SketchError(msg) from error
    except json.JSONDecodeError as error:
        msg = f"{name} is not valid JSON at line {error.lineno} ({error.msg}); save it again"
        raise SketchError(msg) from error
    except (ValueError, RecursionError) as error:
        msg = f"{name} is nested too deep or holds a number too long; save it again as GeoJSON"
        raise SketchError(msg) from error
    if not isinstance(data, dict):
        raise SketchError(_not_geojson(name))
    return data


def members(data: dict[str, Any], name: str) -> list[dict[str, Any]]:
    """The features of a collection as they stand; of a single feature or geometry, that one.

    Raises
    ------
    SketchError
        They are no list of objects, or too many.
    """
    found = data.get("features") if data.get("type") == "FeatureCollection" else [data]
    if not isinstance(found, list) or not all(isinstance(each, dict) for each in found):
        raise SketchError(_not_geojson(name))
    if len(found) > MOST_FEATURES:
        msg = f"{name} holds more than {MOST_FEATURES} features; keep those of the sketch alone"
        raise SketchError(msg)
    return found


def one(data: dict[str, Any], place: str) -> Feature | None:
    """A feature or bare geometry read; None where it has no shape.

    Raises
    ------
    SketchError
        Its shape is broken or too large.
    """
    geometry, said = (
        (data.get("geometry"), data.get("properties"))
        if data.get("type") == "Feature"
        else (data, {})
    )
    if geometry is None:
        return None
    if not isinstance(geometry, dict) or not isinstance(said, dict | None):
        raise SketchError(_not_geojson(place))
    vertices = _count(geometry.get("coordinates"))
    if vertices > MOST_VERTICES:
        raise SketchError(too_many_vertices(place, vertices))
    try:
        with np.errstate(invalid="ignore"):  # a NaN is refused where the place is read
            drawn = shape(geometry)
    except (ShapelyError, ValueError, TypeError, KeyError, AttributeError, IndexError) as error:
        msg = f"{place}: its geometry is broken; draw it again and save it as GeoJSON"
        raise SketchError(msg) from error
    known = {str(key).lower(): v for key, v in (said or {}).items() if v not in (None, "")}
    return None if drawn.is_empty else Feature(drawn, known, place)


def _count(coordinates: object) -> int:
    """Positions in nested lists of coordinates, at most four deep."""
    level = [coordinates]
    for _ in range(4):
        if not level or not isinstance(level[0], list):
            break
        if level[0] and not isinstance(level[0][0], list):
            return len(level)
        level = [inner for outer in level if isinstance(outer, list) for inner in outer]
    return len(level)


def crs_of(data: dict[str, Any], name: str) -> CRS | None:
    """The coordinate system that the older `crs` member names.

    Raises
    ------
    SketchError
        It is not known.
    """
    crs = data.get("crs")
    if not isinstance(crs, dict):
        return None
    properties = crs.get("properties")
    said = properties.get("name") if isinstance(properties, dict) else None
    return known_crs(str(said), name)


def _not_geojson(place: str) -> str:
    return f"{place} is not GeoJSON; save the sketch as a GeoJSON FeatureCollection"
