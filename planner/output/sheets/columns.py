"""Which chainages get a column of figures, and what each column holds."""

from dataclasses import dataclass

import numpy as np

from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import FIGURE, SMALL, text_width
from planner.output.sheets.marks import USUAL, chainage_marks, mark_step
from planner.output.sheets.measure import Measure
from planner.output.sheets.place import turns as points_turned
from planner.output.sheets.reach import Reach
from planner.output.stakes.make import APART
from planner.output.stakes.value import Reason, Stake
from planner.profile.value import FloatArray
from planner.record.value import Line

CLEAR = 1.0  # mm between the figures of two columns
MANY_MORE = 1.3  # times the marks, for which figures may be small
SAME = 0.06  # m; a stake so near stands at the mark
TELLING: tuple[frozenset[Reason], ...] = (
    frozenset({"start", "end", "high", "low"}),
    frozenset({"crossing", "size"}),
)
"""Reasons of stakes that get a column before the round ones, the most telling first."""


@dataclass(frozen=True, slots=True)
class Columns:
    """A row's name and its figure at each mark; `strong` ones are set bold."""

    name: str
    figures: list[str]
    strong: bool = False


def marks_for(
    content: SheetContent, reach: Reach, scale: int, measure: Measure
) -> tuple[FloatArray, float]:
    """Chainages [m] of the columns, and the size of type [pt] in which their figures fit.

    Figures are large, unless only small ones let a mark stand every 10 m or 25 ft.
    """
    ends = chainage_marks(content.line.profile, reach, (), scale, 8.0, measure)
    large, small = (
        _marks(content, reach, scale, widest(content, ends, measure, size) + CLEAR, measure)
        for size in (FIGURE, SMALL)
    )
    usual = USUAL[measure.symbol] * measure.metres * 1.001
    denser = small[1] <= usual < large[1] and small[0].size > MANY_MORE * large[0].size
    return (small[0], SMALL) if denser else (large[0], FIGURE)


def _marks(
    content: SheetContent, reach: Reach, scale: int, apart: float, measure: Measure
) -> tuple[FloatArray, float]:
    """Chainages of the columns `apart` mm from each other, and their regular distance [m]."""
    profile = content.line.profile
    step = mark_step(scale, apart, measure)
    round_ones = np.arange(1, int(profile.length / step) + 1) * step
    pegged = [_pegged(content.stakes, float(mark)) for mark in round_ones]
    wanted = (*_wanted(content), *pegged)
    return chainage_marks(profile, reach, wanted, scale, apart, measure), step


def _pegged(stakes: tuple[Stake, ...], chainage: float) -> float:
    """The chainage of the stake that stands in for a round one [m]; else the round one itself."""
    places = [stake.chainage_m for stake in stakes]
    near = min(places, key=lambda at: abs(at - chainage), default=chainage)
    return near if abs(near - chainage) < APART else chainage


def widest(content: SheetContent, marks: FloatArray, measure: Measure, size: float) -> float:
    """Width [mm] of the widest figure of the rows at some marks."""
    rows = figure_rows(content, marks, measure)
    return max(
        text_width(text, size, "bold" if row.strong else "normal")
        for row in rows
        for text in row.figures
    )


def _wanted(content: SheetContent) -> tuple[float, ...]:
    """Chainages that ask for a column before the round ones."""
    line = content.line
    turns = [point.chainage_m for point in points_turned(line)]
    crossed = [one.chainage_m for one in line.crossed]
    stakes = content.stakes
    chosen = [s.chainage_m for kind in TELLING for s in stakes if kind & set(s.reasons[:1])]
    sizes = [run.start_m for run in line.runs[1:]]
    return tuple(dict.fromkeys((*chosen, *turns, *crossed, *sizes)))


def figure_rows(content: SheetContent, marks: FloatArray, measure: Measure) -> list[Columns]:
    """The rows over the grades: stake, chainage, levels, depth; then heads at `head_rows`."""
    profile = content.line.profile
    word, symbol = measure.level_word, measure.symbol
    ground = np.interp(marks, profile.chainage, profile.ground)
    pipe = np.interp(marks, profile.chainage, profile.pipe)
    rows = [
        Columns(
            f"{measure.chainage_word}, {symbol}",
            [measure.mark(mark) for mark in marks],
            strong=True,
        ),
        Columns(f"Ground {word}, {symbol}", [measure.level(level) for level in ground]),
        Columns(f"Pipe {word}, {symbol}", [measure.level(level) for level in pipe]),
        Columns(
            f"Depth of trench, {symbol}",
            [measure.level(depth) for depth in ground - pipe],
            strong=True,
        ),
    ]
    if not content.stakes:
        return rows
    names = [stake_at(content.stakes, mark) for mark in marks]
    return [Columns("Stake", names, strong=True), *rows]


def head_rows(line: Line, marks: FloatArray, measure: Measure) -> list[Columns]:
    """Static and running head in the pipe, where the water is known."""
    if line.pressure is not None:
        closed, opened = line.pressure.heads.closed, line.pressure.heads.open
    elif line.water is not None:
        closed = line.water.closed_level - line.profile.pipe
        opened = line.water.open_level - line.profile.pipe
    else:
        return []
    rows = []
    for name, head in (("Static head", closed), ("Running head", opened)):
        at = np.interp(marks, line.profile.chainage, head)
        rows.append(Columns(f"{name}, {measure.symbol}", [measure.head(one) for one in at]))
    return rows


def stake_at(stakes: tuple[Stake, ...], chainage: float) -> str:
    """The name of the stake at a chainage [m]; "" where none stands."""
    near = min(stakes, key=lambda stake: abs(stake.chainage_m - chainage))
    return near.name if abs(near.chainage_m - chainage) <= SAME else ""
