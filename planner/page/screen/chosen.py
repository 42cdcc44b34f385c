"""`Chosen`: the leaf of what is chosen, at the head of the column."""

from planner.page.screen.asked import Choice, Desk
from planner.page.screen.form import Form
from planner.page.screen.leaf import Leaf
from planner.page.screen.tags import Tag, Word
from planner.site.edits.value import DeleteArea, DeletePoint


class Chosen(Tag):
    """Shows one thing at a time; hidden while nothing is chosen."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="leaf")
        self._desk = desk
        self._choice: Choice | None = None
        with self:
            with Tag("header"):
                with Tag("div"):
                    self._kind = Tag("p", classes="kind")
                    self._title = Tag("h2", tabindex="-1")
                Word("Close", lambda: desk.choose(None), "close")
            self._facts = Tag("dl", classes="figures")
            self._form = Form()
            self._remove = Word("Take away", self._take_away, "remove")
        self.show(None)

    def show(self, leaf: Leaf | None, choice: Choice | None = None) -> None:
        """Show a leaf; `choice` is what it tells of."""
        self._choice = choice
        self.show_if(leaf is not None)
        if leaf is None:
            return
        self._kind.set_text(leaf.kind)
        self._title.set_text(leaf.title)
        self.has(aria_label=f"{leaf.kind}: {leaf.title}")
        self._facts.clear()
        with self._facts:
            for label, figure in leaf.facts:
                if figure:
                    with Tag("div"):
                        Tag("dt", label)
                        Tag("dd", figure)
        self._form.show(leaf.rows)
        self._remove.show_if(leaf.removable)

    def come_into_view(self) -> None:
        """Lead keyboard and eye here."""
        self.client.run_javascript(
            f"const title = getHtmlElement({self._title.id});"
            "title?.focus({preventScroll: true});"
            "title?.closest('section').scrollIntoView({block: 'nearest'})"
        )

    async def _take_away(self) -> None:
        choice = self._choice
        if choice is None:
            return
        edit = DeletePoint(choice.name) if choice.kind == "point" else DeleteArea(choice.index)
        if await self._desk.told(self._desk.hub.do(edit)):
            self._desk.choose(None)
