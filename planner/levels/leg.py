"""What the reduction of one file hands on: differences with the sights they were reckoned from."""

from dataclasses import dataclass
from typing import NamedTuple

from planner.levels.entry import Written
from planner.levels.value import Difference, Known, Row

LonLat = tuple[float, float]


class Run(NamedTuple):
    """A chain of set-ups or shots: the file's name, and its number in that file."""

    file: str
    number: int


@dataclass(frozen=True, slots=True)
class Sight:
    """One reading of a staff or a scale, or a level or a rise that was written down as such."""

    row: Row
    column: str
    written: Written


@dataclass(frozen=True, slots=True)
class Leg:
    """A difference and how it came about.

    Attributes
    ----------
    difference : Difference
    back, fore : Sight or None
        Its rise is the one less the other; where there is no fore, it is `back` alone.
    setup : int
        Counts the instrument's places in a file, from 1; 0 where there are none.
    run : Run
    """

    difference: Difference
    back: Sight
    fore: Sight | None
    setup: int
    run: Run


@dataclass(frozen=True, slots=True)
class Place:
    """Where a station stands [degrees], and the row that says so."""

    station: str
    at: LonLat
    row: Row


@dataclass(frozen=True, slots=True)
class Start:
    """A run that begins at a station its own file has not sighted before."""

    station: str
    row: Row


@dataclass(frozen=True, slots=True)
class Reduced:
    """What one file holds. `starts` are the beginnings of its runs after the first."""

    legs: tuple[Leg, ...] = ()
    knowns: tuple[Known, ...] = ()
    places: tuple[Place, ...] = ()
    starts: tuple[Start, ...] = ()
    notes: tuple[str, ...] = ()
