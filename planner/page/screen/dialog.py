"""`Dialog`: the browser's own dialog: Escape closes it, the keyboard stays inside."""

from planner.page.screen.tags import Tag, Word


class Dialog(Tag):
    """A leaf that lies over the page until it is closed.

    Parameters
    ----------
    title : str
    classes : str
    """

    def __init__(self, title: str, classes: str = "") -> None:
        super().__init__("dialog", classes=classes)
        with self:
            with Tag("header"):
                self._title = Tag("h2", title)
                Word("Close", self.close, "close")
            self.body = Tag("div", classes="body")
        self.has(aria_label=title)

    def open(self) -> None:
        """Show it over the page."""
        self.client.run_javascript(f"const d = getHtmlElement({self.id}); d.open || d.showModal()")

    def close(self) -> None:
        """Put it away."""
        self.client.run_javascript(f"getHtmlElement({self.id}).close()")
