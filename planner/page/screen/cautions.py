"""`Cautions`: what to mind before anything is dug or carried."""

from collections.abc import Sequence

from planner.page.screen.tags import Tag


class Cautions(Tag):
    """At the foot of the column."""

    def __init__(self) -> None:
        super().__init__("section", classes="cautions", aria_label="Mind")

    def show(self, cautions: Sequence[str]) -> None:
        """Show the plan's cautions."""
        self.clear()
        self.show_if(bool(cautions))
        with self:
            Tag("h2", "Mind")
            with Tag("ul"):
                for one in cautions:
                    Tag("li", one)
