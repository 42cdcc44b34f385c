"""The scene as folium layers, one group for each switch of the legend."""

from typing import Any, NamedTuple

import folium
from folium.map import CustomPane

from planner.output.look import GROUND, HAIR, INK, PAPER, STREAM
from planner.output.map.assets import TEMPLATES
from planner.output.map.ground import Ground
from planner.output.map.naming import MOST_LETTERS, Side
from planner.output.map.numbers import MOST_NUMBERS, NumberRow
from planner.output.map.routes import DASH, WEIGHT
from planner.output.map.scene import Scene, SceneArea, SceneLine
from planner.profile.value import FloatArray

# Lowest first; what lies in an unseen pane takes no pointer.
PANES = {
    "ground": 210,
    "contours": 220,
    "figures": 230,
    "streams": 240,
    "crossings": 290,
    "areas": 300,
    "routes": 390,
    "pipes": 400,
}
HIT = 26  # px, width of the unseen stroke that takes a finger
POINT_PX = 4 / 3  # px in a point
AREA_LOOKS: dict[str, dict[str, Any]] = {
    "avoid": {"color": "#7b4a3a", "weight": 1.4},
    "costly": {"color": "#6f665a", "weight": 1.2, "dash_array": "5 3"},
    "stay": {"color": INK, "weight": 1.8, "dash_array": "14 4 2 4"},
    "owner": {"color": "#6f665a", "weight": 1.2, "dash_array": "1.5 4"},
}
# Of marks that only tell: under the others, and no stop for keyboard or finger.
UNDER: dict[str, Any] = {"z_index_offset": -300, "interactive": False, "keyboard": False}

Groups = dict[str, folium.FeatureGroup]


class DrawnRoute(NamedTuple):
    """Another route on the map: all of it, the stroke seen, the unseen one for the pointer."""

    group: folium.FeatureGroup
    seen: folium.PolyLine
    hit: folium.PolyLine


def add_panes(page: folium.Map) -> None:
    """Order what lies over what: ground, contours, streams, areas, pipes; marks above all."""
    for name, z in PANES.items():
        CustomPane(name, z_index=z, pointer_events=name in {"routes", "pipes"}).add_to(page)


def add_groups(page: folium.Map) -> Groups:
    """One empty group for each switch of the legend."""
    keys = (
        "ground", "contours", "streams", "crossings", "areas", "routes", "lines", "stakes", "field",
        "turns", "points", "findings",
    )  # fmt: skip
    groups = {key: folium.FeatureGroup(name=key) for key in keys}
    for group in groups.values():
        page.add_child(group)
    return groups


def add_ground(ground: Ground, groups: Groups) -> None:
    """Hillshade and contours, with their figures."""
    south, west, north, east = ground.bounds
    folium.raster_layers.ImageOverlay(
        ground.image, [[south, west], [north, east]], pane="ground", pixelated=False
    ).add_to(groups["ground"])
    for index, weight, opacity in ((False, 0.7, 0.65), (True, 1.2, 0.9)):
        paths = [_latlon(c.path, 6) for c in ground.contours if c.index is index]
        if paths:
            look: dict[str, Any] = {"color": HAIR, "weight": weight, "opacity": opacity}
            _stroke(paths, "contours", **look).add_to(groups["contours"])
    for label in ground.figures:
        html = _icon("words", label.text, "contour-figure", label.angle)
        _mark(label.at, html, (44, 14), pane="figures").add_to(groups["contours"])


def add_streams(scene: Scene, groups: Groups) -> None:
    """Watercourses, thinner than any pipe."""
    paths = [_latlon(stream) for stream in scene.streams if len(stream) > 1]
    if paths:
        _stroke(paths, "streams", color=STREAM, weight=1.8).add_to(groups["streams"])


def add_areas(scene: Scene, groups: Groups) -> None:
    """Areas with their outline, hatching and name."""
    for area in scene.areas:
        for part in area.parts:
            _area(area, part).add_to(groups["areas"])
        html = _icon("area", area)
        _mark(area.label_at, html, (0, 0)).add_to(groups["areas"])


def add_crossings(scene: Scene, groups: Groups) -> None:
    """Roads, streams and ditches of the sketch, as quiet as the contours."""
    for crossing in scene.crossings:
        look: dict[str, Any] = {"color": GROUND, "weight": 1.6, "dash_array": "9 4"}
        _stroke(_latlon(crossing.path), "crossings", **look).add_to(groups["crossings"])
        html = _icon("words", crossing.name[:MOST_LETTERS], "area-name")
        _mark(crossing.label_at, html, (0, 0), **UNDER).add_to(groups["crossings"])


def add_field_marks(scene: Scene, groups: Groups) -> None:
    """Where lines cross, levelled stations, and what was noted as it was built."""
    for mark in scene.marks:
        html = _icon("field", mark)
        _mark(mark.lonlat, html, (24, 24), **UNDER).add_to(groups["field"])


