"""A `Site` to the text of a site file that can be read again from another folder."""

from dataclasses import replace
from pathlib import Path
from typing import Any

import shapely
import tomlkit
from tomlkit.exceptions import TOMLKitError

from planner.errors import InputError
from planner.site.defaults import default_line
from planner.site.field_write import field_tables, move_field_paths
from planner.site.fit import Fit
from planner.site.local_file import seen_from
from planner.site.read import site_from_text
from planner.site.value import Area, Crossing, LineRole, LineSettings, Point, Site, Sketch
from planner.site.water_write import line_pipe, text_of, water_tables

MOST_CORNERS = 200  # of an area that is still written as a ring to be read by eye


def portable(site: Site, folder: Path) -> str:
    """The site as a TOML text that says the same when it is read from `folder`.

    Paths are written as seen from `folder`, the sketch stands in the text itself. As much as
    possible is kept as the user wrote it, comments too; where the site was made or changed in
    Python, what the text does not say is written anew, in SI.

    Parameters
    ----------
    site : Site
    folder : Path
        Where the text will lie; it need not exist.

    Returns
    -------
    str
        `site_from_text(text, folder)` equals `site` but for `folder`, `text` and the sketch's
        `swapped` and `ignored`: what was exchanged or left out is written as it was understood.
    """
    folder = folder.resolve()
    for way in (_as_written, _with_sketch) if site.text else ():
        text = way(site, folder)
        if text is not None and _says(text, site, folder):
            return text
    return tomlkit.dumps(_fresh(site, folder))


def same_site(one: Site, other: Site) -> bool:
    """Whether two sites say the same, wherever they lie and however they were written.

    Of a pipe named by its size, bore, rating and roughness are the catalogue's, not the site's.
    """
    return _bare(one) == _bare(other)


def _bare(site: Site) -> Site:
    sketch = replace(site.sketch, swapped=False, ignored=())
    lines = {role: _bare_line(role, settings) for role, settings in site.lines.items()}
    return replace(site, sketch=sketch, lines=lines, folder=None, text="")


def _bare_line(role: LineRole, settings: LineSettings) -> LineSettings:
    pipe, usual = settings.pipe, default_line(role).pipe
    if pipe.size is None:
        return settings
    bare = replace(
        pipe,
        bore=usual.bore,
        rating=usual.rating,
        roughness=usual.roughness,
        bore_assumed=False,
    )
    return replace(settings, pipe=bare)


def _says(text: str, site: Site, folder: Path) -> bool:
    try:
        return same_site(site_from_text(text, folder), site)
    except InputError:
        return False


def _as_written(site: Site, folder: Path) -> str | None:
    """The user's text with the paths changed; None if its sketch lies in another file."""
    try:
        document = tomlkit.parse(site.text)
        if "file" in document["sketch"]:
            return None
        document["elevation"]["files"] = _paths(site, folder)
        move_field_paths(document, site, folder)
    except (TOMLKitError, KeyError, TypeError, ValueError):
        return None
    if "title" not in document:
        return f"title = {tomlkit.item(site.title).as_string()}\n{tomlkit.dumps(document)}"
    return tomlkit.dumps(document)


def _with_sketch(site: Site, folder: Path) -> str | None:
    """The user's text with the paths changed and the sketch written into it."""
    try:
        document = tomlkit.parse(site.text)
        document.remove("sketch")
        document["elevation"]["files"] = _paths(site, folder)
        move_field_paths(document, site, folder)
        text = tomlkit.dumps(document)
    except (TOMLKitError, KeyError, TypeError, ValueError):
        return None
    if "title" not in document:
        text = f"title = {tomlkit.item(site.title).as_string()}\n{text}"
    return text.rstrip("\n") + "\n\n" + tomlkit.dumps({"sketch": _sketch(site.sketch)})


def _paths(site: Site, folder: Path) -> list[str]:
    return [seen_from(folder, file) for file in site.elevation.files]


