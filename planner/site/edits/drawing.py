"""`Drawing`: a draft's sketch as GeoJSON features, whatever file or table it was written in."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

import shapely
from pyproj import CRS
from shapely.geometry.base import BaseGeometry

from planner.site import geojson
from planner.site.draft import Draft
from planner.site.edits.open import sketch_content
from planner.site.edits.text import plain
from planner.site.feature import Collection, Feature
from planner.site.file import AreaSaid, PointSaid, SiteFile
from planner.site.geodata import read_features
from planner.site.local_file import local_file
from planner.site.lonlat import WGS84, known_crs, to_lonlat
from planner.site.read import site_table
from planner.site.sketch import Said, make_sketch, understood, written_here
from planner.site.value import Gallon, Sketch

Json = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Drawn:
    """A feature of the sketch, and what it was taken for: None where nothing tells."""

    feature: Json
    said: Said | None


@dataclass(frozen=True, slots=True)
class Drawing:
    """The sketch as GeoJSON features in longitude/latitude.

    Attributes
    ----------
    features : tuple of dict
        Every point has its name; features that are not understood are kept.
    sketch : Sketch
        The same, understood.
    points, areas : tuple of int
        Which feature each of the sketch's points and areas is.
    in_place : bool
        Whether the features are those of the draft's own sketch file and of it alone.
    own : bool
        Whether they stay in that file, others joining them; else they go into a new one.
    others : dict
        What the file says beside them.
    """

    features: tuple[Json, ...]
    sketch: Sketch
    points: tuple[int, ...]
    areas: tuple[int, ...]
    in_place: bool
    own: bool
    others: Json = field(default_factory=dict)


def read_drawing(draft: Draft) -> Drawing:
    """The sketch of a draft, ready to be changed.

    Raises
    ------
    SiteError, SketchError
        It can't be read.
    """
    text = plain(draft.site)
    table = site_table(text, draft.site_name)
    crs = None if table.sketch.crs is None else known_crs(table.sketch.crs, "sketch.crs")
    others: Json = {}
    own = _own(draft, table.gallon, crs, others)
    drawn = _elsewhere(draft, table, crs) if own is None else own
    here = _here(text, table, crs)
    drawn = [*drawn, *here]
    known = [(n, one.said) for n, one in enumerate(drawn) if one.said is not None]
    sketch = make_sketch([([said for _, said in known], None)])
    points = tuple(n for n, said in known if isinstance(said.about, PointSaid))
    features = [one.feature for one in drawn]
    for number, point in zip(points, sketch.points, strict=True):
        if not said_of(features[number], "name"):
            features[number] = telling(features[number], name=point.name)
    return Drawing(
        tuple(features),
        sketch,
        points,
        tuple(n for n, said in known if isinstance(said.about, AreaSaid)),
        in_place=own is not None and not here,
        own=own is not None,
        others=others,
    )


def telling(feature: Json, **said: Any) -> Json:
    """The feature with attributes set, those that are None taken out, however they are spelt."""
    properties = dict(feature.get("properties") or {})
    for key, value in said.items():
        spelt = [name for name in properties if str(name).lower() == key]
        for name in spelt if value is None else spelt[1:]:
            del properties[name]
        if value is not None:
            properties[spelt[0] if spelt else key] = value
    return {**feature, "properties": properties}


def said_of(feature: Json, key: str) -> Any:
    """An attribute of a feature, however it is spelt; None where it is not there or empty."""
    properties = feature.get("properties") or {}
    told = (value for name, value in properties.items() if str(name).lower() == key)
    return next((value for value in told if value not in (None, "")), None)


def feature_of(shape: BaseGeometry, properties: Mapping[str, Any]) -> Json:
    """A GeoJSON feature of a shape in longitude/latitude."""
    return {
        "type": "Feature",
        "properties": dict(properties),
        "geometry": geometry_of(shape),
    }


def geometry_of(shape: BaseGeometry) -> Json:
    """The GeoJSON geometry of a shape, its places as lists."""
    drawn: Json = shapely.geometry.mapping(shape)
    return {"type": drawn["type"], "coordinates": _listed(drawn["coordinates"])}


def known_properties(feature: Feature, said: Said) -> Json:
    """A feature's attributes that mean something for what it is, as JSON takes them."""
    told = {
        key: _plain(value)
        for key, value in feature.said.items()
        if key in type(said.about).model_fields
    }
    return {key: value for key, value in told.items() if isinstance(value, str | int | float)}


