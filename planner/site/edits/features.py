"""What another file holds for a sketch, as GeoJSON features to be added."""

from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any, get_args

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.edits.drawing import Json, feature_of
from planner.site.edits.points import DECIMALS
from planner.site.feature import Feature
from planner.site.file import AreaSaid, CrossingSaid, PointSaid
from planner.site.geodata import read_features
from planner.site.lonlat import to_lonlat
from planner.site.path import LINES
from planner.site.value import AreaRole, PointRole
from planner.site.words import (
    LONGEST_NAME,
    area_roles,
    clean_text,
    is_crossing,
    point_roles,
)

POINT_ROLES: tuple[str, ...] = get_args(PointRole)
AREA_ROLES: tuple[str, ...] = get_args(AreaRole)
POINTS = ("Point", "MultiPoint")


def features_of(path: Path) -> tuple[Json, ...]:
    """The points, areas and crossings of a GPX, KML, GeoJSON, CSV or GeoPackage file.

    Parameters
    ----------
    path : Path
        Untrusted; to be read where time and memory are limited.

    Returns
    -------
    tuple of dict
        GeoJSON features in longitude/latitude with what means something in a sketch: `role`, told
        by an attribute or else by the name, is None where neither tells. Points and areas always
        come; of lines, those that are crossed, and closed ones that are areas: the track of a walk
        is none of a sketch.

    Raises
    ------
    SketchError
        The file can't be read, or nothing in it belongs in a sketch.
    """
    collection = read_features(path)
    found = [
        (part, said, feature.place)
        for feature in collection.features
        if (said := _said(feature)) is not None
        for part in _pieces(feature.shape)
    ]
    if not found:
        msg = f"{path.name} holds no point, no area and no road or stream; nothing is added"
        raise SketchError(msg)
    shapes, _ = to_lonlat(
        [part for part, _, _ in found], collection.crs, [place for _, _, place in found]
    )
    return tuple(
        feature_of(_rounded(shape), said) for shape, (_, said, _) in zip(shapes, found, strict=True)
    )


def _said(feature: Feature) -> Json | None:
    """A feature's attributes that are kept; None of what is no part of a sketch."""
    name = clean_text(str(feature.said.get("name", "")))[:LONGEST_NAME].strip()
    word = str(feature.said.get("role", "")).strip().lower()
    kind = feature.shape.geom_type
    role: str | None
    fields: Collection[str]
    if kind in POINTS:
        role, fields = _told(word, POINT_ROLES, point_roles(name)), PointSaid.model_fields
    elif kind in LINES and not _is_area(word, name):
        if word != "crossing" and (word or not is_crossing(name)):
            return None
        role, fields = "crossing", CrossingSaid.model_fields
    else:
        role, fields = _told(word, AREA_ROLES, area_roles(name)), AreaSaid.model_fields
    unknown = feature.place.rpartition(", ")[2] if role is None else ""
    said: Json = {"name": name or unknown, "role": role}
    said |= dict(_kept(feature, fields))
    return said if said["name"] else {key: said[key] for key in said if key != "name"}


def _is_area(word: str, name: str) -> bool:
    return word in AREA_ROLES or (word != "crossing" and bool(area_roles(name)))


def _told(word: str, roles: tuple[str, ...], by_name: set[str]) -> str | None:
    if word in roles:
        return word
    return next(iter(by_name)) if len(by_name) == 1 else None


def _kept(feature: Feature, fields: Collection[str]) -> Iterator[tuple[str, Any]]:
    """Quantities as text and plain factors; a bare number of a quantity has no unit to go by."""
    for key, value in feature.said.items():
        if key in fields and key not in ("name", "role"):
            if isinstance(value, str):
                yield key, value
            elif key == "factor" and isinstance(value, int | float):
                yield key, float(value)


def _pieces(shape: BaseGeometry) -> list[BaseGeometry]:
    """Each point by itself, other shapes whole."""
    return [*shapely.get_parts(shape)] if shape.geom_type == "MultiPoint" else [shape]


def _rounded(shape: BaseGeometry) -> BaseGeometry:
    return shapely.transform(shape, lambda xy: np.round(xy, DECIMALS))
