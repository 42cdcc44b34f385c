"""Text that flows over columns and pages: headings, rows of figures, findings, paragraphs."""

from collections.abc import Iterable
from dataclasses import dataclass

from matplotlib.axes import Axes

from planner.output.look import HAIR
from planner.output.sheets.ink import (
    MEDIUM,
    POINTS_PER_MM,
    SMALL,
    fitted,
    leading,
    rule,
    wrapped,
    write,
)
from planner.output.sheets.paper import Box
from planner.output.sheets.symbols import FLAG, finding_number
from planner.record.value import Level

INDENT = 7.0  # mm, room for a finding's number
SHARES = (0.36, 0.36, 0.28)  # of a column: what it is, its figure, where it comes from
WEIGHTS = ("normal", "bold", "normal")
GUTTER = 1.6  # mm between them


@dataclass(frozen=True, slots=True)
class Piece:
    """Words that stay together: a heading, a row of figures, a finding or a paragraph.

    `cells` are lines of text by sub-column; `number` and `level` a finding's.
    """

    cells: tuple[tuple[str, ...], ...]
    heading: bool = False
    number: int | None = None
    level: Level = "note"

    @property
    def height(self) -> float:
        """[mm], with the gap after it."""
        if self.heading:
            return leading(MEDIUM) + 2.4
        count = max(len(lines) for lines in self.cells)
        gap = 1.4 if self.number is not None else 0.9
        return max(count * leading(SMALL), FLAG if self.number is not None else 0.0) + gap


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece with its upper left corner and width [mm]."""

    piece: Piece
    left: float
    top: float
    width: float


Page = tuple[Placed, ...]


def heading(text: str, width: float) -> Piece:
    """A title over what follows; it never stands at the foot of a column."""
    return Piece(((fitted(text, width, MEDIUM, "bold"),),), heading=True)


def row(label: str, figure: str, source: str, width: float) -> Piece:
    """What it is, its figure, and where the figure comes from."""
    cells = zip((label, figure, source), SHARES, WEIGHTS, strict=True)
    return Piece(
        tuple(
            tuple(wrapped(text, width * share - GUTTER, SMALL, weight))
            for text, share, weight in cells
        )
    )


def finding(number: int, level: Level, text: str, width: float) -> Piece:
    """A finding's words behind its number."""
    return Piece((tuple(wrapped(text, width - INDENT, SMALL)),), number=number, level=level)


def paragraph(text: str, width: float) -> Piece:
    """A sentence or more."""
    return Piece((tuple(wrapped(text, width, SMALL)),))


def flowed(pieces: Iterable[Piece], columns: list[Box]) -> list[Page]:
    """Pieces put one under the other, column by column, page by page.

    A heading goes with the piece after it. `columns` are those of every page.
    """
    pages: list[list[Placed]] = [[]]
    column, y = 0, columns[0].top
    waiting: list[Piece] = []
    last: Piece | None = None
    for piece in pieces:
        waiting.append(piece)
        if piece.heading:
            continue
        if waiting[0].heading:
            last = waiting[0]
        need = sum(one.height for one in waiting)
        before = (len(pages), column)
        while y - need < columns[column].bottom and y < columns[column].top:
            column += 1
            if column == len(columns):
                pages.append([])
                column = 0
            y = columns[column].top
        if (len(pages), column) != before and not waiting[0].heading and last is not None:
            waiting.insert(0, _continued(last, columns[column].width))
        for one in waiting:
            pages[-1].append(Placed(one, columns[column].left, y, columns[column].width))
            y -= one.height
        waiting = []
    return [tuple(page) for page in pages]


def _continued(title: Piece, width: float) -> Piece:
    return heading(f"{title.cells[0][0]}, continued", width)


def draw_page(sheet: Axes, page: Page) -> None:
    """The pieces in their places."""
    for placed in page:
        _draw(sheet, placed)


def _draw(sheet: Axes, placed: Placed) -> None:
    piece, left, top, width = placed.piece, placed.left, placed.top, placed.width
    if piece.heading:
        base = top - MEDIUM / POINTS_PER_MM - 1.0
        write(sheet, left, base, piece.cells[0][0], MEDIUM, weight="bold")
        rule(sheet, [left, left + width], [base - 1.2] * 2, 0.4, color=HAIR)
        return
    base = top - SMALL / POINTS_PER_MM
    if piece.number is not None:
        finding_number(sheet, left + FLAG / 2, top - FLAG / 2, piece.number, piece.level)
        left += INDENT
        base -= 0.6
    for lines, share, weight in zip(piece.cells, SHARES, WEIGHTS, strict=False):
        for number, text in enumerate(lines):
            write(sheet, left, base - number * leading(SMALL), text, weight=weight)
        left += width * share
