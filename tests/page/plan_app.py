"""A small page with plan and section alone, for a browser: `python -m tests.page.plan_app PORT`.

What the page hears is told back to the browser, in `window.heard`: it went to the server and back.
"""

import asyncio
import json
import sys
from collections.abc import Callable
from typing import Any

from nicegui import app, ui
from nicegui.events import GenericEventArguments
from starlette.responses import Response

from planner.page.plan_map.element import PlanMap
from planner.page.section.element import SectionView
from tests.page import small_views

SLOW = 0.25  # s, of an answer to a drag where it is to be slow
PLAIN = (
    "place", "peg", "touch", "drag", "drop", "ring", "reshape", "pick", "measure", "remove",
    "mark", "stopped",
)  # fmt: skip
PAGE = (
    "body{margin:0;background:var(--paper)} .nicegui-content{padding:0;gap:0}"
    ".above{width:100vw;height:60vh} .below{width:100vw} :root{color-scheme:%s}"
)


@app.get("/ground.png")
def ground_png() -> Response:
    """The hillshade."""
    return Response(small_views.picture(), media_type="image/png")


@ui.page("/")
def index(tool: str = "none", role: str = "", dark: bool = False, slow: bool = False) -> None:
    """Plan above, section below."""
    ui.add_css(PAGE % ("dark" if dark else "light"))
    with ui.element("div").classes("above"):
        plan = PlanMap()
    with ui.element("div").classes("below"):
        section = SectionView()
    view = small_views.plan()
    plan.ground(small_views.ground(), "/ground.png")
    plan.draw(view)
    plan.choose_line("delivery")
    plan.tool(tool, role=role)  # type: ignore[arg-type]
    section.show("delivery", small_views.sections("delivery"), view)
    for kind in PLAIN:
        plan.on(kind, _told(f"plan {kind}"))
    for kind in ("mark", "pick"):
        section.on(kind, _told(f"section {kind}"))
    _answer(plan, slow=slow)
    ui.button("hostile", on_click=lambda: plan.draw(small_views.plan(tank=small_views.HOSTILE)))
    ui.button("kept", on_click=lambda: plan.kept(small_views.other_lines()))
    ui.button("again", on_click=plan.again)
    ui.button("finding", on_click=lambda: plan.choose_finding(1))
    ui.button("newer", on_click=lambda: plan.draw(small_views.plan(revision=2)))


def _told(kind: str) -> Callable[[GenericEventArguments], None]:
    def tell(event: GenericEventArguments) -> None:
        said = json.dumps([kind, event.args])
        ui.run_javascript(f"(window.heard ??= []).push({said})")

    return tell


def _answer(plan: PlanMap, *, slow: bool) -> None:
    async def drag(event: GenericEventArguments) -> None:
        said: dict[str, Any] = event.args
        if slow:
            await asyncio.sleep(SLOW)
        plan.follow(small_views.follow(said["name"], (said["x"], said["y"])))

    plan.on("drag", drag)
    plan.on("measure", lambda _: plan.measured("91.0 m <b>apart</b>\nfalls 4.5 m"))
    plan.on("pick", lambda event: _picked(plan, event.args))


def _picked(plan: PlanMap, said: dict[str, Any]) -> None:
    if said["kind"] == "area":
        plan.choose_area(said["index"])


if __name__ == "__main__":
    ui.run(
        host="127.0.0.1",
        port=int(sys.argv[1]),
        show=False,
        reload=False,
        show_welcome_message=False,
    )
