"""Fitting the owner's sheet to its one page: type first, then the least of what is said."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from planner.output.owner.words import Item, Section
from planner.output.print.type import paragraph

SIZES = (11.5, 11.0, 10.5, 10.0, 9.5)  # pt, the last being the least for the body
GAP = 0.22  # of the size of type, after a paragraph
BEFORE = 0.45  # of the size of type, before a title


@dataclass(frozen=True, eq=False, slots=True)
class Block:
    """A paragraph, the room before it, whether it must not stand last in a column."""

    flowable: Flowable
    before: float
    holds_next: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Fitted:
    """The columns that were set, the size of their type, how many things were left out."""

    columns: tuple[tuple[Block, ...], ...]
    size: float
    left_out: int


def fit(
    canvas: Canvas, sections: Sequence[Section], width: float, heights: Sequence[float]
) -> Fitted:
    """Set the sections in columns of these heights [pt], all of one width.

    The largest type in which all of it has room; in the least type, the last things said of the
    longest sections go, down to each section's least, then further until it fits.
    """
    for size in SIZES:
        columns = _columns(canvas, sections, size, width, heights)
        if columns is not None:
            return Fitted(columns, size, 0)
    kept, left = list(sections), 0
    while (columns := _columns(canvas, _said(kept, sections), SIZES[-1], width, heights)) is None:
        kept, left = _fewer(kept), left + 1
    return Fitted(columns, SIZES[-1], left)


def _fewer(sections: list[Section]) -> list[Section]:
    """One thing less, of the section that has most over its least."""
    over = [len(one.items) - one.least if one.items else -99 for one in sections]
    longest = max(range(len(over)), key=over.__getitem__)
    fewer = replace(sections[longest], items=sections[longest].items[:-1])
    return [*sections[:longest], fewer, *sections[longest + 1 :]]


def _said(kept: Sequence[Section], whole: Sequence[Section]) -> list[Section]:
    """The sections, each telling how much of it was left out."""
    told = []
    for now, before in zip(kept, whole, strict=True):
        left = len(before.items) - len(now.items)
        more = (Item(f"{left} more: see walk.pdf and the map."),) if left and now.items else ()
        told.append(replace(now, items=(*now.items, *more)))
    return told


def _columns(
    canvas: Canvas,
    sections: Sequence[Section],
    size: float,
    width: float,
    heights: Sequence[float],
) -> tuple[tuple[Block, ...], ...] | None:
    """The sections set in one size, None if they have no room."""
    columns: list[list[Block]] = [[]]
    down = 0.0
    blocks = [block for section in sections for block in _blocks(section, size)]
    tall = [block.before + _height(canvas, block.flowable, width) for block in blocks]
    for place, block in enumerate(blocks):
        following = tall[place + 1] if block.holds_next else 0.0
        if down + tall[place] + following > heights[len(columns) - 1]:
            if len(columns) == len(heights):
                return None
            columns.append([])
            down = 0.0
        columns[-1].append(block)
        down += tall[place]
    return tuple(tuple(column) for column in columns)


def _blocks(section: Section, size: float) -> list[Block]:
    if not section.items:
        return []
    title = Block(paragraph(section.title, size + 1.0, bold=True), size * BEFORE, holds_next=True)
    said = (paragraph(item.text, size, lead=item.lead) for item in section.items)
    return [title, *(Block(one, size * GAP) for one in said)]


def _height(canvas: Canvas, flowable: Flowable, width: float) -> float:
    return float(flowable.wrapOn(canvas, width, 1e5)[1])
