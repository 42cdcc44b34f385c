"""`Status`: the line that says what to do next, what went wrong, and how things stand."""

from functools import partial
from time import monotonic

from planner.page.screen.asked import Desk
from planner.page.screen.tags import Tag, Word
from planner.page.screen.words import AREAS

READING = 8.0  # s that a message stays, whatever plans come


class Status(Tag):
    """Message or prompt on the left; saved, working or offline on the right."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("div", classes="status")
        self._desk = desk
        self._until = 0.0  # when a message may go
        self._saved = True
        self._busy = ""
        self._refining = False
        with self:
            self._said = Tag("p", classes="said", role="status", aria_live="polite")
            self._kinds = Tag("div", classes="kinds", role="group", aria_label="What the area is")
            with self._kinds:
                self._kind = {
                    role: Word(words, partial(desk.take_up, "area", role=role), "kind")
                    for role, words in AREAS.items()
                }
            self._state = Tag("p", classes="state")
            self._cancel = Word("Stop", lambda: desk.told(desk.hub.cancel()), "stop-work")
        self.area("")
        self._show_state()

    def prompt(self, words: str) -> None:
        """What to do next, since a hand has just done something; takes the place of a message."""
        self._until = 0.0
        self._say(words, "prompt")

    def after_plan(self, words: str) -> None:
        """What to do next, since a plan came; a message that was not read yet stays."""
        if monotonic() >= self._until:
            self._say(words, "prompt")

    def message(self, words: str, level: str) -> None:
        """What happened; stays until a hand does the next thing, or a plan comes after a while."""
        self._until = monotonic() + READING
        self._say(words[:1].upper() + words[1:], level)

    def passing(self, words: str) -> None:
        """What is so for the moment, while a hand moves; the next plan takes its place."""
        self._until = 0.0
        self._say(words[:1].upper() + words[1:], "warn")

    def area(self, role: str) -> None:
        """Offer the meanings of an area while one is drawn, "" to hide them."""
        self._kinds.show_if(bool(role))
        for key, word in self._kind.items():
            word.has(aria_pressed="true" if key == role else "false")

    def saved(self, saved: bool) -> None:
        """Whether all that was done is on disk."""
        self._saved = saved
        self._show_state()

    def busy(self, words: str) -> None:
        """What is being done, "" for nothing."""
        self._busy = words
        self._show_state()

    def refining(self, refining: bool) -> None:
        """Whether a more exact answer follows."""
        self._refining = refining
        self._show_state()

    def _say(self, words: str, level: str) -> None:
        self._said.set_text(words)
        self._said.classes(remove="prompt stop warn note", add=level)

    def _show_state(self) -> None:
        if self._busy:
            words = self._busy[:1].upper() + self._busy[1:] + " …"
        elif self._refining:
            words = "Refining …"
        else:
            words = "Saved" if self._saved else "Saving …"
        self._state.set_text(words)
        self._state.classes(remove="working") if not self._busy else self._state.classes("working")
        self._cancel.show_if(bool(self._busy))
