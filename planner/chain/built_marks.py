"""What was noted along a line as it was laid, from a CSV.

Columns, of which all but a place may be left out; case and blanks do not matter, and a unit may
stand behind a name ("depth_m", "chainage (ft)") or in each cell::

    chainage | stake | lon, lat   [, depth] [, what] [, photo] [, remark]

Chainage is counted along the pipe from where its water comes from; "1+25" is a station of 100 ft
(or, of metres, "0+125"). A stake is one of the plan's stake list. Depth is from the ground to the
pipe, negative for one that is propped.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from planner.errors import InputError
from planner.levels.entry import Entry
from planner.levels.names import StationNames
from planner.levels.table import Table, read_table
from planner.levels.value import Row
from planner.site.field import LengthUnit
from planner.site.words import clean_text
from planner.units.parse import LENGTHS, quoted

NO_STAKES: Mapping[str, tuple[float, float]] = MappingProxyType({})
DEPTHS = (-5.0, 6.0)  # m, as of a depth in the site file
LONGEST_WORDS = 200  # characters
WORDS = {
    "chainage": "chainage,station,ch,distance,at",
    "stake": "stake,peg,stakename,nearstake",
    "lon": "lon,longitude,lng,long",
    "lat": "lat,latitude",
    "depth": "depth,cover,depthofpipe,pipedepth",
    "what": "what,item,fitting,mark,kind",
    "photo": "photo,photos,picture,pictures,image",
    "remark": "remark,remarks,note,notes,comment",
}
MEANING = {word: column for column, words in WORDS.items() for word in words.split(",")}
WANTED = "chainage (or stake, or lon and lat), depth, what, photo, remark"
UNIT = re.compile(r"(?P<name>.*?)[\s_([]+(?:in\s+)?(?P<unit>m|ft|feet|metres|meters|cm|mm|in)\W*")
STATION = re.compile(r"(?P<whole>[0-9]{1,4})\+(?P<rest>[0-9]{2,3}(?:\.[0-9]+)?)")


@dataclass(frozen=True, slots=True)
class Noted:
    """One row: where it stands in the file and on the ground, and what was noted there.

    `place` is the chainage along the pipe, or longitude, latitude; chainage and depth in m.
    """

    row: Row
    place: float | tuple[float, float]
    depth: float | None
    what: str
    photo: str
    remark: str


def read_marks(
    path: Path, unit: LengthUnit, stakes: Mapping[str, tuple[float, float]] = NO_STAKES
) -> tuple[Noted, ...]:
    """The rows of a file of marks, in its order.

    Parameters
    ----------
    unit : {"m", "ft"}
        Of lengths that carry none, in their cell or in the header.
    stakes : mapping of str to (lon, lat), optional
        Where the stakes stand [degrees].

    Raises
    ------
    InputError
        The file or a row of it can't be used; the message names the file and the line.
    """
    if not path.is_file():
        reason = "is a folder" if path.is_dir() else "is not there"
        msg = f"the file {path} {reason}; give the path of a file that is"
        raise InputError(msg)
    table = read_table(path)
    columns = _columns(table, "meter" if unit == "m" else "foot")
    names = StationNames(stakes)
    return tuple(_noted(entry, names, stakes) for entry in _entries(table, columns))


def _columns(table: Table, bare: str) -> list[tuple[str, str] | None]:
    """Of each column what it means and its unit; None: left aside."""
    columns = [_column(said, bare) for said in table.header]
    names = [column[0] for column in columns if column is not None]
    twice = next((name for name in names if names.count(name) > 1), None)
    if twice is not None:
        msg = f"{table.head}: two columns mean {twice}; keep one of them"
        raise InputError(msg)
    if not {"chainage", "stake"} & set(names) and not {"lon", "lat"} <= set(names):
        shown = quoted(", ".join(table.header))
        msg = f"{table.head} has the columns {shown}; it needs {WANTED}"
        raise InputError(msg)
    return columns


def _column(said: str, bare: str) -> tuple[str, str] | None:
    plain, unit = " ".join(said.casefold().split()), bare
    found = UNIT.fullmatch(plain)
    if found is not None and _squashed(plain) not in MEANING:
        plain, unit = found["name"], LENGTHS[found["unit"]]
    name = MEANING.get(_squashed(plain))
    return None if name is None else (name, unit)


def _squashed(text: str) -> str:
    return "".join(c for c in text if c.isalnum())


def _entries(table: Table, columns: list[tuple[str, str] | None]) -> Iterator[Entry]:
    known = [(k, *column) for k, column in enumerate(columns) if column is not None]
    units = {name: unit for _, name, unit in known}
    for row, cells in table.lines:
        filled = {name: cells[k] for k, name, _ in known if cells[k]}
        if filled:
            yield Entry(row, filled, units, table.decimal_comma)


def _noted(entry: Entry, names: StationNames, stakes: Mapping[str, tuple[float, float]]) -> Noted:
    place = _chainage(entry)
    if place is None:
        place = entry.place() or _at_stake(entry, names, stakes)
    if place is None:
        msg = f"{entry.row} tells no place; write its chainage, or lon and lat"
        raise InputError(msg)
    written = entry.length("depth")
    depth = None if written is None else written.value
    if written is not None and not DEPTHS[0] <= written.value <= DEPTHS[1]:
        what = f"{written.shown} can't be right; a pipe lies at most 6 m deep"
        raise entry.wrong("depth", what)
    words = {column: _words(entry, column) for column in ("what", "photo", "remark")}
    return Noted(entry.row, place, depth, **words)


def _chainage(entry: Entry) -> float | tuple[float, float] | None:
    text = entry.cells.get("chainage", "")
    station = STATION.fullmatch(text)
    if station is not None:
        whole = float(station["whole"]) * 10.0 ** len(station["rest"].partition(".")[0])
        plain = {**entry.cells, "chainage": f"{whole + float(station['rest']):.6g}"}
        entry = Entry(entry.row, plain, entry.units, decimal_comma=False)
    length = entry.length("chainage")
    if length is not None and length.value < 0.0:
        raise entry.wrong("chainage", "it is before the line's start; count from there")
    return None if length is None else length.value


def _at_stake(
    entry: Entry, names: StationNames, stakes: Mapping[str, tuple[float, float]]
) -> tuple[float, float] | None:
    if "stake" not in entry.cells:
        return None
    name = names.find(entry.cells["stake"], entry.row)
    if name not in stakes:
        what = (
            f"no stake list has {quoted(name)}; name the list as stakes under [measured], or "
            "write the chainage"
        )
        raise entry.wrong("stake", what)
    return stakes[name]


def _words(entry: Entry, column: str) -> str:
    text = clean_text(entry.cells.get(column, ""))
    if len(text) > LONGEST_WORDS:
        what = f"{quoted(text)} is too long; write at most {LONGEST_WORDS} characters"
        raise entry.wrong(column, what)
    return text
