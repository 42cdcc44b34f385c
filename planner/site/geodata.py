"""Features of GeoJSON, GPX, KML, GeoPackage and CSV files, each file untrusted.

A file's content must be what its name says before GDAL sees it, so that no other driver is
chosen that would fetch or run what the file names.
"""

import re
from dataclasses import dataclass, field
from pathlib import Path

from planner.errors import SketchError
from planner.site import csvfile, geojson
from planner.site.feature import Collection
from planner.site.live_sql import refuse_live_sql

LARGEST_FILE = 50_000_000  # bytes

# Entities that grow without end, and the elements by which GDAL opens further sources.
UNWANTED = re.compile(rb"<!(?:DOCTYPE|ENTITY)|<(?:OGR|VRT|GDAL)", re.IGNORECASE)
_PROLOG = rb"(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?(?>\s+|<\?.*?\?>|<!--.*?-->)*+"


@dataclass(frozen=True, slots=True)
class Format:
    """What a file of this suffix must begin with, and its name in messages."""

    name: str
    start: re.Pattern[bytes] = field(default=re.compile(b""))


FORMATS = {
    ".geojson": Format("GeoJSON"),
    ".json": Format("GeoJSON"),
    ".csv": Format("CSV"),
    ".gpx": Format("GPX", re.compile(_PROLOG + rb"<(?:\w+:)?gpx\b", re.DOTALL)),
    ".kml": Format("KML", re.compile(_PROLOG + rb"<(?:\w+:)?kml\b", re.DOTALL)),
    ".gpkg": Format("GeoPackage", re.compile(rb"SQLite format 3\x00")),
}


def read_features(path: Path) -> Collection:
    """All features of a file, with its own coordinate system if it names one.

    Raises
    ------
    SketchError
        The file is missing, too large, of another kind than its name says, or broken.
    """
    content = read_content(path)
    suffix = path.suffix.lower()
    if suffix in (".geojson", ".json"):
        return geojson.features(content, path.name)
    if suffix == ".csv":
        return csvfile.features(content, path.name)
    kind = FORMATS[suffix]
    if suffix != ".gpkg":
        content = content.replace(b"\0", b"")  # UTF-16 as plain letters, for the look at its start
        if UNWANTED.search(content):
            msg = f"{path.name} is more than {kind.name}; save it again as plain {kind.name}"
            raise SketchError(msg)
    if not kind.start.match(content):
        msg = f"{path.name} is not a {kind.name} file, as its name says; save it as {kind.name}"
        raise SketchError(msg)
    if suffix == ".gpkg":
        refuse_live_sql(path)
    from planner.site.gdal import through_gdal  # noqa: PLC0415  heavy, and most need none of it

    return through_gdal(path, kind.name)


def read_content(path: Path) -> bytes:
    """The bytes of a file of a known kind and bearable size.

    Raises
    ------
    SketchError
        It can't be read as such.
    """
    if path.suffix.lower() not in FORMATS:
        known = "GeoJSON (.geojson), GPX, KML, GeoPackage (.gpkg) or CSV"
        msg = f"{path.name} is of no kind that is read here; give {known}"
        raise SketchError(msg)
    if not path.is_file():
        reason = "is a folder" if path.is_dir() else "is not there"
        msg = f"the file {path} {reason}; give the path of a file that is"
        raise SketchError(msg)
    size = path.stat().st_size
    if size > LARGEST_FILE:
        msg = f"{path.name} has {size / 1e6:.0f} MB; give a file of at most 50 MB"
        raise SketchError(msg)
    try:
        content = path.read_bytes()
    except OSError as error:
        msg = f"{path.name} can't be read ({error.strerror}); check who may read it"
        raise SketchError(msg) from error
    if not content.strip():
        msg = f"{path.name} is empty; save it again"
        raise SketchError(msg)
    return content
