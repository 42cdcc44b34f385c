"""`Answer`: the water figures with their bands, the one most asked for in large."""

from collections.abc import Sequence
from typing import Any

from planner.live.value import FigureView
from planner.page.screen.asked import Desk
from planner.page.screen.tags import Tag

FIRST = 4  # figures that stand open; the others are a press away


class Answer(Tag):
    """The head of the column at the right; on a phone it stands above the plan."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="answer", aria_label="Water")
        self._desk = desk
        self._figures: list[FigureView] = []
        with self:
            self._head = Tag("div", classes="headline", aria_live="polite")
            self._rows = Tag("dl", classes="figures")
            with Tag("details", classes="fold") as self._more:
                Tag("summary", "All the water figures")
                self._all = Tag("div", classes="groups")
        self._more.on("toggle", self._toggled, js_handler="(e) => emit(e.target.open)")

    def show(self, figures: Sequence[FigureView], *, refining: bool) -> None:
        """Show the figures of a plan; `refining` ones are set lighter."""
        self._figures = list(figures)
        self._draw(refining=refining)
        self.show_if(bool(figures))

    def follow(self, figures: Sequence[FigureView]) -> None:
        """Show those that are known while a point is dragged; the others are set lighter."""
        now = {one["label"]: one for one in figures}
        self._figures = [now.get(one["label"], one) for one in self._figures] or list(figures)
        self._draw(refining=True)

    def _draw(self, *, refining: bool) -> None:
        self.classes(add="refining") if refining else self.classes(remove="refining")
        self._head.clear()
        self._rows.clear()
        if not self._figures:
            return
        first, *others = self._figures
        with self._head:
            Tag("p", first["label"], "label")
            figure, band = split_band(first["figure"])
            with Tag("p", classes="figure"):
                Tag("strong", figure)
                if band:
                    Tag("span", band, "band")
            Tag("p", first["source"], "hangs")
        with self._rows:
            for one in others[:FIRST]:
                figure_row(one["label"], one["figure"], one["source"])

    async def _toggled(self, event: Any) -> None:
        self._all.clear()
        if event.args is not True or not await self._desk.told(self._fill()):
            return

    async def _fill(self) -> None:
        groups = await self._desk.hub.water()
        with self._all:
            for one in self._figures[FIRST + 1 :]:
                with Tag("dl", classes="figures"):
                    figure_row(one["label"], one["figure"], one["source"])
            for group in groups:
                Tag("h3", group["title"])
                with Tag("dl", classes="figures"):
                    for row in group["rows"]:
                        figure_row(row["label"], row["figure"], row["source"])


def figure_row(label: str, figure: str, source: str) -> None:
    """One figure: what it is and what it hangs on at the left, the figure at the right."""
    with Tag("div"):
        with Tag("dt"):
            Tag("span", label, "label")
            Tag("span", source, "hangs")
        with Tag("dd"):
            plain, band = split_band(figure)
            Tag("span", plain)
            if band:
                Tag("span", band, "band")


def split_band(figure: str) -> tuple[str, str]:
    """A figure and its band apart.

    Examples
    --------
    >>> split_band("1,240 L/day (900 – 1,600)")
    ('1,240 L/day', '(900 – 1,600)')
    """
    plain, bracket, band = figure.partition(" (")
    return plain, f"({band}" if bracket else ""
