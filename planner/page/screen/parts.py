"""`Parts`: all that is on the plan as a list, so that it can be read and chosen without a mouse."""

from planner.live.value import PlanView
from planner.page.screen.asked import Choice, Desk
from planner.page.screen.glyphs import GLYPHS
from planner.page.screen.tags import Tag, Word, drawing
from planner.page.screen.words import AREAS


class Parts(Tag):
    """Points with their levels, lines with their lengths, areas with what they mean."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="parts", aria_label="On the plan")
        self._desk = desk
        with self, Tag("details", classes="fold"):
            self._title = Tag("summary", "On the plan")
            self._list = Tag("ul")

    def show(self, view: PlanView) -> None:
        """Show the parts of a plan or of what is drawn so far."""
        self.show_if(bool(view["points"] or view["areas"]))
        self._list.clear()
        with self._list:
            for point in view["points"]:
                words = f"{point['word']}, set by the program" if point["by_program"] else ""
                level = point["level"] or point["ground"]
                self._part(
                    Choice("point", point["name"]),
                    GLYPHS.get(point["role"], ""),
                    point["name"],
                    words or point["word"],
                    level,
                )
            for line in view["lines"]:
                self._part(
                    Choice("line", line["name"]),
                    "",
                    line["title"],
                    f"Pipe {line['letters']}",
                    line["length"],
                )
            for area in view["areas"]:
                means = AREAS.get(area["role"], area["role"])  # type: ignore[call-overload]
                choice = Choice("area", area["name"], area["index"])
                self._part(choice, GLYPHS["area"], area["name"] or means, means, "")

    def _part(self, choice: Choice, glyph: str, name: str, word: str, figure: str) -> None:
        with Tag("li"), Word("", lambda: self._desk.choose(choice), "part"):
            drawing(glyph)
            with Tag("span", classes="text"):
                Tag("strong", name)
                if word != name:
                    Tag("span", word)
            Tag("span", figure, "figure")
