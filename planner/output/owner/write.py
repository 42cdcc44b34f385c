"""`owner.pdf`: the owner's sheet, one page whatever the plan."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from reportlab.lib.units import mm
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from planner.output.owner.fit import Block, fit
from planner.output.owner.fittings import Fitting, fittings
from planner.output.owner.map import map_picture, reach
from planner.output.owner.scheme import laid
from planner.output.owner.sections import sections_of
from planner.output.print.page import Page, dated, page_of
from planner.output.print.type import cut, printable
from planner.record.value import Plan

BAND = 2.2  # so many times wider than high is a site whose map goes across the page
BAND_HIGH = 56.0 * mm
TALL = 0.82  # of its width, the height of another map
UNDER = 2.0  # pt between map and text
GUTTER = 9.0  # pt between the columns
CONTACT = 20.0  # pt, two lines to write on, at the foot


def write_owner(plan: Plan, path: Path) -> None:
    """Write the one page that stays with the owner.

    Type is 9.5 pt or more; what has no room even so is counted, and left to walk.pdf. The same
    plan gives the same bytes.

    Parameters
    ----------
    plan : Plan
        Lines that are built are told as built. `site.papers` tells the paper as for `write_walk`,
        the owner's name and whom the law asks to be told.
    path : Path

    Raises
    ------
    OSError
        The file can't be written.
    """
    page = replace(page_of(plan), foot=_foot(plan))
    canvas = Canvas(str(path), pagesize=page.size, invariant=1)
    canvas.setTitle(f"Owner's sheet, {printable(plan.site.title)}")
    found = fittings(plan)
    page.draw(canvas, f"Owner's sheet, {laid(plan)}", 1, 1)
    width = (page.width - GUTTER) / 2.0
    tops = _map(plan, page, canvas, found)
    foot = page.top - page.height + CONTACT
    fitted = fit(canvas, sections_of(plan, found), width, [top - foot for top in tops])
    for number, (column, top) in enumerate(zip(fitted.columns, tops, strict=False)):
        _column(canvas, column, page.left + number * (width + GUTTER), top, width)
    _contact(canvas, page)
    canvas.showPage()
    canvas.save()


def _foot(plan: Plan) -> str:
    owner = plan.site.papers.owner
    first = "Local codes and licensed practice come first."
    return f"Plan of {dated(plan.made)}. {first}{f' For {owner}.' if owner else ''}"


def _map(plan: Plan, page: Page, canvas: Canvas, found: Sequence[Fitting]) -> tuple[float, float]:
    """Draw the map: a band over a site that lies from west to east, else over the right column.

    Returns where the text begins in each of the two columns [pt].
    """
    if not plan.points:
        return page.top, page.top
    west, south, east, north = reach(plan)
    band = east - west > BAND * (north - south)
    wide = page.width if band else (page.width - GUTTER) / 2.0
    high = BAND_HIGH if band else wide * TALL
    left, bottom = page.left + page.width - wide, page.top - high
    picture = ImageReader(map_picture(plan, found, wide / mm, high / mm))
    canvas.drawImage(picture, left, bottom, wide, high)
    canvas.rect(left, bottom, wide, high)
    return (bottom - UNDER if band else page.top), bottom - UNDER


def _column(
    canvas: Canvas, column: tuple[Block, ...], left: float, top: float, width: float
) -> None:
    y = top
    for place, block in enumerate(column):
        _, tall = block.flowable.wrapOn(canvas, width, 1e5)
        y -= (block.before if place else 0.0) + tall
        block.flowable.drawOn(canvas, left, y)


def _contact(canvas: Canvas, page: Page) -> None:
    """Lines to write on, at the foot of the text."""
    y = page.top - page.height + 4.0
    wide = page.width / 3.0
    for number, label in enumerate(("Call", "Phone", "Next check")):
        left = page.left + number * wide
        canvas.setFont("Sheet-Bold", 10.0)
        said = cut(label, wide, 10.0, bold=True)
        canvas.drawString(left, y, said)
        start = left + canvas.stringWidth(said, "Sheet-Bold", 10.0) + 4.0
        canvas.line(start, y - 2.0, left + wide - 6.0, y - 2.0)
