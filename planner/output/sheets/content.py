"""`SheetContent`: what one sheet shows, taken from a plan or put together by hand."""

import datetime
from dataclasses import dataclass

from planner.record.value import Level, Line, Placed, PlacedArea, SchemeKind
from planner.site.value import Units
from planner.terrain.drainage import Stream
from planner.terrain.value import Terrain


@dataclass(frozen=True, slots=True)
class Numbered:
    """A finding in words, with the number it has on map, list and sheet."""

    number: int
    level: Level
    message: str
    remedy: str
    line: str | None = None
    chainage_m: float | None = None


@dataclass(frozen=True, eq=False, slots=True)
class SheetContent:
    """What the sheet of one line shows.

    Attributes
    ----------
    title : str
        Name of the site.
    line : Line
        The line of this sheet; `others` are drawn thin on its plan.
    findings : tuple of Numbered
        Those of this line and those of the whole scheme.
    number, of : int
        This is sheet `number` of `of`.
    """

    title: str
    scheme: SchemeKind
    line: Line
    terrain: Terrain
    units: Units
    made: datetime.date
    points: tuple[Placed, ...] = ()
    others: tuple[Line, ...] = ()
    areas: tuple[PlacedArea, ...] = ()
    streams: tuple[Stream, ...] = ()
    findings: tuple[Numbered, ...] = ()
    cautions: tuple[str, ...] = ()
    number: int = 1
    of: int = 1
