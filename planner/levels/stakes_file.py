"""Where the stakes of a list stand (`stakes.csv` of a plan's folder), by name.

Its columns `name`, `lon` and `lat` are needed. Lines through them are `planner.site.stake_list`'s.
"""

import math
from pathlib import Path

from planner.errors import InputError
from planner.levels.table import Table, read_table
from planner.levels.value import Row
from planner.site.words import clean_name
from planner.units.parse import quoted

NEEDED = ("name", "lon", "lat")
MOST_STAKES = 20_000


def read_stakes(path: Path) -> dict[str, tuple[float, float]]:
    """Longitude, latitude [degrees] of each stake of a list, as it was or as it came back.

    Raises
    ------
    InputError
        The file can't be read, a column is missing, a cell holds no place, or a name is there
        twice.
    """
    table = read_table(path, most=MOST_STAKES)
    columns = _columns(table)
    places: dict[str, tuple[float, float]] = {}
    met: dict[str, Row] = {}
    for row, cells in table.lines:
        said = {column: cells[index] for column, index in columns.items()}
        name = _name(said["name"], row)
        before = met.setdefault(name.casefold(), row)
        if before is not row:
            msg = f"{row}: the stake {quoted(name)} is at {before} already; give it another name"
            raise InputError(msg)
        places[name] = _place(said, row, table)
    if not places:
        msg = f"{table.name} holds no stakes; give the stakes.csv of a plan's folder"
        raise InputError(msg)
    return places


def _columns(table: Table) -> dict[str, int]:
    names = [said.casefold() for said in table.header]
    missing = [column for column in NEEDED if column not in names]
    if missing:
        found = quoted(", ".join(table.header))
        msg = (
            f"{table.head} has the columns {found}; a stake list needs {', '.join(NEEDED)}, and "
            f"{missing[0]} is missing"
        )
        raise InputError(msg)
    return {column: names.index(column) for column in NEEDED}


def _name(text: str, row: Row) -> str:
    name = clean_name(text, str(row))
    if not name:
        msg = f"{row}, column name: it is empty; write the name"
        raise InputError(msg)
    return name


def _place(said: dict[str, str], row: Row, table: Table) -> tuple[float, float]:
    lon, lat = (_number(said, column, row, table) for column in ("lon", "lat"))
    if abs(lon) > 180.0 or abs(lat) > 90.0:
        msg = f"{row}: lon {lon:.8g}, lat {lat:.8g} is no place on the Earth; write degrees"
        raise InputError(msg)
    return lon, lat


def _number(said: dict[str, str], column: str, row: Row, table: Table) -> float:
    text = said[column]
    try:
        value = float(text.replace(",", ".") if table.decimal_comma else text)
    except ValueError:
        value = math.nan
    if not math.isfinite(value):
        msg = f"{row}, column {column}: {quoted(text)} is no number; write one, such as 11.2041"
        raise InputError(msg)
    return value
