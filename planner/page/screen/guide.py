"""`Guide`: what is put on the plan, in turn, while there is no plan yet."""

from collections.abc import Collection
from functools import partial

from planner.page.screen.asked import Desk
from planner.page.screen.glyphs import GLYPHS
from planner.page.screen.tags import Tag, Word, drawing
from planner.page.screen.tools import JOB
from planner.page.screen.words import POINTS, STEPS


class Guide(Tag):
    """The steps of the job; each takes its tool in hand."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="guide", aria_label="Steps to a plan")
        self._items: dict[str, Tag] = {}
        with self:
            Tag("h2", "Put on the plan")
            with Tag("ol"):
                for key in JOB:
                    with Tag("li") as item, Word("", partial(desk.take_up, key), "step-to"):
                        drawing(GLYPHS[key])
                        with Tag("span", classes="text"):
                            Tag("strong", POINTS[key])
                            Tag("span", STEPS[key])
                    self._items[key] = item
            Tag("p", "Or drop a GPX, KML or GeoJSON file with the points on the page.", "hint")

    def stands(self, placed: Collection[str], *, needed: bool) -> None:
        """Which roles have a point, and whether the guide is needed still."""
        self.show_if(needed)
        for key, item in self._items.items():
            item.classes(add="done") if key in placed else item.classes(remove="done")
