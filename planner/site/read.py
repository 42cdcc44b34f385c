"""A site file to a `Site`: the one door from TOML to SI."""

import re
import stat
import tomllib
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, get_args

from pydantic import ValidationError
from pyproj import CRS
from pyproj.exceptions import CRSError

from planner.errors import InputError, SiteError, SketchError
from planner.site.defaults import (
    STREAM_COST,
    Manner,
    default_deepest,
    default_line,
    default_manner,
)
from planner.site.field_table import built_lines
from planner.site.file import ElevationTable, LineTable, SiteFile, SketchTable
from planner.site.geodata import read_features
from planner.site.geojson import features
from planner.site.local_file import local_file
from planner.site.lonlat import known_crs
from planner.site.message import sentence
from planner.site.sketch import from_file, make_sketch, refuse_missing, written_here
from planner.site.value import (
    Elevation,
    Gallon,
    Laying,
    LineRole,
    LineSettings,
    Site,
    Sketch,
)
from planner.site.words import clean_name
from planner.units.parse import quoted

LARGEST_FILE = 10_000_000  # bytes
LINE_ROLES: tuple[LineRole, ...] = get_args(LineRole)
FALLING: tuple[LineRole, ...] = ("supply", "waste", "overflow")  # all the way, by their rule


def read_site(path: str | Path) -> Site:
    """The site that a file describes.

    Parameters
    ----------
    path : str or Path
        A TOML file in UTF-8; paths in it are seen from its folder.

    Returns
    -------
    Site
        In SI and longitude/latitude, with every default filled in.

    Raises
    ------
    SiteError
        The file can't be read, or a key or value in it is wrong.
    SketchError
        The sketch, in the file or beside it, can't be used.
    """
    path = Path(path)
    return site_from_text(site_text(path), path.resolve().parent, path.name)


def site_from_text(
    text: str, folder: Path, name: str = "site.toml", sketch: bytes | None = None
) -> Site:
    """The site that a TOML text describes, its paths seen from `folder`.

    Parameters
    ----------
    text : str
    folder : Path
    name : str
        The site file's, for messages.
    sketch : bytes, optional
        What stands in the sketch's file, GeoJSON; None: read from the disk.

    Raises
    ------
    SiteError, SketchError
        As `read_site`; `name` begins the message.
    """
    site = unfinished_site(text, folder, name, sketch)
    with _beginning(name):
        refuse_missing(site.sketch)
    return site


def unfinished_site(
    text: str, folder: Path, name: str = "site.toml", sketch: bytes | None = None
) -> Site:
    """As `site_from_text`, of a sketch that may still lack its source, tank or outlet.

    Raises
    ------
    SiteError, SketchError
        As `read_site`; `name` begins the message.
    """
    with _beginning(name):
        return _site(site_table(text, name), folder, name, text, sketch)


@contextmanager
def _beginning(name: str) -> Iterator[None]:
    try:
        yield
    except SketchError as error:
        raise SketchError(_begun(error, name)) from error
    except SiteError as error:
        raise SiteError(_begun(error, name)) from error


def _begun(error: InputError, name: str) -> str:
    return error.message if error.message.startswith(name) else f"{name}: {error.message}"


def site_text(path: Path) -> str:
    """The text of a site file, its lines ended as everywhere.

    Raises
    ------
    SiteError
        The file can't be read, or is no text.
    """
    try:
        status = path.stat()
        if not stat.S_ISREG(status.st_mode):
            msg = f"the site file {path} is a folder or a device; give the path of a TOML file"
            raise SiteError(msg)
        if status.st_size > LARGEST_FILE:
            msg = (
                f"{path.name} has more than 10 MB; put large areas into a sketch file of their own"
            )
            raise SiteError(msg)
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError as error:
        msg = f"the site file {path} is not there; give the path of a TOML file"
        raise SiteError(msg) from error
    except UnicodeDecodeError as error:
        msg = f"{path.name} is not text in UTF-8; save it again as plain text in UTF-8"
        raise SiteError(msg) from error
    except OSError as error:
        msg = f"the site file {quoted(path)} can't be read ({error.strerror}); check its path"
        raise SiteError(msg) from error
    if "\0" in text:
        msg = f"{path.name} is not a text file; give a TOML file, plain text in UTF-8"
        raise SiteError(msg)
    return text.replace("\r\n", "\n")


def site_table(text: str, name: str) -> SiteFile:
    """The tables of a site file's text, each key and value checked.

    Raises
    ------
    SiteError
        It is no TOML, or a key or value is wrong.
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SiteError(_syntax(str(error), text, name)) from error
    except (ValueError, RecursionError) as error:
        msg = f"{name} holds a number too long or lists nested too deep; write it plainly"
        raise SiteError(msg) from error
    gallon = data.get("gallon")
    context = {"gallon": gallon if gallon in ("us", "imperial") else None}
    try:
        return SiteFile.model_validate(data, context=context)
    except ValidationError as error:
        raise SiteError(sentence(error)) from error


def _syntax(reason: str, text: str, name: str) -> str:
    """A TOML parser's complaint, with the line it concerns shown."""
    found = re.search(r"\(at (?:line (\d+), column \d+|end of document)\)", reason)
    lines = text.splitlines() or [""]
    number = int(found[1]) if found and found[1] else len(lines)
    what = reason.partition(" (at ")[0]
    line = lines[min(number, len(lines)) - 1].strip()
    return (
        f"{name}, line {number}: {quoted(line)} is not TOML ({' '.join(what.split())[:80]}); "
        'write key = value, with text in quotes, such as flow = "12 L/min"'
    )


