"""`SectionPanel`: the section of one line at a time, switched by role."""

from collections.abc import Sequence

from planner.live.value import FollowView, LineView, PlanView
from planner.page.screen.asked import Choice, Desk
from planner.page.screen.tags import Tag, Word
from planner.page.section.element import SectionView

ASKED_FIRST = ("delivery", "main", "distribution", "supply", "drive")


class SectionPanel(Tag):
    """Words of the lines above, the section below."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="section-panel", aria_label="Section")
        self._desk = desk
        self._names: list[str] = []
        self._words: dict[str, Word] = {}
        self.line = ""
        with self:
            with Tag("div", classes="section-head"):
                self._switch = Tag("div", classes="switch", role="group", aria_label="Line")
                self._laying = Word("Pipe and laying", self._open_form, "laying")
            self.drawn = SectionView()
        self.show_if(False)

    def lines(self, lines: Sequence[LineView]) -> str:
        """Offer these lines; the one chosen stays if it is there. Returns its name."""
        names = [one["name"] for one in lines]
        shown = dict(zip(names, short_titles(lines), strict=True))
        self.show_if(bool(names))
        if names != self._names:
            self._names = names
            self._switch.clear()
            with self._switch:
                self._words = {one["name"]: self._word(one, shown[one["name"]]) for one in lines}
        if self.line not in names:
            self.line = first_line(lines)
        self.mark_chosen(self.line)
        return self.line

    def mark_chosen(self, line: str) -> None:
        """Show which line is chosen."""
        self.line = line
        for name, word in self._words.items():
            word.has(aria_pressed="true" if name == line else "false")

    def show(self, sections: dict[str, str], view: PlanView | FollowView) -> None:
        """Show the section of the chosen line."""
        self.drawn.show(self.line, sections, view)

    def _word(self, line: LineView, short: str) -> Word:
        name, classes = line["name"], f"line {line['role']}"
        word = Word("", lambda: self._desk.choose_line(name), classes, title=line["title"])
        with word:
            Tag("b", line["letters"])
            Tag("span", short)
        return word

    def _open_form(self) -> None:
        self._desk.choose(Choice("line", self.line))


def first_line(lines: Sequence[LineView]) -> str:
    """The line whose section stands first: the one that lifts or brings the water."""
    order = {role: place for place, role in enumerate(ASKED_FIRST)}
    last = len(order)
    best = min(lines, key=lambda one: order.get(one["role"], last), default=None)
    return "" if best is None else best["name"]


def short_titles(lines: Sequence[LineView]) -> list[str]:
    """The role alone; where there are several of it, where each leads to."""
    roles = [one["role"] for one in lines]
    return [
        f"to {one['title'].rpartition(' to ')[2]}"
        if roles.count(one["role"]) > 1
        else one["title"].partition(",")[0]
        for one in lines
    ]