def _fresh(site: Site, folder: Path) -> dict[str, Any]:
    return _without_none(
        {
            "title": site.title,
            "units": site.units,
            "gallon": site.gallon,
            "elevation": _elevation(site, folder),
            **water_tables(site),
            "use": {
                "season": site.season,
                "frost_depth": text_of(site.frost_depth, "length"),
                "flood_mark": text_of(site.flood_mark, "length"),
                "stream_cost": text_of(site.stream_cost, "length"),
            },
            "lines": {
                role: _line(settings) | line_pipe(settings.pipe, default_line(role).pipe)
                for role, settings in site.lines.items()
            },
            **field_tables(site, folder),
            "fit": [_fit(one) for one in site.fit],
            "sketch": _sketch(site.sketch),
        }
    )


def _elevation(site: Site, folder: Path) -> dict[str, Any]:
    said = site.elevation
    return {
        "files": _paths(site, folder),
        "kind": said.kind,
        "height_unit": said.height_unit,
        "standard_error": text_of(said.standard_error, "length"),
        "surface_model": said.surface_model,
        "crs": said.crs,
        "band": said.band,
        "margin": text_of(said.margin, "length"),
    }


def _line(settings: LineSettings) -> dict[str, Any]:
    laying = settings.laying
    buried = laying.manner == "buried"
    return {
        "laid": laying.manner,
        "least_cover": text_of(laying.least_cover, "length") if buried else None,
        "deepest_trench": text_of(laying.deepest_trench, "length"),
        "propped": None if buried else text_of(0.0 - laying.least_cover, "length"),
        "least_grade": text_of(laying.least_grade, "ratio"),
        "vent_cost": text_of(laying.vent_cost, "length"),
        "dig_cost": text_of(laying.dig_cost, "digging"),
        "greatest_grade": text_of(laying.greatest_grade, "ratio"),
        "side_slope": text_of(laying.side_slope, "ratio"),
        "bend_cost": text_of(laying.bend_cost, "length"),
        "least_leg": text_of(laying.least_leg, "length"),
        "bend": laying.bend or None,
        "siphon": settings.siphon,
    }


def _fit(fit: Fit) -> dict[str, Any]:
    return {"line": fit.line, "kind": fit.kind, "at": list(fit.at), "note": fit.note or None}


def _sketch(sketch: Sketch) -> dict[str, Any]:
    said = {
        "points": [_point(point) for point in sketch.points],
        "areas": [_area(area) for area in sketch.areas],
        "crossings": [_crossing(crossing) for crossing in sketch.crossings],
    }
    return {key: tables for key, tables in said.items() if tables}


def _point(point: Point) -> dict[str, Any]:
    return _without_none(
        {
            "name": point.name,
            "role": point.role,
            "at": list(point.at),
            "line": point.line,
            "height": text_of(point.height, "length") if point.height else None,
            "flow": text_of(point.flow, "flow"),
        }
    )


def _crossing(crossing: Crossing) -> dict[str, Any]:
    return {
        "name": crossing.name,
        "path": shapely.get_coordinates(crossing.shape).tolist(),
        "cost": text_of(crossing.cost, "length"),
    }


def _area(area: Area) -> dict[str, Any]:
    said: dict[str, Any] = {"name": area.name, "role": area.role}
    corners = shapely.get_coordinates(area.shape).tolist()
    one_ring = area.shape.geom_type == "Polygon" and not area.shape.interiors
    if one_ring and len(corners) <= MOST_CORNERS:
        said["ring"] = corners[:-1]
    else:
        wkt = shapely.to_wkt(area.shape, rounding_precision=-1)
        said["wkt"] = tomlkit.string(wkt, literal=True)
    said["factor"] = float(area.factor) if area.factor != 1.0 else None
    said["deepest_trench"] = text_of(area.deepest_trench, "length")
    said["ground"] = area.ground
    return _without_none(said)


def _without_none(table: dict[str, Any]) -> dict[str, Any]:
    """TOML has no null: a key without a value is left out, and so is an empty table or list."""
    kept = {key: _kept(value) for key, value in table.items() if value is not None}
    return {key: value for key, value in kept.items() if value not in ({}, [])}


def _kept(value: Any) -> Any:
    if isinstance(value, dict):
        return _without_none(value)
    if isinstance(value, list):
        return [_kept(one) for one in value]
    return value
