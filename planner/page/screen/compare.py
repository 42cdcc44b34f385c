"""`Compare`: the plan that was kept beside the one there is now."""

from planner.live.value import CompareView
from planner.page.screen.answer import split_band
from planner.page.screen.asked import Desk
from planner.page.screen.tags import Tag, Word


class Compare(Tag):
    """A table of both at the head of the column, while the map shows both; either can be chosen."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="leaf compare", aria_label="Compare")
        self._desk = desk
        self._open = False
        self._revision = -1
        with self:
            with Tag("header"):
                Tag("h2", "Compare")
                Word("Close", self.close, "close")
            self._body = Tag("div", aria_live="polite")
            with Tag("div", classes="choice"):
                Word("Go back to the kept plan", self._take, "do")
                Word("Go on with this one", self._forget, "do")
        self.close()

    async def ask(self) -> None:
        """Work out both and show them."""
        self._open = True
        self.show_if(True)
        self._body.clear()
        with self._body:
            Tag("p", "Planning both …", "hint")
        if not await self._desk.told(self._fill()):
            self.close()

    async def refresh(self, revision: int) -> None:
        """The plan is another one: work the table out again if it is open."""
        if self._open and revision != self._revision:
            await self._desk.told(self._fill())

    def close(self) -> None:
        """Put the table away; the plan stays kept."""
        self._open = False
        self.show_if(False)

    async def _fill(self) -> None:
        view = self._desk.hub.view
        self._revision = -1 if view is None else view["revision"]
        found = await self._desk.hub.comparison()
        self._body.clear()
        with self._body:
            self._table(found)

    def _table(self, found: CompareView) -> None:
        with Tag("table"):
            with Tag("thead"), Tag("tr"):
                Tag("td")
                Tag("th", self._desk.hub.kept or "Kept", scope="col")
                Tag("th", "Now", scope="col")
            with Tag("tbody"):
                for label, first, second, differs in found["rows"]:
                    with Tag("tr", classes="differs" if differs else ""):
                        Tag("th", label, scope="row")
                        figure_cell(first)
                        figure_cell(second)

    async def _take(self) -> None:
        if await self._desk.told(self._desk.hub.take_kept()):
            self.close()

    async def _forget(self) -> None:
        if await self._desk.told(self._desk.hub.forget_kept()):
            self.close()


def figure_cell(figure: str) -> None:
    """A figure, its band below it."""
    plain, band = split_band(figure)
    with Tag("td"):
        Tag("span", plain)
        if band:
            Tag("span", band, "band")
