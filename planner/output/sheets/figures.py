"""The last sheets: findings with their remedies first, the water figures, the cautions."""

from collections.abc import Iterator

from matplotlib.figure import Figure

from planner.output.sheets.block import data_row, datum_row, frame_block, levels_row
from planner.output.sheets.content import SheetContent
from planner.output.sheets.draw import blank, draw_frame, millimetres
from planner.output.sheets.flow import (
    Page,
    Piece,
    draw_page,
    finding,
    flowed,
    heading,
    paragraph,
    row,
)
from planner.output.sheets.measure import measure
from planner.output.sheets.numbering import numbered
from planner.output.sheets.paper import PAPERS, Box, PaperName, block_of, frame_of
from planner.output.water.groups import water_groups
from planner.record.value import Plan
from planner.wording.cautions import cautions

MARGIN = 3.0  # mm
BETWEEN = 5.0  # mm between two columns
WIDE = 115.0  # mm, a column at least


def figure_pages(plan: Plan, paper: PaperName) -> list[Page]:
    """All findings, figures and cautions, on as many pages as they need."""
    columns = columns_of(paper)
    return flowed(_pieces(plan, columns[0].width), columns)


def columns_of(paper: PaperName) -> list[Box]:
    """The text's columns [mm]: those over the title block end above it."""
    frame, block = frame_of(paper), block_of(paper)
    room = frame.width - 2.0 * MARGIN
    count = max(int((room + BETWEEN) // (WIDE + BETWEEN)), 1)
    width = (room - BETWEEN * (count - 1)) / count
    columns = []
    for number in range(count):
        left = frame.left + MARGIN + number * (width + BETWEEN)
        over = left + width > block.left
        bottom = (block.top if over else frame.bottom) + MARGIN
        columns.append(Box(left, bottom, left + width, frame.top - MARGIN))
    return columns


def _pieces(plan: Plan, width: float) -> Iterator[Piece]:
    found = numbered(plan)
    if found:
        yield heading("Findings: what to do, then why", width)
    for one in found:
        place = "" if one.line is None else f" [{one.line}]"
        yield finding(one.number, one.level, f"{one.remedy} {one.message}{place}", width)
    for group in water_groups(plan):
        yield heading(group.title, width)
        for line in group.rows:
            yield row(line.label, line.figure, line.source, width)
    told = cautions(plan)
    if told:
        yield heading("Cautions", width)
    for text in told:
        yield paragraph(text, width)


def draw_figures(content: SheetContent, page: Page, paper: PaperName) -> Figure:
    """One of the last sheets."""
    figure = blank(paper)
    sheet = millimetres(figure, PAPERS[paper], "sheet", 3)
    draw_page(sheet, page)
    units = measure(content.units)
    rows = (
        levels_row(content, content.terrain.provenance),
        data_row(content.terrain, content.units),
        datum_row(content.terrain, content.papers, units),
        "Figures hang on levels: level the ground before pipe is bought.",
        "Dark number: stops the work. Outlined: heed. Plain: to know.",
    )
    frame_block(sheet, block_of(paper), content, "Findings, water figures, cautions", rows)
    draw_frame(sheet, frame_of(paper))
    return figure
