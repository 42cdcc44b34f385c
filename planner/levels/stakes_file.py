"""A stake list as a plan's folder holds it (`stakes.csv`): where each stake stands, line by line.

Of its columns `name`, `line`, `lon` and `lat` are needed; stakes of a line are taken by `number`,
else by `chainage_m`, else in their order.
"""

import math
from dataclasses import dataclass
from pathlib import Path

from shapely.geometry import LineString

from planner.errors import InputError
from planner.levels.table import Table, read_table
from planner.levels.value import Row
from planner.site.words import clean_name
from planner.units.parse import quoted

NEEDED = ("name", "line", "lon", "lat")
MOST_STAKES = 20_000
ORDER = ("number", "chainage_m")


@dataclass(frozen=True, slots=True)
class StakeList:
    """Stakes by name, and the lines through them.

    Attributes
    ----------
    places : dict of str to (lon, lat)
        [degrees]
    lines : dict of str to LineString
        Through the stakes of a line, in order [degrees]; only lines of two stakes or more.
    """

    places: dict[str, tuple[float, float]]
    lines: dict[str, LineString]


def read_stakes(path: Path) -> StakeList:
    """The stakes of a plan's stake list, as it was or as it came back from the field.

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
    along: dict[str, list[tuple[float, tuple[float, float]]]] = {}
    for row, cells in table.lines:
        said = {column: cells[index] for column, index in columns.items()}
        name, line = (_name(said, column, row) for column in ("name", "line"))
        if name.casefold() in met:
            before = met[name.casefold()]
            msg = f"{row}: the stake {quoted(name)} is at {before} already; give it another name"
            raise InputError(msg)
        met[name.casefold()] = row
        places[name] = _place(said, row, table)
        rank = next((_number(said, key, row, table) for key in ORDER if said.get(key)), math.nan)
        along.setdefault(line, []).append((rank, places[name]))
    if not places:
        msg = f"{table.name} holds no stakes; give the stakes.csv of a plan's folder"
        raise InputError(msg)
    return StakeList(places, {line: shape for line, own in along.items() if (shape := _line(own))})


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
    return {column: names.index(column) for column in (*NEEDED, *ORDER) if column in names}


def _name(said: dict[str, str], column: str, row: Row) -> str:
    name = clean_name(said[column], str(row))
    if not name:
        msg = f"{row}, column {column}: it is empty; write the name"
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


def _line(own: list[tuple[float, tuple[float, float]]]) -> LineString | None:
    """The line through stakes that stand apart; None if they are fewer than two."""
    ranked = own if any(math.isnan(rank) for rank, _ in own) else sorted(own)
    points = [at for _, at in ranked]
    apart = [at for i, at in enumerate(points) if i == 0 or at != points[i - 1]]
    return LineString(apart) if len(apart) > 1 else None
