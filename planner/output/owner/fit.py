"""Fitting the owner's sheet to its one page: type first, then the least of what is said."""

from bisect import bisect
from collections.abc import Sequence
from dataclasses import dataclass, replace

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from planner.output.owner.words import Item, Section
from planner.output.print.type import LEADING, paragraph, run_in

SIZES = (11.5, 11.0, 10.5, 10.0, 9.5)  # pt, the last being the least for the body
GAP = 0.16  # of the size of type, after a paragraph
BEFORE = 0.35  # of the size of type, before a title


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
    kept = [list(sections)]
    while any(section.items for section in kept[-1]):
        kept.append(_fewer(kept[-1]))

    def pruned(left: int) -> tuple[tuple[Block, ...], ...] | None:
        return _columns(canvas, _said(kept[left], sections), SIZES[-1], width, heights)

    left = bisect(range(len(kept) - 1), False, key=lambda one: pruned(one) is not None)
    return Fitted(pruned(left) or (), SIZES[-1], left)


def _fewer(sections: list[Section]) -> list[Section]:
    """One thing less, of the section that has most over its least."""
    over = [
        (len(one.items) - one.least, len(one.items)) if one.items else (-len(sections) * 99, 0)
        for one in sections
    ]
    longest = max(range(len(over)), key=over.__getitem__)
    fewer = replace(sections[longest], items=sections[longest].items[:-1])
    return [*sections[:longest], fewer, *sections[longest + 1 :]]


def _said(kept: Sequence[Section], whole: Sequence[Section]) -> list[Section]:
    """The sections, each telling how much of it was left out."""
    told = []
    for now, before in zip(kept, whole, strict=True):
        left = len(before.items) - len(now.items)
        more = (Item(f"{left} more: see walk.pdf."),) if left and now.items else ()
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
    waiting = [block for section in sections for block in blocks(section, size)]
    while waiting:
        block = waiting.pop(0)
        room = heights[len(columns) - 1] - down - block.before
        following = 2.0 * size * LEADING if block.holds_next else 0.0
        tall = _height(canvas, block.flowable, width)
        if tall + following > room:
            parts = [] if block.holds_next else block.flowable.splitOn(canvas, width, room)
            waiting[:0] = [replace(block, flowable=part) for part in parts or [block.flowable]]
            if not parts:
                if len(columns) == len(heights):
                    return None
                columns.append([])
                down = 0.0
                continue
            block = waiting.pop(0)
            tall = _height(canvas, block.flowable, width)
        columns[-1].append(block)
        down += block.before + tall
    return tuple(tuple(column) for column in columns)


def blocks(section: Section, size: float) -> list[Block]:
    """A section in a size of type: its title, then its paragraphs."""
    if not section.items:
        return []
    title = Block(paragraph(section.title, size + 1.0, bold=True), size * BEFORE, holds_next=True)
    said = (
        [run_in(((item.lead, item.text) for item in section.items), size)]
        if section.run_in
        else [paragraph(item.text, size, lead=item.lead) for item in section.items]
    )
    return [title, *(Block(one, size * GAP) for one in said)]


def _height(canvas: Canvas, flowable: Flowable, width: float) -> float:
    return float(flowable.wrapOn(canvas, width, 1e5)[1])