def add_lines(scene: Scene, groups: Groups) -> list[folium.PolyLine]:
    """Pipes by role; gives back the strokes that take the pointer, in the order of the lines."""
    hits = []
    for line in scene.lines:
        path = _latlon(line.course)
        for look in line_strokes(line):
            _stroke(path, "pipes", **look).add_to(groups["lines"])
        hits.append(_stroke(path, "pipes", interactive=True, weight=HIT, opacity=0))
        hits[-1].add_to(groups["lines"])
    return hits


def add_routes(scene: Scene, groups: Groups) -> list[DrawnRoute]:
    """Other routes, thin and dashed, each in a group of its own."""
    drawn = []
    width = WEIGHT * POINT_PX
    dash = " ".join(f"{part * width:.1f}" for part in DASH)
    for route in scene.routes:
        path = _latlon(route.course)
        rim = _stroke(path, "routes", color=PAPER, weight=width + 2, opacity=0.8)
        seen = _stroke(path, "routes", color=route.look.colour, weight=width, dash_array=dash)
        hit = _stroke(path, "routes", interactive=True, weight=HIT, opacity=0)
        label = _mark(route.label_at, _icon("route", route), (0, 0), **UNDER)
        group = folium.FeatureGroup(name=route.label)
        for part in (rim, seen, hit, label):
            part.add_to(group)
        group.add_to(groups["routes"])
        drawn.append(DrawnRoute(group, seen, hit))
    return drawn


def line_strokes(line: SceneLine) -> list[dict[str, Any]]:
    """Strokes of a pipe from the lowest up: a rim of paper, the colour, the core of rigid pipe."""
    look, width = line.look, line.look.width * POINT_PX
    dash = " ".join(f"{part * width:.1f}" for part in look.dash) or None
    if not look.double:
        rim = {"color": PAPER, "weight": width + 4, "opacity": 0.85}
        return [rim, {"color": look.colour, "weight": width, "dash_array": dash}]
    rim = {"color": PAPER, "weight": width + 7, "opacity": 0.85}
    edges = {"color": look.colour, "weight": width + 3}
    return [rim, edges, {"color": PAPER, "weight": width - 0.8}]


def add_turns(scene: Scene, groups: Groups) -> None:
    """High and low points as chevrons with their rise or sag."""
    for turn in scene.turns:
        html = _icon("turn", turn)
        _mark(turn.lonlat, html, (40, 40), z_index_offset=-200).add_to(groups["turns"])


def add_points(scene: Scene, sides: list[Side], groups: Groups) -> None:
    """Points as drawn shapes with a letter and their name."""
    for point, side in zip(scene.points, sides, strict=True):
        html = _icon("point", point, side)
        _mark(point.lonlat, html, (40, 40)).add_to(groups["points"])


def add_findings(rows: list[NumberRow], groups: Groups) -> list[folium.Marker]:
    """Findings as numbers beside the place they concern; gives back their markers."""
    markers = []
    for row in rows:
        across, down = row.corner
        html = _icon("findings", row, MOST_NUMBERS)
        anchor = (round(12 - across), round(12 - down))
        markers.append(_mark(row.at, html, (24, 24), anchor=anchor, z_index_offset=300))
        markers[-1].add_to(groups["findings"])
    return markers


def _area(area: SceneArea, part: tuple[FloatArray, ...]) -> folium.Polygon:
    drawn = folium.Polygon(
        [_latlon(ring) for ring in part],
        fill=area.role in {"avoid", "costly"},
        fill_opacity=1.0,
        class_name=f"area {area.role}",
        line_cap="butt",
        **AREA_LOOKS[area.role],
    )
    _into(drawn, "areas", interactive=False)
    return drawn


def _stroke(
    path: list[Any], pane: str, *, interactive: bool = False, **look: Any
) -> folium.PolyLine:
    drawn = folium.PolyLine(path, line_cap="butt", **look)  # type: ignore[no-untyped-call]
    _into(drawn, pane, interactive=interactive)
    return drawn


def _into(path: Any, pane: str, *, interactive: bool) -> None:
    """Folium hands on no pane for paths; Leaflet reads it from their options all the same."""
    path.options |= {"pane": pane, "interactive": interactive}


def _mark(
    lonlat: Any,
    html: str,
    size: tuple[int, int],
    anchor: tuple[int, int] | None = None,
    **options: Any,
) -> folium.Marker:
    lon, lat = lonlat
    middle = anchor or (size[0] // 2, size[1] // 2)
    icon = folium.DivIcon(html=html, icon_size=size, icon_anchor=middle, class_name="mark")
    return folium.Marker((round(lat, 8), round(lon, 8)), icon=icon, **options)


def _icon(macro: str, *arguments: Any) -> str:
    """Markup of one mark, its text escaped by the template.

    Folium reads what it is given as a template once more, so braces are escaped as well: a name
    must not be run as code. No other text of the user may pass through folium.
    """
    markup = str(getattr(TEMPLATES.get_template("icons.jinja").module, macro)(*arguments))
    return markup.strip().replace("{", "&#123;")


def _latlon(lonlat: FloatArray, digits: int = 7) -> list[list[float]]:
    """(lat, lon) as Leaflet wants them; 7 digits are 1 cm."""
    return [[round(float(lat), digits), round(float(lon), digits)] for lon, lat in lonlat]