def _own(draft: Draft, gallon: Gallon | None, crs: CRS | None, others: Json) -> list[Drawn] | None:
    """The features of the draft's own file as they stand; None where they must be converted.

    `others` takes what the file says beside them.
    """
    content = sketch_content(draft)
    if content is None:
        return None
    data = geojson.parsed(content, draft.sketch_name)
    named = geojson.crs_of(data, draft.sketch_name) or crs
    if named is not None and not named.equals(WGS84, ignore_axis_order=True):
        return None
    drawn = []
    for number, member in enumerate(geojson.members(data, draft.sketch_name), start=1):
        place = geojson.place(draft.sketch_name, number)
        whole = member if member.get("type") == "Feature" else _bare(member)
        feature = geojson.one(member, place)
        drawn.append(Drawn(whole, None if feature is None else understood(feature, gallon)))
    said = [one.said for one in drawn if one.said is not None]
    _, swapped = _on_earth(said, None)
    if swapped:
        return None
    if data.get("type") == "FeatureCollection":
        others |= {key: value for key, value in data.items() if key != "features"}
    return drawn


def _elsewhere(draft: Draft, table: SiteFile, crs: CRS | None) -> list[Drawn]:
    """What is understood of a sketch file that stays as it is, in longitude/latitude."""
    if table.sketch.file is None:
        return []
    file = local_file(table.sketch.file, draft.folder, "sketch.file")
    content = sketch_content(draft)
    found: Collection
    found = read_features(file) if content is None else geojson.features(content, file.name)
    pairs = [(feature, understood(feature, table.gallon)) for feature in found.features]
    kept = [(feature, said) for feature, said in pairs if said is not None]
    saids, _ = _on_earth([said for _, said in kept], found.crs or crs)
    return [
        Drawn(feature_of(said.shape, known_properties(feature, said)), said)
        for (feature, _), said in zip(kept, saids, strict=True)
    ]


def _here(text: str, table: SiteFile, crs: CRS | None) -> list[Drawn]:
    """What is written in the site file itself, in longitude/latitude."""
    saids, _ = _on_earth(written_here(table.sketch), crs)
    raw = tomllib.loads(text)["sketch"]
    tables = [one for key in ("points", "areas", "crossings") for one in raw.get(key, [])]
    drawn = []
    for said, one in zip(saids, tables, strict=True):
        told = {key: one[key] for key in one if key not in ("at", "ring", "wkt", "path")}
        drawn.append(Drawn(feature_of(said.shape, told), said))
    return drawn


def _on_earth(saids: Iterable[Said], crs: CRS | None) -> tuple[list[Said], bool]:
    saids = list(saids)
    shapes, swapped = to_lonlat([said.shape for said in saids], crs, [said.place for said in saids])
    moved = [Said(shape, said.about, said.place) for shape, said in zip(shapes, saids, strict=True)]
    return moved, swapped


def _bare(geometry: Json) -> Json:
    return {"type": "Feature", "properties": {}, "geometry": geometry}


def _listed(coordinates: Any) -> Any:
    if isinstance(coordinates, tuple | list):
        return [_listed(one) for one in coordinates]
    return coordinates


def _plain(value: Any) -> Any:
    """A table's number as Python has it."""
    return value.item() if hasattr(value, "item") else value
