"""`Tools`: what can be put on the plan, as words in the order of the job."""

from collections.abc import Collection

from planner.page.screen.asked import Desk
from planner.page.screen.glyphs import GLYPHS
from planner.page.screen.tags import Tag, Word, drawing
from planner.page.screen.words import POINTS
from planner.site.value import PointRole

JOB: tuple[PointRole, ...] = ("source", "chamber", "pump", "tank", "outlet")
MORE = {"area": "Area", "way": "Peg", "measure": "Measure"}
OPTIONAL = ("chamber", "outlet")  # a plan can do without, or the program sets it


class Tools(Tag):
    """The row of tools; those of the job hang together and show how far it is."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("div", classes="tools", role="toolbar", aria_label="Draw on the plan")
        self._desk = desk
        self._words: dict[str, Word] = {}
        self._taken = ""
        with self:
            with Tag("div", classes="job"):
                for key in JOB:
                    self._word(key, POINTS[key])
            with Tag("div", classes="more"):
                for other, text in MORE.items():
                    self._word(other, text)

    def stands(self, placed: Collection[str]) -> None:
        """Which roles have a point; the first that is missing is the next step."""
        steps = [key for key in JOB if key not in OPTIONAL and key not in placed]
        for key in JOB:
            word = self._words[key]
            word.classes(remove="done next")
            if key in placed:
                word.classes(add="done")
            elif steps and key == steps[0]:
                word.classes(add="next")
        self._words["way"].allow({"source", "tank"} <= set(placed))

    def taken(self, tool: str) -> None:
        """Show which tool is in hand, "" for none."""
        self._taken = tool
        for key, word in self._words.items():
            word.has(aria_pressed="true" if key == tool else "false")

    def _word(self, key: str, text: str) -> None:
        word = Word("", lambda: self._pressed(key), f"tool {key}", aria_pressed="false")
        with word:
            drawing(GLYPHS[key])
            Tag("span", text)
        self._words[key] = word

    def _pressed(self, key: str) -> None:
        self._desk.take_up("" if key == self._taken else key)
