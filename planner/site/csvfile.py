"""Points of a CSV table with the columns name, role, and lon, lat or x, y."""

from shapely.geometry import Point

from planner.errors import SketchError
from planner.site.csv_table import CsvRow, CsvTable, csv_table
from planner.site.feature import Collection, Feature
from planner.site.lonlat import WGS84
from planner.units.parse import quoted

DEGREES = (("lon", "lat"), ("longitude", "latitude"), ("lng", "lat"), ("long", "lat"))
METRES = (("x", "y"), ("easting", "northing"), ("east", "north"))


def features(content: bytes, name: str) -> Collection:
    """The rows of a CSV file's content as points.

    Raises
    ------
    SketchError
        It is no table of points in UTF-8.
    """
    table = csv_table(content, name)
    axes = coordinate_columns(table, DEGREES + METRES, "lon and lat, or x and y")
    found = tuple(
        _point(row, axes, f"{name}, row {number}") for number, row in enumerate(table.rows, start=1)
    )
    return Collection(found, WGS84 if axes in DEGREES else None)


def coordinate_columns(
    table: CsvTable, pairs: tuple[tuple[str, str], ...], wanted: str
) -> tuple[str, str]:
    """Which of these pairs of columns a table has.

    Raises
    ------
    SketchError
        It has none; `wanted` says in the message what it needs.
    """
    for across, up in pairs:
        if across in table.columns and up in table.columns:
            return across, up
    columns = quoted(", ".join(table.columns))
    msg = f"{table.name} has the columns {columns}; it needs {wanted}"
    raise SketchError(msg)


def coordinates(row: CsvRow, axes: tuple[str, str], place: str) -> tuple[float, float]:
    """The two coordinates of a row.

    Raises
    ------
    SketchError
        One of them is no number; the message begins with `place`.
    """
    numbers = []
    for axis in axes:
        try:
            numbers.append(float(row.said(axis)))
        except ValueError as error:
            msg = (
                f"{place}: {axis} is {quoted(row.said(axis))}, which is no number; "
                "write one with a decimal point, such as 11.2041"
            )
            raise SketchError(msg) from error
    return numbers[0], numbers[1]


def _point(row: CsvRow, axes: tuple[str, str], place: str) -> Feature:
    said = {key: cell for key, cell in row.cells.items() if key not in axes and cell != ""}
    return Feature(Point(*coordinates(row, axes, place)), said, place)
