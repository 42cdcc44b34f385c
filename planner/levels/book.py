"""A level book, by rise and fall or by height of instrument, to differences.

Both ways of booking hold the same sights; what they add is arithmetic, which is checked where it
is filled in. An example, in m::

    station, back, intermediate, fore, distance, remark
    BM,      1.425,,,,                  nail in the gate post
    De 01,   ,     1.870,,      12,
    TP 1,    2.310,,     0.655, 28,     change point
    De 02,   ,     1.905,,      15,
    Tank,    ,     ,     0.480, 23,
"""

import math
from collections.abc import Iterable, Iterator

from planner.levels.book_check import check_arithmetic, check_sums
from planner.levels.book_rows import BookRow, SetUp, book_rows, set_ups
from planner.levels.entry import Entry
from planner.levels.leg import Leg, Place, Reduced, Run, Sight, Start
from planner.levels.names import StationNames
from planner.levels.value import Difference

# An automatic builder's level: about 3 mm a sight of 30 m (hydraulics notes, section 6 [GK-h]).
SIGHT_ERROR = 0.003  # m
SIGHT_LENGTH = 30.0  # m
SUM_WORDS = {"sum", "sums", "total", "totals", "σ"}


def read_book(entries: Iterable[Entry], names: StationNames) -> Reduced:
    """The differences of a level book, each from the back sight of a set-up to another sight.

    Raises
    ------
    InputError
        A sight is no reading of a staff, the book has a gap, or its own arithmetic is wrong.
    """
    told = list(entries)
    sums = [entry for entry in told if entry.cells.get("station", "").casefold() in SUM_WORDS]
    rows = book_rows([entry for entry in told if entry not in sums], names)
    setups = tuple(set_ups(rows))
    check_arithmetic(setups)
    check_sums(rows, sums)
    finest = min((sight.step for row in rows for sight in row.sights.values()), default=0.0)
    legs = tuple(
        _leg(number, setup, index, finest)
        for number, setup in enumerate(setups, start=1)
        for index in range(1, len(setup.rows))
    )
    places = tuple(
        Place(row.station, at, row.entry.row)
        for row in rows
        if (at := row.entry.place()) is not None
    )
    return Reduced(legs, places=places, starts=tuple(_starts(setups)))


def _starts(setups: Iterable[SetUp]) -> Iterator[Start]:
    """Where runs after the first begin at a station the book has not sighted before."""
    met: set[str] = set()
    for setup in setups:
        first = setup.rows[0]
        if met and first.station not in met:
            yield Start(first.station, first.entry.row)
        met.update(row.station for row in setup.rows)


def _leg(number: int, setup: SetUp, index: int, step: float) -> Leg:
    back, (column, sight) = setup.back, setup.sight(index)
    first, row = setup.rows[0], setup.rows[index]
    distance = _distance(setup, index)
    far = 1.0 if math.isnan(distance) else max(1.0, 0.5 * distance / SIGHT_LENGTH)
    # Two sights, each with the error of the instrument and that of rounding to the last place.
    error = math.sqrt(2.0 * ((far * SIGHT_ERROR) ** 2 + step**2 / 12.0))
    difference = Difference(
        first.station,
        row.station,
        back.value - sight.value,
        error,
        "level",
        row.entry.row,
        distance,
    )
    return Leg(
        difference,
        Sight(first.entry.row, "back", back),
        Sight(row.entry.row, column, sight),
        number,
        Run(row.entry.row.file, setup.run),
    )


def _distance(setup: SetUp, index: int) -> float:
    """From the back sight's station to another, along the sights or the tape; NaN if not noted."""
    first, row = setup.rows[0], setup.rows[index]
    sights = (first.distances.get("back_distance"), row.distances.get("fore_distance"))
    if sights[0] is not None and sights[1] is not None:
        return sights[0] + sights[1]
    if "distance" not in row.distances:
        return math.nan
    # At the beginning of a run there is no row before: a distance there is that of the sight.
    noted = [one.distances.get("distance", 0.0) for one in setup.rows[1 : index + 1]]
    return sum(noted) + _before(first)


def _before(first: BookRow) -> float:
    return 0.0 if "fore" in first.sights else first.distances.get("distance", 0.0)
