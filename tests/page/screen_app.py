"""The whole screen on a hub that is made up: `python -m tests.page.screen_app PORT`.

`/?kind=start`, `sketch`, `plan`, `hostile`; `/asked` tells what the last page's hub was asked, and
`/refuse?words=...` has it refuse the next change; `/changed` and `/planned` tell its tabs that the
site was changed, and that it was planned.
"""

import sys
import tempfile
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from nicegui import app, ui
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from planner.live.value import ActionView, FigureView, PlanView
from planner.page.files import routes
from planner.page.screen.build import build
from planner.page.uploads import Uploads
from planner.site.draft import Draft
from tests.page import small_views
from tests.page.fake_hub import FakeHub

FOLDER = Path(tempfile.mkdtemp(prefix="headfall-screen-"))
FIGURES = [
    FigureView(label="Delivered", figure="3,600 L/day (1,700 – 4,600)", source="flow and fall"),
    FigureView(label="Needed", figure="3,800 L/day", source="as told"),
    FigureView(label="Fall", figure="4.8 m (4.6 – 5.1)", source="the levels of Box and Ram"),
]
UNKNOWN = {
    "type": "Feature",
    "properties": {"name": "WP 12"},
    "geometry": {"type": "Point", "coordinates": [0.0, 0.0]},
}
last: dict[str, FakeHub] = {}


def view_of(kind: str) -> PlanView:
    """A plan with figures and a remedy, or what is drawn before there is one."""
    view = small_views.plan(tank=small_views.HOSTILE if kind == "hostile" else "Tank")
    view["title"] = small_views.HOSTILE if kind == "hostile" else "Test Hollow"
    if kind == "sketch":
        empty: dict[str, Any] = {"lines": [], "turns": [], "findings": [], "state": "sketch"}
        view.update(empty)  # type: ignore[typeddict-item]
        view["points"] = view["points"][:1]
        view["missing"] = "Place the tank."
        return view
    view["figures"] = FIGURES
    view["cautions"] = ["Local codes and licensed practice come first."]
    view["settings"] = {"source.flow": "54 L/min", "lines.delivery.pipe": "1 in"}
    view["findings"][0]["actions"] = [ActionView(key="vent", words="Fit a vent here")]
    return view


def hub_of(kind: str) -> FakeHub:
    """A hub of that kind."""
    if kind == "start":
        return FakeHub(None, None, {}, "")
    sections = {
        one["name"]: small_views.sections(one["name"]) for one in small_views.plan()["lines"]
    }
    hub = FakeHub(small_views.ground(), view_of(kind), sections, "/ground.png")
    hub.unknown = [UNKNOWN]
    hub.folder = FOLDER / "plan"
    return hub


@ui.page("/")
def index(kind: str = "plan") -> None:
    """The screen."""
    last["hub"] = hub_of(kind)
    build(last["hub"])


@app.get("/asked")
def asked() -> Response:
    """What the hub was asked."""
    return JSONResponse([repr(one) for one in last["hub"].asked])


@app.get("/changed")
def changed() -> Response:
    """Another tab changed the site; its plan is still to come."""
    for tab in last["hub"].tabs:
        tab.show_session("move Tank", "", True)
    return JSONResponse("")


@app.get("/planned")
def planned() -> Response:
    """The plan came."""
    for tab in last["hub"].tabs:
        tab.show_plan(last["hub"].view)
    return JSONResponse("")


@app.get("/refuse")
def refuse(request: Request) -> Response:
    """Refuse the next change."""
    last["hub"].refuse = request.query_params["words"]
    return JSONResponse("")


if __name__ == "__main__":
    (FOLDER / "plan").mkdir()
    (FOLDER / "plan" / "map.html").write_text("map", encoding="utf-8")
    (FOLDER / "plan" / "profile-delivery.svg").write_text("<svg/>", encoding="utf-8")
    shown = SimpleNamespace(
        picture=small_views.picture(),
        session=SimpleNamespace(draft=Draft(FOLDER, "site.toml", "")),
    )
    app.router.routes[:0] = routes(shown, Uploads())
    ui.run(
        host="127.0.0.1",
        port=int(sys.argv[1]),
        title="headfall",
        tailwind=False,
        show=False,
        reload=False,
        show_welcome_message=False,
    )
