"""An upright page: its paper, its frame, what stands on every one."""

import datetime
from dataclasses import dataclass

from reportlab.lib.pagesizes import A4, LETTER
from reportlab.lib.units import mm
from reportlab.pdfgen.canvas import Canvas

from planner.output.print.type import BOLD, OUTDOORS, PLAIN, cut, ready
from planner.record.value import Plan
from planner.site.field import Paper
from planner.units.show import System

MARGIN = 11.0 * mm
HEAD = 44.0  # pt, for two lines of title
FOOT = 22.0  # pt, for one line
PAD = 5.0  # pt inside the frame
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
# Larger papers are for drawings; text goes on the sheet half their size.
UPRIGHT: dict[Paper, tuple[float, float]] = {
    "A4": A4,
    "A3": A4,
    "Letter": LETTER,
    "Tabloid": LETTER,
}


def upright(paper: Paper | None, units: System) -> tuple[float, float]:
    """Width and height [pt] of the upright page for a paper; None: by the units."""
    usual: Paper = "A4" if units == "metric" else "Letter"
    return UPRIGHT[paper or usual]


def dated(day: datetime.date) -> str:
    """A date that reads the same everywhere.

    Examples
    --------
    >>> dated(datetime.date(2026, 11, 4))
    '4 Nov 2026'
    """
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


@dataclass(frozen=True, slots=True)
class Page:
    """The page of a document: its size [pt], and what its head and foot say."""

    size: tuple[float, float]
    title: str
    foot: str

    @property
    def left(self) -> float:
        """Where text begins [pt]."""
        return float(MARGIN + PAD)

    @property
    def top(self) -> float:
        """Where text begins, under the head [pt]."""
        return float(self.size[1] - MARGIN - HEAD - PAD)

    @property
    def width(self) -> float:
        """Of the text [pt]."""
        return float(self.size[0] - 2 * self.left)

    @property
    def height(self) -> float:
        """Of the text [pt]."""
        return float(self.top - MARGIN - FOOT - PAD)

    def draw(self, canvas: Canvas, name: str, number: int, of: int) -> None:
        """The frame, the titles, the foot."""
        ready()
        wide, tall = self.size
        canvas.setLineWidth(0.6)
        canvas.rect(MARGIN, MARGIN, wide - 2 * MARGIN, tall - 2 * MARGIN)
        for y in (tall - MARGIN - HEAD, MARGIN + FOOT):
            canvas.line(MARGIN, y, wide - MARGIN, y)
        right, y = wide - self.left, tall - MARGIN - 17.0
        counted = f"page {number} of {of}"
        canvas.setFont(PLAIN, OUTDOORS)
        canvas.drawRightString(right, y, counted)
        canvas.drawString(self.left, y, cut(self.title, self.width - 100.0))
        canvas.drawString(self.left, MARGIN + 7.0, cut(self.foot, self.width))
        canvas.setFont(BOLD, 15.0)
        canvas.drawString(self.left, y - 20.0, cut(name, self.width, 15.0, bold=True))


def page_of(plan: Plan) -> Page:
    """The page of a plan's papers."""
    revision = plan.site.papers.revision
    foot = f"Plan of {dated(plan.made)}{f', revision {revision}' if revision else ''}."
    return Page(
        size=upright(plan.site.papers.paper, plan.site.units),
        title=plan.site.title,
        foot=f"{foot} Local codes and licensed practice come first.",
    )
