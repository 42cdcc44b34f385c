"""`Steps`: undo and redo, with what they would take back or do again."""

from planner.page.screen.asked import Desk
from planner.page.screen.tags import Tag, Word


class Steps(Tag):
    """Two words; each tells in full what it does."""

    def __init__(self, desk: Desk) -> None:
        super().__init__("div", classes="steps", role="group", aria_label="Steps")
        with self:
            self._undo = Word("Undo", lambda: desk.told(desk.hub.undo()), "step")
            self._redo = Word("Redo", lambda: desk.told(desk.hub.redo()), "step")
        self.show("", "")

    def show(self, undo: str, redo: str) -> None:
        """What can be taken back and done again, "" for nothing."""
        told = ((self._undo, "Undo", undo, "Ctrl+Z"), (self._redo, "Redo", redo, "Ctrl+Shift+Z"))
        for word, name, what, keys in told:
            word.allow(bool(what))
            said = f"{name}: {what}" if what else name
            word.has(title=f"{said} ({keys})", aria_label=said)
