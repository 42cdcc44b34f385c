"""`Sheet`: a list or form over one or several pages, each with its name and number."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Flowable

from planner.output.print.page import Page

GAP = 5.0  # pt between two parts of a head or foot


@dataclass(frozen=True, eq=False, slots=True)
class Sheet:
    """One list or form.

    Attributes
    ----------
    name : str
        Stands on each of its pages.
    head : tuple of Flowable
        On its first page.
    columns : Flowable or None
        Names the columns, on every page that has rows.
    rows : tuple of Flowable
        None of them is broken over two pages.
    spare : Flowable or None
        An empty row, which fills what the rows leave of the last page.
    foot : tuple of Flowable
        Kept together after the last row.
    """

    name: str
    head: tuple[Flowable, ...] = ()
    columns: Flowable | None = None
    rows: tuple[Flowable, ...] = ()
    spare: Flowable | None = None
    foot: tuple[Flowable, ...] = ()


Placed = tuple[Flowable, float]  # and where its top stands, down from the top of the page [pt]


def draw_sheet(canvas: Canvas, page: Page, sheet: Sheet) -> None:
    """Draw a sheet on as many pages as it takes."""
    pages = paged(canvas, page, sheet)
    for number, placed in enumerate(pages, start=1):
        page.draw(canvas, sheet.name, number, len(pages))
        for flowable, down in placed:
            _, height = flowable.wrapOn(canvas, page.width, page.height)
            flowable.drawOn(canvas, page.left, page.top - down - height)
        canvas.showPage()


def paged(canvas: Canvas, page: Page, sheet: Sheet) -> list[list[Placed]]:
    """What stands where on each page of a sheet."""
    setting = _Setting(canvas, page)
    for flowable in sheet.head:
        setting.add_broken(flowable)
    named = None
    for row in sheet.rows:
        with_columns = [] if sheet.columns is None else [sheet.columns]
        if named != setting.number or not setting.fits([row]):
            setting.make_room([*with_columns, row])
            for flowable in with_columns:
                setting.add(flowable, gap=0.0)
            named = setting.number
        setting.add(row, gap=0.0)
    setting.make_room(sheet.foot)
    if sheet.spare is not None:
        if sheet.columns is not None and named != setting.number:
            setting.add(sheet.columns, gap=0.0)
        while setting.fits([sheet.spare, *sheet.foot]):
            setting.add(sheet.spare, gap=0.0)
    for flowable in sheet.foot:
        setting.add(flowable)
    return setting.pages


class _Setting:
    """Pages being set, one after the other."""

    def __init__(self, canvas: Canvas, page: Page) -> None:
        self.canvas, self.page = canvas, page
        self.pages: list[list[Placed]] = [[]]
        self.down = 0.0

    @property
    def number(self) -> int:
        return len(self.pages)

    def height(self, flowable: Flowable) -> float:
        return float(flowable.wrapOn(self.canvas, self.page.width, self.page.height)[1])

    def fits(self, flowables: Sequence[Flowable]) -> bool:
        tall = sum(self.height(one) + GAP for one in flowables)
        return self.down + tall <= self.page.height

    def make_room(self, flowables: Sequence[Flowable]) -> None:
        if self.pages[-1] and not self.fits(flowables):
            self.pages.append([])
            self.down = 0.0

    def add(self, flowable: Flowable, gap: float = GAP) -> None:
        self.pages[-1].append((flowable, self.down))
        self.down += self.height(flowable) + gap

    def add_broken(self, flowable: Flowable) -> None:
        for part in self._parts(flowable):
            self.make_room([part])
            self.add(part)

    def _parts(self, flowable: Flowable) -> Iterator[Flowable]:
        """The flowable whole, or broken where not even an empty page holds it."""
        if self.height(flowable) <= self.page.height:
            yield flowable
            return
        parts = flowable.splitOn(self.canvas, self.page.width, self.page.height - GAP)
        yield parts[0]
        for part in parts[1:]:
            yield from self._parts(part)
