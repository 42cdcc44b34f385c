"""`SectionView`: the section of the chosen line as an element of the page."""

from functools import cache
from importlib.resources import files
from typing import Any

from nicegui import ui

from planner.live.value import FollowView, LineView, PlanView
from planner.page.plan_map.element import serve_scripts, style


class SectionView(ui.element, component="section.js"):
    """The drawing of one line; a place pointed at is marked on the plan of the same page as well.

    Events, each with one value: `mark` {line, chainage | null}; `pick` {kind, number | line,
    chainage}, kind being "finding" or "line".
    """

    def __init__(self) -> None:
        super().__init__()
        serve_scripts()
        ui.add_css(style() + section_style())
        self._ready = False
        self._shown: tuple[LineView | None, dict[str, str]] = (None, {})
        self._finding: int | None = None
        self.on("ready", self._tell_all)

    def show(self, line: str, sections: dict[str, str], view: PlanView | FollowView) -> None:
        """Show a line.

        Parameters
        ----------
        line : str
            Name of one of the lines of `view`; another name clears the drawing.
        sections : dict of str to str
            Its drawing as SVG by format: "wide", "medium", "narrow".
        view : PlanView or FollowView
        """
        found = next((one for one in view["lines"] if one["name"] == line), None)
        self._shown = (found, sections if found else {})
        self._run("show", *self._shown)

    def mark_place(self, line: str, chainage: float | None) -> None:
        """Mark a place; None takes the mark away."""
        self._run("mark", line, chainage)

    def choose_finding(self, number: int | None) -> None:
        """Mark a finding's number as the chosen one."""
        self._finding = number
        self._run("chooseFinding", number)

    def _run(self, name: str, *said: Any) -> None:
        if self._ready:
            self.run_method(name, *said)

    def _tell_all(self) -> None:
        self._ready = True
        self._run("show", *self._shown)
        self._run("chooseFinding", self._finding)


@cache
def section_style() -> str:
    """The inks of a section."""
    return files("planner.page.section").joinpath("section.css").read_text(encoding="utf-8")
