"""`Findings`: what is wrong and where, remedy first; what the program can do is a button."""

from collections.abc import Sequence

from planner.live.value import FindingView
from planner.page.screen.asked import Desk
from planner.page.screen.tags import Tag, Word

LEVELS = {"stop": "Stops the work", "warn": "Look at it", "note": "Note"}


class Findings(Tag):
    """The list of findings; notes are folded away."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("section", classes="findings", aria_label="Findings")
        self._desk = desk
        self._chosen = 0
        self._items: dict[int, Tag] = {}
        self._actions: list[Word] = []
        with self:
            self._title = Tag("h2", "Findings", tabindex="-1")
            self._list = Tag("ol")
            with Tag("details", classes="fold") as self._fold:
                self._notes_title = Tag("summary")
                self._notes = Tag("ol")

    def show(self, findings: Sequence[FindingView], *, planned: bool) -> None:
        """Show the findings of a plan; a sketch that is not `planned` yet can have some too."""
        self.show_if(planned or bool(findings))
        self._items = {}
        self._actions = []
        notes = [one for one in findings if one["level"] == "note"]
        others = [one for one in findings if one["level"] != "note"]
        self._title.set_text(heading(others))
        for where, some in ((self._list, others), (self._notes, notes)):
            where.clear()
            with where:
                for one in some:
                    self._item(one)
        self._notes_title.set_text(f"{len(notes)} note{'s' if len(notes) != 1 else ''}")
        self._fold.show_if(bool(notes))
        self.mark_chosen(self._chosen)

    def stale(self) -> None:
        """The site has changed; nothing more is done about what is shown of the plan before."""
        for word in self._actions:
            word.allow(False)

    def mark_chosen(self, number: int) -> None:
        """Show which finding is chosen, 0 for none."""
        self._chosen = number
        for key, item in self._items.items():
            item.classes(add="chosen") if key == number else item.classes(remove="chosen")

    def _item(self, one: FindingView) -> None:
        number, level = one["number"], one["level"]
        with Tag("li", classes=f"finding {level}", data_finding=str(number)) as item:
            word = Word("", lambda: self._desk.choose_finding(number), "told")
            with word:
                Tag("b", str(number), f"number {level}", title=LEVELS[level])
                with Tag("span", classes="text"):
                    Tag("span", f"{LEVELS[level]}: ", "unseen")
                    Tag("strong", one["remedy"] or one["message"])
                    if one["remedy"]:
                        Tag("span", one["message"], "message")
                    if one["odds"]:
                        Tag("span", one["odds"], "odds")
            if one["actions"]:
                with Tag("div", classes="actions"):
                    for index, action in enumerate(one["actions"]):
                        self._action(number, index, action["words"])
        self._items[number] = item

    def _action(self, number: int, index: int, words: str) -> None:
        self._actions.append(Word(words, lambda: self._do(number, index), "do"))

    async def _do(self, number: int, index: int) -> None:
        done = await self._desk.told(self._desk.hub.remedy(number, index))
        if done:  # the button is about to go; the keyboard stays where the list is
            self.client.run_javascript(f"getHtmlElement({self._title.id})?.focus()")


def heading(findings: Sequence[FindingView]) -> str:
    """How many there are and how grave, in words."""
    stops = sum(one["level"] == "stop" for one in findings)
    if not findings:
        return "Findings: nothing in the way"
    if not stops:
        return f"Findings: {len(findings)} to look at"
    one = "1 stops the work" if stops == 1 else f"{stops} stop the work"
    rest = len(findings) - stops
    return f"Findings: {one}" + (f", {rest} to look at" if rest else "")
