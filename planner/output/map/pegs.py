"""The stakes of a plan as lists in words, and as the few figures that the page's scripts need."""

import hashlib
import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from planner.output.look import ROLES, RoleLook
from planner.output.rounding import number
from planner.output.sheets.measure import Measure, measure
from planner.output.stakes.clean import one_line
from planner.output.stakes.table import lengths
from planner.output.stakes.value import Reason, Stake, StakedLine
from planner.record.value import Plan

DECIMALS = 2  # of levels and depths, in metres and in feet
PLACE = 7  # decimals of a degree: 1 cm
TELLING: frozenset[Reason] = frozenset({"start", "end", "high", "low", "crossing", "size"})


@dataclass(frozen=True, slots=True)
class PegRow:
    """One stake: its name and its figures without their units; `moved` since the stake before.

    `walk` leads to it from the stake before, `grade` tells of the pipe to the next; either may
    be "".
    """

    name: str
    chainage: str
    ground: str
    pipe: str
    depth: str
    moved: str
    walk: str
    grade: str
    remark: str


@dataclass(frozen=True, slots=True)
class PegList:
    """The stakes of one line, as the water flows."""

    line: str
    look: RoleLook
    rows: tuple[PegRow, ...]

    @property
    def propped(self) -> bool:
        """Whether the pipe stands above the ground somewhere."""
        return any(row.depth.startswith("−") for row in self.rows)


def peg_lists(plan: Plan, staked: Sequence[StakedLine]) -> list[PegList]:
    """The stakes of every line in words and in the site's units."""
    units = measure(plan.site.units)
    return [
        PegList(one.line.name, ROLES[one.line.role], tuple(_rows(one, units)))
        for one in staked
        if one.stakes
    ]


def peg_marks(staked: StakedLine) -> list[list[Any]]:
    """Name, latitude, longitude, chainage [m] and weight of each stake; heavier names stand first.

    Names, figures and remarks in words are read off the list, so that the page holds them once.
    """
    return [
        [
            stake.name,
            number(stake.lonlat[1], PLACE),
            number(stake.lonlat[0], PLACE),
            number(stake.chainage_m, DECIMALS),
            int(bool(TELLING.intersection(stake.reasons)) or bool(stake.findings)),
        ]
        for stake in staked.stakes
    ]


def peg_digest(staked: Sequence[StakedLine]) -> str:
    """What tells one set of stakes from another: their names and places, to 10 cm."""
    places = [
        [stake.name, number(stake.lonlat[0], 6), number(stake.lonlat[1], 6)]
        for one in staked
        for stake in one.stakes
    ]
    return hashlib.sha256(json.dumps(places).encode()).hexdigest()[:12]


def _rows(staked: StakedLine, units: Measure) -> list[PegRow]:
    rows = []
    figures = lengths(staked, units.metres, DECIMALS)
    for place, (stake, figure) in enumerate(zip(staked.stakes, figures, strict=True)):
        before = staked.stakes[place - 1] if place else None
        rows.append(
            PegRow(
                name=stake.name,
                chainage=units.chainage(stake.chainage_m),
                ground=_text(figure["ground"]),
                pipe=_text(figure["pipe"]),
                depth=_text(figure["depth"]),
                moved="" if before is None else _moved(figure["rise"]),
                walk="" if before is None else _walk(stake, before, units),
                grade=_grade(stake.grade_after),
                remark=one_line(stake.remark),
            )
        )
    return rows


def _text(value: float | None) -> str:
    return "–" if value is None else f"{value:.{DECIMALS}f}".replace("-", "−")


def _moved(rise: float | None) -> str:
    """A fall with an arrow down, a rise with one up: signs are misread in the field."""
    if rise is None:
        return "–"
    return f"{'↓' if rise < 0.0 else '↑' if rise > 0.0 else ''} {_text(abs(rise))}".strip()


def _walk(stake: Stake, before: Stake, units: Measure) -> str:
    far = f"{stake.back_m / units.metres:.1f} {units.symbol} from {before.name}"
    return far if stake.bearing is None else f"{far} at {round(stake.bearing) % 360}°"


def _grade(grade: float | None) -> str:
    if grade is None or not math.isfinite(grade):
        return ""
    if abs(grade) < 5e-4:
        return "level"
    return f"{'falls' if grade < 0.0 else 'rises'} {100.0 * abs(grade):.1f}\N{NO-BREAK SPACE}%"
