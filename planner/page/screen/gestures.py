"""What is done on plan and section, with keys and with files, led to the hub."""

from typing import TYPE_CHECKING, Any

from nicegui.events import GenericEventArguments

from planner.page.files import arrived, left
from planner.page.screen.asked import XY, Choice
from planner.site.edits.value import DeleteArea, DeletePoint

if TYPE_CHECKING:
    from planner.page.screen.tab import Tab

Event = GenericEventArguments
# The endings of files that hold the ground; all others hold points, lines and areas.
GROUND = (".tif", ".tiff", ".asc", ".vrt", ".img", ".dem", ".hgt", ".las", ".laz", ".xyz")


def connect(tab: "Tab") -> None:
    """Listen to the map, the section and the hands of a tab."""
    _plan(tab)
    _section(tab)
    _hands(tab)


def _plan(tab: "Tab") -> None:
    hub, plan = tab.hub, tab.sheet.map

    async def place(event: Event) -> None:
        await tab.place(event.args["role"], _xy(event.args), None, None)

    async def peg(event: Event) -> None:
        said = event.args
        await tab.place("way", _xy(said), said["line"], said.get("before"))

    async def drag(event: Event) -> None:
        said = event.args
        await tab.told(hub.drag(tab, said["name"], _xy(said), tab.sheet.section.line))

    async def drop(event: Event) -> None:
        await tab.moved(hub.move(event.args["name"], _xy(event.args)))

    async def ring(event: Event) -> None:
        said = event.args
        tab.take_up("")
        await tab.told(hub.add_area(said["role"], _ring(said["points"])))

    async def reshape(event: Event) -> None:
        said = event.args
        await tab.moved(hub.shape_area(int(said["index"]), _ring(said["points"])))

    async def measure(event: Event) -> None:
        a, b = event.args["a"], event.args["b"]
        await tab.measure((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))

    async def remove(event: Event) -> None:
        said = event.args
        point = said["kind"] == "point"
        await tab.told(hub.do(DeletePoint(said["name"]) if point else DeleteArea(said["index"])))

    plan.on("place", place)
    plan.on("peg", peg)
    plan.on("drag", drag)
    plan.on("drop", drop)
    plan.on("ring", ring)
    plan.on("reshape", reshape)
    plan.on("measure", measure)
    plan.on("remove", remove)
    plan.on("pick", lambda event: _pick(tab, event.args))
    plan.on("touch", lambda event: hub.touch(event.args["name"]))
    plan.on("stopped", lambda _: tab.take_up(""))
    plan.on("mark", lambda event: _mark(tab, event.args))


def _section(tab: "Tab") -> None:
    drawn = tab.sheet.section.drawn
    drawn.on("mark", lambda event: _mark(tab, event.args))
    drawn.on("pick", lambda event: _pick(tab, event.args))


def _hands(tab: "Tab") -> None:
    hub, hands = tab.hub, tab.sheet.hands

    async def pasted(event: Event) -> None:
        await tab.pasted(str(event.args))

    hands.on("undo", lambda _: tab.told(hub.undo()))
    hands.on("redo", lambda _: tab.told(hub.redo()))
    hands.on("leave", lambda _: tab.leave())
    hands.on("pasted", pasted)
    hands.on("arriving", lambda event: tab.show_message(f"taking in {event.args}", "note"))
    hands.on("arrived", lambda event: _arrived(tab, event.args))


async def _arrived(tab: "Tab", said: dict[str, Any]) -> None:
    """A file was sent: the ground, or points, lines and areas."""
    if "error" in said:
        tab.show_message(str(said["error"]), "stop")
        return
    name, ticket = str(said["name"]), str(said["ticket"])

    async def take_in() -> None:
        path = arrived(ticket)
        try:
            if name.lower().endswith(GROUND):
                await tab.hub.use_elevation(path, name)
                return
            unknown = await tab.hub.import_file(path, name)
        finally:
            left(ticket)
        if unknown:
            tab.sheet.roles.ask(unknown)
        else:
            tab.show_message(f"{name} is on the plan", "note")

    await tab.told(take_in())


def _pick(tab: "Tab", said: dict[str, Any]) -> None:
    kind = said["kind"]
    if kind == "finding":
        tab.choose_finding(int(said["number"]))
    elif kind == "point":
        tab.hub.touch(said["name"])
        tab.choose(Choice("point", said["name"]))
    elif kind == "area":
        tab.choose(Choice("area", index=int(said["index"])))
    elif kind == "line":
        tab.choose_line(said.get("line") or said["name"])
    else:
        tab.choose(None)


def _mark(tab: "Tab", said: dict[str, Any]) -> None:
    chainage = said.get("chainage")
    tab.mark(said["line"], None if chainage is None else float(chainage))


def _xy(said: dict[str, Any]) -> XY:
    return float(said["x"]), float(said["y"])


def _ring(points: list[list[float]]) -> list[XY]:
    return [(float(x), float(y)) for x, y in points]
