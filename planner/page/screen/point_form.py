"""The form of a point: name, place, and what its role asks for."""

from planner.live.value import PointView
from planner.page.screen.asked import Choice, Desk
from planner.page.screen.row import Give, Row, point_value, site_value
from planner.page.screen.words import FLOW_SEASONS, MAKES
from planner.site.edits.value import RenamePoint

Settings = dict[str, str]


def point_rows(point: PointView, settings: Settings, desk: Desk) -> list[Row]:
    """The fields of a point; one set by the program has a place alone."""
    place = Row("place", "Coordinates", _coordinates(point), _moved(point, desk), _PLACE, wide=True)
    if point["by_program"]:
        return [place]
    name = Row("name", "Name", point["name"], _renamed(point["name"], desk))
    made = {
        "source": _source,
        "pump": _ram,
        "tank": _tank,
        "outlet": _outlet,
    }.get(point["role"])
    return [name, *(made(point, settings, desk) if made else []), place]


_PLACE = "Latitude, longitude; degrees or UTM, typed or pasted."


def _source(_: PointView, settings: Settings, desk: Desk) -> list[Row]:
    return [
        Row(
            "flow",
            "Flow, as measured",
            settings.get("source.flow", ""),
            site_value(desk, "source", "flow"),
            "With bucket and watch, late in the dry season.",
            "54 L/min",
        ),
        Row(
            "measured",
            "Measured on",
            settings.get("source.measured", ""),
            site_value(desk, "source", "measured"),
            kind="date",
        ),
        Row(
            "season",
            "In the",
            settings.get("source.season", ""),
            site_value(desk, "source", "season"),
            kind="choice",
            options=FLOW_SEASONS,
        ),
        Row(
            "share",
            "Left in the stream",
            settings.get("source.share_left", ""),
            site_value(desk, "source", "share_left"),
            "Of the flow; what your licence asks, if it asks more.",
            "30 %",
        ),
    ]


def _ram(_: PointView, settings: Settings, desk: Desk) -> list[Row]:
    return [
        Row(
            "make",
            "Ram",
            settings.get("pump.make", "") or "commercial",
            site_value(desk, "pump", "make"),
            kind="choice",
            options=MAKES,
        ),
        Row(
            "flood",
            "Flood mark above the ground",
            settings.get("use.flood_mark", ""),
            site_value(desk, "use", "flood_mark"),
            "The highest water remembered at this spot.",
            "0.8 m",
        ),
    ]


def _tank(point: PointView, settings: Settings, desk: Desk) -> list[Row]:
    inlet = point_value(desk, point["name"], "height")
    return [
        Row("height", "Inlet above the ground", point["height"], inlet, example="1.5 m"),
        Row(
            "volume",
            "Holds",
            settings.get("tank.volume", ""),
            site_value(desk, "tank", "volume"),
            "Leave it empty to be told what is enough.",
            "4 m3",
        ),
        need_row(settings, desk),
    ]


def _outlet(point: PointView, _: Settings, desk: Desk) -> list[Row]:
    tap = point_value(desk, point["name"], "height")
    flow = point_value(desk, point["name"], "flow")
    return [
        Row("height", "Tap above the ground", point["height"], tap, example="1 m"),
        Row("flow", "Should give", point["flow"], flow, example="10 L/min"),
    ]


def need_row(settings: Settings, desk: Desk) -> Row:
    """The water needed a day, asked at the tank and of the site."""
    return Row(
        "need",
        "Water needed a day",
        settings.get("need.per_day", ""),
        site_value(desk, "need", "per_day"),
        "People, stock and garden together.",
        "3800 L",
    )


def _coordinates(point: PointView) -> str:
    lon, lat = point["lonlat"]
    return f"{lat:.6f}, {lon:.6f}"


def _renamed(name: str, desk: Desk) -> Give:
    async def give(text: str) -> str:
        if not text:
            return "a point needs a name"
        wrong = await desk.tried(desk.hub.do(RenamePoint(name, text)))
        if not wrong:
            desk.choose(Choice("point", text))
        return wrong

    return give


def _moved(point: PointView, desk: Desk) -> Give:
    async def give(text: str) -> str:
        async def move() -> None:
            xy = await desk.hub.typed_place(text)
            await desk.hub.move(point["name"], xy)

        return await desk.tried(move())

    return give
