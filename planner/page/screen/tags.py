"""Plain HTML elements, so that the page looks like itself and not like a toolkit."""

from collections.abc import Awaitable, Callable
from typing import Any

from nicegui import ui
from nicegui.elements.mixins.text_element import TextElement

Act = Callable[[], Awaitable[Any] | None]


class Tag(TextElement):
    """One HTML element; its text is set as text, never as markup.

    Parameters
    ----------
    tag : str
        Such as "section".
    text : str
    classes : str
        Separated by blanks.
    attributes
        Of the element; an underscore stands for a dash ("aria_label"), one at the end is dropped
        ("for_").
    """

    def __init__(self, tag: str, text: str = "", classes: str = "", **attributes: Any) -> None:
        super().__init__(tag=tag, text=text)
        if classes:
            self.classes(classes)
        for key, value in attributes.items():
            self.props[key.rstrip("_").replace("_", "-")] = value

    def has(self, **attributes: Any) -> None:
        """Set attributes; None takes one away."""
        for key, value in attributes.items():
            name = key.rstrip("_").replace("_", "-")
            if value is None:
                self.props.pop(name, None)
            elif self.props.get(name) != value:
                self.props[name] = value

    def show_if(self, shown: bool) -> None:
        """Hide from eye and ear, or show again."""
        self.has(hidden=None if shown else "hidden")


class Word(Tag):
    """A word that acts: a button without a box of its own.

    Parameters
    ----------
    text : str
    act : callable
        Called when it is pressed; may be a coroutine function.
    """

    def __init__(self, text: str, act: Act, classes: str = "", **attributes: Any) -> None:
        super().__init__("button", text, f"word {classes}".strip(), type="button", **attributes)
        self.on("click", lambda _: act(), args=[])

    def allow(self, allowed: bool) -> None:
        """Let it be pressed or not."""
        self.has(disabled=None if allowed else "disabled")


def drawing(svg: str, classes: str = "") -> ui.html:
    """A drawing of the program's own; never of a user's text."""
    return ui.html(svg, sanitize=False, tag="span").classes(f"drawing {classes}".strip())
