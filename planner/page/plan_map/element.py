"""`PlanMap`: the plan as an element of the page."""

import re
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal

import nicegui.elements.leaflet as shipped
from nicegui import ui
from nicegui.dependencies import register_dynamic_resource, register_importmap_override
from nicegui.version import __version__ as nicegui_version
from starlette.responses import Response

from planner.live.value import FollowView, GroundView, LineView, PlanView
from planner.page.plan_map.looks import looks, patterns, shared_script

Tool = Literal["none", "place", "peg", "area", "measure"]
ALONG = "headfall-along"
STYLES = ("look.css", "map.css")


class PlanMap(ui.element, component="plan_map.js", esm={"headfall-plan": "script"}):
    """The plan: ground, sketch, pipes and findings, and the tools to sketch with.

    What was told last is told again to a browser that shows the element anew.

    Events, each with one value: `place` {role, x, y}; `peg` {line, role, x, y, before}; `touch`
    {name}, a point that may soon be dragged; `drag` {name, x, y, sent}, of which the next comes
    once `follow` has answered; `drop` {name, x, y}; `ring` {role, points}; `reshape` {index,
    points}; `pick` {kind, name | index | number | line, chainage | x, y}, kind being "point",
    "area", "finding", "line" or "ground"; `measure` {a, b}; `remove` {kind, name | index}; `mark`
    {line, chainage | null}; `stopped` {tool}, when Escape was pressed with a tool in hand.
    """

    def __init__(self) -> None:
        super().__init__()
        serve_scripts()
        ui.add_css(style())
        ui.add_body_html(patterns())
        self._props["looks"] = looks()
        self._ready = False
        self._told: dict[str, tuple[Any, ...]] = {}
        self.on("ready", self._tell_all)

    def ground(self, view: GroundView, picture_url: str) -> None:
        """Draw the ground: the picture at its bounds, contours, levels for the pointer."""
        self._tell("ground", view, picture_url)

    def draw(self, view: PlanView) -> None:
        """Draw a plan or a sketch, in place of the one before."""
        self._tell("draw", view)

    def follow(self, view: FollowView) -> None:
        """Draw the lines that follow a point under way; it answers the last `drag`."""
        self._run("follow", view)

    def again(self) -> None:
        """Draw the last view once more, where what a hand did was refused."""
        if "draw" in self._told:
            self._run("draw", *self._told["draw"])

    def kept(self, lines: list[LineView]) -> None:
        """Draw another plan, pale, under this one; none for an empty list."""
        self._tell("kept", lines)

    def tool(self, name: Tool, **options: str) -> None:
        """Take a tool in hand; "place" and "area" need the `role` of what comes."""
        self._tell("tool", name, options)

    def measured(self, words: str) -> None:
        """Write at the last stroke measured; a line break begins a new line."""
        self._run("measured", words)

    def mark_place(self, line: str, chainage: float | None) -> None:
        """Mark a place on a line; None takes the mark away."""
        self._run("mark", line, chainage)

    def choose_finding(self, number: int | None) -> None:
        """Go to a finding."""
        self._run("chooseFinding", number)

    def choose_line(self, name: str | None) -> None:
        """Choose a line: passing over it marks its section too."""
        self._tell("chooseLine", name)

    def choose_point(self, name: str | None) -> None:
        """Ring a point."""
        self._tell("choosePoint", name)

    def choose_area(self, index: int | None) -> None:
        """Show an area's corners, to be dragged."""
        self._tell("chooseArea", index)

    def zoom(self, steps: float) -> None:
        """Come closer by so many doublings; below 0 for wider."""
        self._run("zoom", steps)

    def fit(self) -> None:
        """The whole plan in view."""
        self._run("fit")

    def _tell(self, name: str, *said: Any) -> None:
        self._told[name] = said
        self._run(name, *said)

    def _run(self, name: str, *said: Any) -> None:
        if self._ready:
            self.run_method("tell", name, *said)

    def _tell_all(self) -> None:
        self._ready = True
        for name in sorted(self._told, key=ORDER.index):
            self._run(name, *self._told[name])


# In this order a plan comes about again.
ORDER = ("ground", "draw", "kept", "chooseLine", "choosePoint", "chooseArea", "tool")


@cache
def style() -> str:
    """Leaflet's own style without its pictures, then ours."""
    leaflet = Path(shipped.__file__).parent / "dist" / "leaflet" / "leaflet.css"
    bare = re.sub(r"url\([^)]*\)", "none", leaflet.read_text(encoding="utf-8"))
    own = (files("planner.page.plan_map").joinpath(name) for name in STYLES)
    return "\n".join((bare, *(file.read_text(encoding="utf-8") for file in own)))


@cache
def serve_scripts() -> None:
    """Serve the scripts shared with the map to every page, as a module of their own."""
    register_dynamic_resource(f"{ALONG}.js", _shared_response)
    register_importmap_override(ALONG, f"/_nicegui/{nicegui_version}/dynamic_resources/{ALONG}.js")


def _shared_response() -> Response:
    return Response(shared_script(), media_type="text/javascript")
