"""`SheetContent`: what one sheet shows, taken from a plan or put together by hand."""

import datetime
from dataclasses import dataclass, field

from planner.levels.value import Survey
from planner.output.sheets.reach import Reach
from planner.output.sheets.scales import Scales
from planner.output.stakes.value import Stake
from planner.record.value import Level, Line, Placed, PlacedArea, SchemeKind
from planner.site.field import Papers
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
    stakes : tuple of Stake
        Of this line.
    papers : Papers
        What the title block says beside the plan's own.
    survey : Survey or None
        Levels measured on the ground.
    reach : Reach or None
        The part of the line shown; None: all of it.
    scales : Scales or None
        As the line's other sheets have them; None: as large as fits.
    before, after : int or None
        Numbers of the sheets that show the parts before and after.
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
    stakes: tuple[Stake, ...] = ()
    papers: Papers = field(default_factory=Papers)
    survey: Survey | None = None
    reach: Reach | None = None
    scales: Scales | None = None
    before: int | None = None
    after: int | None = None
