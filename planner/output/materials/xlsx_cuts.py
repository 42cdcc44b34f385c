"""The sheet of coils and sticks: what is cut from each, for which line, and what remains."""

from collections.abc import Iterator
from itertools import groupby
from typing import Any

from planner.output.materials.shown import shown
from planner.output.materials.value import Materials, Piece, PipeOrder
from planner.output.materials.xlsx_style import HEADER, Column, Styles, new_sheet, put

CUTS = "Coils and sticks"


def write_cuts(book: Any, styles: Styles, materials: Materials) -> None:
    """A row for each length cut; coils that go whole to one line share a row."""
    sign = shown(0.0, "m", materials.units)[1]
    columns = (
        Column("Pipe", 60),
        Column("Coil or stick no.", 14),
        Column("For", 28),
        Column(f"Cut, {sign}", 12),
        Column(f"Left of it, {sign}", 12),
    )
    title = f"{materials.title}: coils and sticks"
    sheet = new_sheet(book, styles, CUTS, title, columns)
    row = HEADER
    for order in materials.pipes:
        for number, piece in _alike(order):
            for at, cut in enumerate(piece.cuts):
                row += 1
                put(sheet, row, 0, order.article.words, styles.text)
                put(sheet, row, 1, number, styles.text)
                put(sheet, row, 2, cut.line, styles.text)
                put(sheet, row, 3, shown(cut.length, "m", materials.units)[0], styles.one)
                if at == len(piece.cuts) - 1:
                    left = shown(piece.left, "m", materials.units)[0]
                    put(sheet, row, 4, left, styles.one)


def _alike(order: PipeOrder) -> Iterator[tuple[str, Piece]]:
    """Pieces with their numbers, those that are cut alike together: "1 to 4", "5"."""
    first = 1
    for piece, group in groupby(order.pieces):
        last = first + len(list(group)) - 1
        yield (str(first) if first == last else f"{first} to {last}"), piece
        first = last + 1
