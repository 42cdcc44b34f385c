"""The rows of a level book to set-ups, each from a back sight to a fore sight."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.errors import InputError
from planner.levels.entry import Entry, Written
from planner.levels.names import StationNames, shown

LONGEST_STAFF = 6.0  # m; builders' staves have 4 or 5 m
LONGEST_ROD = 7.62  # m, the 25 ft of US rods
FARTHEST = 2000.0  # m from one row to the next

SIGHTS = ("back", "intermediate", "fore")
DISTANCES = ("distance", "back_distance", "fore_distance")


@dataclass(frozen=True, slots=True)
class BookRow:
    """A row of the book: its station, its sights by column and the distances noted [m]."""

    entry: Entry
    station: str
    sights: dict[str, Written]
    distances: dict[str, float]


@dataclass(frozen=True, slots=True)
class SetUp:
    """One place of the instrument.

    Attributes
    ----------
    rows : tuple of BookRow
        Those sighted from it, the back sight's first, the fore sight's last.
    run : int
        Of the chain of set-ups it belongs to, from 1.
    """

    rows: tuple[BookRow, ...]
    run: int

    @property
    def back(self) -> Written:
        """The back sight."""
        return self.rows[0].sights["back"]

    def sight(self, index: int) -> tuple[str, Written]:
        """Column and reading of a row as sighted from here."""
        if index == 0:
            return "back", self.back
        column = "fore" if index == len(self.rows) - 1 else "intermediate"
        return column, self.rows[index].sights[column]


def book_rows(entries: Iterable[Entry], names: StationNames) -> list[BookRow]:
    """The rows that hold sights; those of remarks alone are none.

    Raises
    ------
    InputError
        A row holds no sight, too many, or what can't be read off a staff.
    """
    return [_row(entry, names) for entry in entries if set(entry.cells) - {"remark"}]


def set_ups(rows: Iterable[BookRow]) -> Iterator[SetUp]:
    """The set-ups of a book; one that does not begin where the last ended begins a new run.

    Raises
    ------
    InputError
        The book has a gap: a set-up without its fore sight, a sight without a back sight before
        it, or a station sighted back and fore at once.
    """
    standing: list[BookRow] = []
    run, last = 0, ""
    for row in rows:
        if standing:
            _check_sight(row, standing)
            standing.append(row)
            if "fore" in row.sights:
                yield SetUp(tuple(standing), run)
                standing, last = [], row.station
        elif "back" not in row.sights:
            column = next(iter(row.sights))
            what = "no back sight stands before it; begin each set-up with a back sight"
            raise row.entry.wrong(column, what)
        if "back" in row.sights and not standing:
            run += row.station != last
            standing = [row]
    if standing:
        msg = (
            f"the set-up that begins at {standing[0].entry.row} has no fore sight; write its last "
            "sight in the column fore"
        )
        raise InputError(msg)


def _check_sight(row: BookRow, standing: list[BookRow]) -> None:
    """That a row can follow in a set-up."""
    first = standing[0]
    if "back" in row.sights and "fore" not in row.sights:
        what = (
            f"a second back sight stands in the set-up that begins at {first.entry.row}, which has "
            "no fore sight yet; write the fore sight that ends that set-up"
        )
        raise row.entry.wrong("back", what)
    if row.station == first.station:
        column = "fore" if "fore" in row.sights else "intermediate"
        what = (
            f"{shown(row.station)} is the station of the set-up's own back sight "
            f"({first.entry.row}); a sight leads to another station"
        )
        raise row.entry.wrong(column, what)


def _row(entry: Entry, names: StationNames) -> BookRow:
    station = entry.station(names)
    sights = {column: w for column in SIGHTS if (w := entry.length(column)) is not None}
    if not sights:
        msg = f"{entry.row} holds no sight; write what was read on the staff at {shown(station)}"
        raise InputError(msg)
    if "intermediate" in sights and len(sights) > 1:
        what = (
            "an intermediate sight stands beside a back or fore sight; a change point has its fore "
            "and back sight in one row, any other sight has a row of its own"
        )
        raise entry.wrong("intermediate", what)
    for column, sight in sights.items():
        _check_staff(entry, column, sight)
    distances = {column: _distance(entry, column) for column in DISTANCES if column in entry.cells}
    return BookRow(entry, station, sights, distances)


def _check_staff(entry: Entry, column: str, sight: Written) -> None:
    if sight.value < 0.0:
        what = (
            f"{sight.shown} is below the foot of the staff; write what was read, without a sign "
            "(a staff held upside down can't be used here)"
        )
        raise entry.wrong(column, what)
    feet = sight.unit in ("foot", "inch")
    longest = LONGEST_ROD if feet else LONGEST_STAFF
    if sight.value > longest + 1e-9:
        other = "metres" if feet else "feet"
        what = (
            f"{sight.shown} is more than a staff has ({'25 ft' if feet else '6 m'}); if it was "
            f"read in {other}, millimetres or the like, write its unit behind it or in the header, "
            "such as "
            f'"{column} ({"m" if feet else "ft"})"'
        )
        raise entry.wrong(column, what)


def _distance(entry: Entry, column: str) -> float:
    written = entry.length(column)
    distance = math.nan if written is None else written.value
    if not 0.0 <= distance <= FARTHEST:
        what = (
            f"{distance:,.0f} m is no distance from one row to the next; write one from 0 to "
            f"{FARTHEST:,.0f} m"
        )
        raise entry.wrong(column, what)
    return distance