def _site(table: SiteFile, folder: Path, name: str, text: str, sketch: bytes | None) -> Site:
    return Site(
        title=clean_name(table.title or Path(name).stem, "title"),
        elevation=_elevation(table.elevation, folder),
        sketch=_sketch(table.sketch, folder, table.gallon, sketch),
        lines={role: _line(role, getattr(table.lines, role), table) for role in LINE_ROLES},
        units=table.units,
        gallon=table.gallon,
        source=table.source.value(),
        ram=table.pump.ram(),
        powered=table.pump.powered(),
        need=table.need.per_day,
        season=table.use.season,
        frost_depth=table.use.frost_depth,
        flood_mark=table.use.flood_mark,
        folder=folder,
        text=text,
        demand=dict(table.need.count),
        each=dict(table.need.each),
        tank=table.tank.value(),
        temperature=table.water.temperature,
        own_pipes=tuple(pipe.value() for pipe in table.pipes),
        stream_cost=_first(table.use.stream_cost, STREAM_COST),
        measured=table.measured.value(folder),
        built=built_lines(table.built, folder),
        fit=tuple(one.value() for one in table.fit),
        papers=table.papers.value(),
        rates=table.rates.value(folder),
    )


def _elevation(table: ElevationTable, folder: Path) -> Elevation:
    if table.crs is not None:
        try:
            CRS.from_user_input(table.crs)
        except CRSError as error:
            msg = (
                f"elevation.crs: the coordinate system {quoted(table.crs)} is not known; "
                'give an EPSG code such as "EPSG:32633"'
            )
            raise SiteError(msg) from error
    return Elevation(
        files=tuple(local_file(name, folder, "elevation.files") for name in table.files),
        kind=table.kind,
        height_unit=table.height_unit,
        standard_error=table.standard_error,
        surface_model=table.surface_model,
        crs=table.crs,
        band=table.band,
        margin=table.margin,
    )


def _sketch(
    table: SketchTable, folder: Path, gallon: Gallon | None, content: bytes | None
) -> Sketch:
    crs = None if table.crs is None else known_crs(table.crs, "sketch.crs")
    parts = [(written_here(table), crs)]
    ignored: list[str] = []
    if table.file is not None:
        path = local_file(table.file, folder, "sketch.file")
        collection = read_features(path) if content is None else features(content, path.name)
        saids, ignored = from_file(collection, gallon)
        parts.insert(0, (saids, collection.crs or crs))
    return make_sketch(parts, ignored)


def _line(role: LineRole, said: LineTable, table: SiteFile) -> LineSettings:
    manner: Manner = said.laid or default_manner(role, table.use.season)
    default = default_line(role, table.use.season, table.use.frost_depth, manner)
    laying = _laying(role, said, default.laying)
    pipe = default.pipe
    return LineSettings(
        laying=laying,
        pipe=replace(
            pipe,
            bore=_first(said.bore, pipe.bore),
            rating=_first(said.rating, pipe.rating),
            roughness=_first(said.roughness, pipe.roughness),
            bore_assumed=said.bore is None and said.pipe is None,
            size=said.pipe,
            standard=said.standard,
            pressure_class=said.pressure_class,
            fittings=said.counted(),
        ),
        siphon=said.siphon,
    )


def _laying(role: LineRole, said: LineTable, default: Laying) -> Laying:
    place = f"lines.{role}"
    if default.manner == "surface":
        if said.least_cover is not None:
            msg = (
                f"{place}.least_cover: a line on the surface has no cover; give propped, or "
                'laid = "buried"'
            )
            raise SiteError(msg)
        cover = default.least_cover if said.propped is None else 0.0 - said.propped
        deepest = _first(said.deepest_trench, default.deepest_trench)
    else:
        if said.propped is not None:
            msg = f'{place}.propped: a buried line is not propped; give laid = "surface" with it'
            raise SiteError(msg)
        cover = _first(said.least_cover, default.least_cover)
        deepest = _first(said.deepest_trench, default_deepest(cover))
    if deepest < cover:
        msg = (
            f"{place}.deepest_trench: {deepest:.2f} m is less than the least cover of "
            f"{cover:.2f} m; give a deeper trench or a smaller least_cover"
        )
        raise SiteError(msg)
    _refuse_out_of_place(role, said, default)
    least = _first(said.least_grade, default.least_grade)
    if said.greatest_grade is not None and said.greatest_grade < least:
        msg = (
            f"{place}.greatest_grade: {said.greatest_grade:.2%} is less than the least grade of "
            f"{least:.2%}; give a steeper greatest_grade or a flatter least_grade"
        )
        raise SiteError(msg)
    return Laying(
        default.manner,
        cover,
        deepest,
        least,
        _first(said.vent_cost, default.vent_cost),
        dig_cost=_first(said.dig_cost, default.dig_cost),
        greatest_grade=said.greatest_grade,
        side_slope=said.side_slope,
        bend_cost=_first(said.bend_cost, default.bend_cost),
        least_leg=_first(said.least_leg, default.least_leg),
        bend=said.bend,
    )


def _refuse_out_of_place(role: LineRole, said: LineTable, default: Laying) -> None:
    """Keys that would mean nothing for such a line."""
    place = f"lines.{role}"
    if said.greatest_grade is not None and role not in FALLING:
        msg = (
            f"{place}.greatest_grade: only lines that fall all the way have one "
            f"({', '.join(FALLING)}); leave it out"
        )
        raise SiteError(msg)
    if said.bend and role != "drive":
        msg = f"{place}.bend: only a drive pipe asks for leave to bend; leave it out"
        raise SiteError(msg)
    if said.dig_cost and default.manner == "surface":
        msg = (
            f"{place}.dig_cost: a line on the surface has no trench to pay for; leave it out, or "
            'give laid = "buried"'
        )
        raise SiteError(msg)


def _first(said: Any, default: float) -> float:
    return default if said is None else said
