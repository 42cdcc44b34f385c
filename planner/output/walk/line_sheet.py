"""The walk sheet of a line: each stake's figures beside boxes for what is measured there."""

from collections.abc import Iterator

from reportlab.lib.colors import lightgrey
from reportlab.platypus import Table

from planner.output.look import ROLES
from planner.output.print.page import Page
from planner.output.print.sheet import Sheet
from planner.output.print.table import Cell, column_names, facts, ruled
from planner.output.print.type import paragraph, printable
from planner.output.sheets.measure import Measure, measure
from planner.output.stakes.table import lengths
from planner.output.stakes.value import Stake, StakedLine
from planner.output.stakes.words import source_note
from planner.output.walk.facts import line_facts
from planner.record.value import Plan

DECIMALS = 2  # of a level, a depth, a rise
FACT = 92.0  # pt, the names of facts
WIDTHS = (52.0, 63.0, 69.0, 57.0, 57.0, 44.0)  # pt, the figures of a stake
TICK = 42.0  # pt
LEVEL_SHARE = 0.51  # of what is left, for the level measured; the rest for the depth
REMARK = 20.0  # pt, a remark of one line
FIGURES = len(WIDTHS)


def line_sheet(plan: Plan, page: Page, staked: StakedLine) -> Sheet:
    """The sheet of one line."""
    line, units = staked.line, plan.site.units
    show = measure(units)
    widths = _widths(page.width)
    return Sheet(
        name=f"{ROLES[line.role].letters} {printable(line.name)}, walk sheet",
        head=(
            facts(line_facts(staked, units), (FACT, page.width - FACT)),
            paragraph(source_note(plan)),
            ruled([["Walked by", "", "Date", ""]], (80.0, page.width - 280.0, 50.0, 150.0)),
        ),
        columns=column_names(_columns(show), widths),
        rows=tuple(_rows(staked, show, widths)),
    )


def _widths(width: float) -> tuple[float, ...]:
    left = width - sum(WIDTHS) - TICK
    return (*WIDTHS, left * LEVEL_SHARE, left * (1.0 - LEVEL_SHARE), TICK)


def _columns(show: Measure) -> tuple[str, ...]:
    level, unit = show.level_word, show.symbol
    along = show.chainage_word if unit == "m" else f"{show.chainage_word} ft"
    return (
        "Stake",
        f"{along}{' m' if unit == 'm' else ''}",
        f"Pipe since the last, {unit}",
        f"Ground {'level' if unit == 'm' else 'elev.'} {unit}",
        f"Pipe {'level' if unit == 'm' else 'elev.'} {unit}",
        f"Depth {unit}",
        f"Measured {level} {unit}",
        f"Measured depth {unit}",
        "Done ✓",
    )


def _rows(staked: StakedLine, show: Measure, widths: tuple[float, ...]) -> Iterator[Table]:
    figures = lengths(staked, show.metres, DECIMALS)
    for stake, cells in zip(staked.stakes, figures, strict=True):
        first: list[Cell] = [
            paragraph(stake.name, bold=True),
            show.chainage(stake.chainage_m),
            "start" if stake.number == 1 else _moved(cells["rise"]),
            *(_figure(cells[name]) for name in ("ground", "pipe", "depth")),
            *("",) * 3,
        ]
        yield _row(stake, first, widths)


def _row(stake: Stake, first: list[Cell], widths: tuple[float, ...]) -> Table:
    """Figures, under them what is done there, beside both the boxes."""
    if not stake.remark:
        return ruled([first], widths)
    remark = paragraph(stake.remark)
    _, tall = remark.wrap(sum(WIDTHS) - 6.0, 1000.0)
    second: list[Cell] = [remark, *("",) * (len(widths) - 1)]
    thin = ("LINEBELOW", (0, 0), (FIGURES - 1, 0), 0.25, lightgrey)
    boxes = [("SPAN", (column, 0), (column, 1)) for column in range(FIGURES, len(widths))]
    return ruled(
        [first, second],
        widths,
        heights=[REMARK, tall + 7.0],
        more=[thin, ("SPAN", (0, 1), (FIGURES - 1, 1)), *boxes],
    )


def _moved(rise: float | None) -> str:
    if rise is None:
        return "–"
    word = "" if not rise else "falls " if rise < 0.0 else "rises "
    return f"{word}{_figure(abs(rise))}"


def _figure(value: float | None) -> str:
    return "–" if value is None else f"{value:.{DECIMALS}f}".replace("-", "−")
