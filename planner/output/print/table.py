"""Ruled tables with boxes to fill in by hand."""

from collections.abc import Iterable, Sequence
from typing import Any, TypeAlias

from reportlab.lib.colors import black
from reportlab.platypus import Table, TableStyle

from planner.output.print.type import OUTDOORS, PLAIN, paragraph, ready

HAND = 27.0  # pt, a row that a gloved hand can write in
COLUMNS_GROUND = 0.88  # of white, behind the names of columns

Cell: TypeAlias = Any
"""A text, or a flowable of reportlab, which has no types."""


def ruled(
    rows: Sequence[Sequence[Cell]],
    widths: Sequence[float],
    *,
    heights: Sequence[float | None] | None = None,
    more: Iterable[tuple[object, ...]] = (),
) -> Table:
    """A table ruled all over, its rows `HAND` pt high where `heights` [pt] does not say."""
    ready()
    return Table(
        [list(row) for row in rows],
        colWidths=list(widths),
        rowHeights=[HAND] * len(rows) if heights is None else list(heights),
        style=TableStyle([*BASE, ("GRID", (0, 0), (-1, -1), 0.5, black), *more]),
    )


BASE: tuple[tuple[object, ...], ...] = (
    ("FONT", (0, 0), (-1, -1), PLAIN, OUTDOORS),
    ("VALIGN", (0, 0), (-1, -1), "MIDDLE"),
    ("LEFTPADDING", (0, 0), (-1, -1), 3.0),
    ("RIGHTPADDING", (0, 0), (-1, -1), 3.0),
    ("TOPPADDING", (0, 0), (-1, -1), 2.0),
    ("BOTTOMPADDING", (0, 0), (-1, -1), 4.0),
)


def column_names(names: Sequence[str], widths: Sequence[float]) -> Table:
    """The row that names the columns."""
    named: list[Cell] = [paragraph(name) for name in names]
    grey = (COLUMNS_GROUND,) * 3
    return ruled([named], widths, heights=[None], more=[("BACKGROUND", (0, 0), (-1, -1), grey)])


def facts(pairs: Iterable[tuple[str, str]], widths: tuple[float, float]) -> Table:
    """Names and what is known of them, unruled."""
    rows: list[list[Cell]] = [[paragraph(name, bold=True), paragraph(said)] for name, said in pairs]
    style = TableStyle(
        [
            *BASE,
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            ("TOPPADDING", (0, 0), (-1, -1), 0.0),
            ("BOTTOMPADDING", (0, 0), (-1, -1), 1.5),
            ("LEFTPADDING", (0, 0), (0, -1), 0.0),
        ]
    )
    ready()
    return Table(rows, colWidths=list(widths), style=style)


def blank(widths: Sequence[float]) -> Table:
    """An empty row."""
    return ruled([[""] * len(widths)], widths)


def named(names: Sequence[str], widths: Sequence[float]) -> Table:
    """A row that begins with names and is left empty after them, as high as they need."""
    cells: list[Cell] = [paragraph(name) for name in names]
    tall = max(
        cell.wrap(width - 6.0, 1000.0)[1] + 7.0 for cell, width in zip(cells, widths, strict=False)
    )
    return ruled([cells + [""] * (len(widths) - len(cells))], widths, heights=[max(HAND, tall)])


def column_widths(columns: dict[str, float], width: float) -> tuple[float, ...]:
    """Widths of columns [pt] by their names; those of 0 share what is left."""
    left = width - sum(columns.values())
    open_ended = sum(1 for wide in columns.values() if not wide)
    return tuple(wide or left / open_ended for wide in columns.values())
