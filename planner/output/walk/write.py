"""`walk.pdf`: a walk sheet for each line, and the blank forms."""

from collections.abc import Iterator, Sequence
from pathlib import Path

from reportlab.pdfgen.canvas import Canvas

from planner.output.owner.fit import blocks
from planner.output.owner.fittings import fittings
from planner.output.owner.sections import sections_of
from planner.output.print.page import Page, page_of
from planner.output.print.sheet import Sheet, draw_sheet
from planner.output.print.type import OUTDOORS, paragraph, printable
from planner.output.sheets.measure import measure
from planner.output.stakes.value import StakedLine
from planner.output.walk.commissioning import pressure_tests, running_record
from planner.output.walk.hose import hose_form
from planner.output.walk.level_book import level_book
from planner.output.walk.line_sheet import line_sheet
from planner.output.walk.source_form import source_form
from planner.output.walk.stations import along_water, shots, stations
from planner.record.value import Plan
from planner.wording.cautions import cautions


def write_walk(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write the papers that are carried along the lines and filled in there.

    Nothing on them is smaller than 12 pt. The same plan gives the same bytes.

    Parameters
    ----------
    plan : Plan
        `site.papers.paper` tells the paper: A4, or Letter where US units are shown; of A3 and
        Tabloid the sheet half their size.
    staked : sequence of StakedLine
        Of `stakes_of(plan)`.
    path : Path

    Raises
    ------
    OSError
        The file can't be written.
    """
    page = page_of(plan)
    canvas = Canvas(str(path), pagesize=page.size, invariant=1)
    canvas.setTitle(f"Walk sheets, {printable(plan.site.title)}")
    for sheet in _sheets(plan, page, staked):
        draw_sheet(canvas, page, sheet)
    canvas.save()


def _sheets(plan: Plan, page: Page, staked: Sequence[StakedLine]) -> Iterator[Sheet]:
    unit = measure(plan.site.units).symbol
    if not staked:
        yield _no_lines(plan)
    for one in along_water(staked):
        yield line_sheet(plan, page, one)
    yield level_book(page, stations(plan, staked), unit)
    yield hose_form(page, list(shots(staked)), unit)
    yield source_form(plan, page)
    if plan.lines:
        yield pressure_tests(plan, page)
        yield running_record(plan, page)
    yield _owners_notes(plan)


def _owners_notes(plan: Plan) -> Sheet:
    """All that the owner's sheet may not have room for."""
    said = sections_of(plan, fittings(plan))
    told = (block.flowable for section in said for block in blocks(section, OUTDOORS))
    return Sheet(
        name="For the owner, in full; numbers as on the map of owner.pdf", head=tuple(told)
    )


def _no_lines(plan: Plan) -> Sheet:
    """What stands in place of walk sheets where no line was found."""
    told = [
        "The plan found no way for any line, so there is nothing to stake out yet. Level the points"
        " on the forms that follow, bring the readings back, and plan again.",
        *(f"{printable(one.name)}: {one.message}" for one in plan.blocked),
        *cautions(plan),
    ]
    return Sheet(name="No line to walk yet", head=tuple(paragraph(text) for text in told))
