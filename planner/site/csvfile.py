"""Points of a CSV table with the columns name, role, and lon, lat or x, y."""

import csv
import io

from shapely.geometry import Point

from planner.errors import SketchError
from planner.site.feature import Collection, Feature
from planner.site.lonlat import WGS84
from planner.units.parse import quoted

DEGREES = (("lon", "lat"), ("longitude", "latitude"), ("lng", "lat"), ("long", "lat"))
METRES = (("x", "y"), ("easting", "northing"), ("east", "north"))
MOST_ROWS = 20_000


def features(content: bytes, name: str) -> Collection:
    """The rows of a CSV file's content as points.

    Raises
    ------
    SketchError
        It is no table of points in UTF-8.
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        msg = f"{name} is not written in UTF-8; save the table again as CSV in UTF-8"
        raise SketchError(msg) from error
    head = text.partition("\n")[0]
    delimiter = max(",;\t", key=head.count)
    table = csv.reader(io.StringIO(text), delimiter=delimiter)
    try:
        header, *rows = [row for row in table if any(cell.strip() for cell in row)]
    except csv.Error as error:
        msg = f"{name}, line {table.line_num}: no row of a table ({error}); save it again as CSV"
        raise SketchError(msg) from error
    if len(rows) > MOST_ROWS:
        msg = f"{name} has {len(rows)} rows; keep those of the sketch alone, at most {MOST_ROWS}"
        raise SketchError(msg)
    columns = [cell.strip().lower() for cell in header]
    across, up = _axes(columns, name)
    found = tuple(
        _point(dict(zip(columns, row, strict=False)), across, up, f"{name}, row {number}")
        for number, row in enumerate(rows, start=1)
    )
    return Collection(found, WGS84 if (across, up) in DEGREES else None)


def _axes(columns: list[str], name: str) -> tuple[str, str]:
    for across, up in DEGREES + METRES:
        if across in columns and up in columns:
            return across, up
    msg = f"{name} has the columns {quoted(', '.join(columns))}; it needs lon and lat, or x and y"
    raise SketchError(msg)


def _point(row: dict[str, str], across: str, up: str, place: str) -> Feature:
    numbers = []
    for axis in (across, up):
        try:
            numbers.append(float(row.get(axis, "")))
        except ValueError as error:
            msg = (
                f"{place}: {axis} is {quoted(row.get(axis, ''))}, which is no number; "
                "write one with a decimal point, such as 11.2041"
            )
            raise SketchError(msg) from error
    said = {
        key: cell.strip()
        for key, cell in row.items()
        if key not in (across, up) and cell.strip() != ""
    }
    return Feature(Point(*numbers), said, place)
