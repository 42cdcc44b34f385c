"""`Compare`: the plan that was kept beside the one there is now."""

from planner.live.value import CompareView
from planner.page.screen.asked import Desk
from planner.page.screen.dialog import Dialog
from planner.page.screen.tags import Tag, Word


class Compare(Dialog):
    """A table of both; either can be chosen."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("Compare", "compare")
        self._desk = desk

    async def ask(self) -> None:
        """Work out both and show them."""
        self.body.clear()
        with self.body:
            Tag("p", "Planning both …", "hint")
        self.open()
        if not await self._desk.told(self._fill()):
            self.close()

    async def _fill(self) -> None:
        found = await self._desk.hub.comparison()
        self.body.clear()
        with self.body:
            self._table(found)
            with Tag("div", classes="choice"):
                Word("Go back to the kept plan", self._take, "do")
                Word("Go on with the plan as it is", self._forget, "do")
                Tag("p", "Going back can be undone.", "hint")

    def _table(self, found: CompareView) -> None:
        with Tag("div", classes="scroll"), Tag("table"):
            with Tag("thead"), Tag("tr"):
                Tag("td")
                Tag("th", self._desk.hub.kept or "Kept", scope="col")
                Tag("th", "Now", scope="col")
            with Tag("tbody"):
                for label, first, second, differs in found["rows"]:
                    with Tag("tr", classes="differs" if differs else ""):
                        Tag("th", label, scope="row")
                        Tag("td", first)
                        Tag("td", second)

    async def _take(self) -> None:
        if await self._desk.told(self._desk.hub.take_kept()):
            self.close()

    async def _forget(self) -> None:
        if await self._desk.told(self._desk.hub.forget_kept()):
            self.close()
