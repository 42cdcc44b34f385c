"""The door: a plan to its map, in a notebook or in a file."""

import math
import os
import tempfile
from pathlib import Path
from typing import Any

import folium

from planner.errors import OutputError
from planner.output.look import POINT_WORDS, ROLES
from planner.output.map import layers
from planner.output.map.around import ground_around
from planner.output.map.drawing import draw_plan, point_sides, sheet_paper
from planner.output.map.field import field_content
from planner.output.map.ground import Ground, make_ground
from planner.output.map.numbers import number_rows
from planner.output.map.panel import (
    SCHEMES,
    data_source,
    line_rows,
    odds,
    owner_rows,
    point_rows,
    section_facts,
    water_figures,
)
from planner.output.map.paper import Paper
from planner.output.map.pegs import peg_digest, peg_marks
from planner.output.map.routes import choice_rows, route_tables
from planner.output.map.scene import Scene, make_scene
from planner.output.map.section import FORMATS, draw_section
from planner.output.map.sheet import OfflineMap, Sheet, Start
from planner.output.stakes.make import stakes_of
from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.site.value import AreaRole
from planner.units.show import per_si, symbol
from planner.wording.cautions import cautions

AREA_WORDS: dict[AreaRole, str] = {
    "avoid": "no pipe here",
    "costly": "costly to dig",
    "stay": "stay inside",
    "owner": "an owner's land",
}


def make_map(plan: Plan) -> folium.Map:
    """The plan's map; it shows itself in a notebook and needs no network.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    folium.Map
        Further folium layers may be added; what they would load from elsewhere is not let in.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    staked = stakes_of(plan)
    scene = make_scene(plan, staked)
    paper = sheet_paper(scene)
    clear = [point.lonlat for point in scene.points] + [area.label_at for area in scene.areas]
    ground = make_ground(ground_around(plan), paper, plan.site.units, clear)
    page = _map(scene, ground, paper)
    content = _content(plan, scene, ground, paper) | field_content(plan, scene)
    Sheet(content).add_child(page)
    _number(page)
    return page


def write_map(plan: Plan, path: str | Path) -> None:
    """Write the plan's map as one HTML file that opens with no network at all.

    Parameters
    ----------
    plan : Plan
    path : path
        Replaced if it exists; nothing is left there if writing fails.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    OutputError
        The file can't be written.
    """
    target = Path(path)
    html = make_map(plan).get_root().render()
    try:
        _write(html, target)
    except OSError as error:
        msg = f"the map can't be written to {target}: {error.strerror or error}"
        raise OutputError(msg) from error


def _write(html: str, target: Path) -> None:
    """Write beside the target, then move: nothing half-written is ever there."""
    handle, name = tempfile.mkstemp(dir=target.parent, prefix=target.name, suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(html)
        Path(name).chmod(0o644)
        Path(name).replace(target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _map(scene: Scene, ground: Ground, paper: Paper) -> folium.Map:
    west, south, east, north = scene.bounds
    page = OfflineMap(
        location=((south + north) / 2, (west + east) / 2),
        zoom_start=17,
        tiles=None,
        zoom_control=False,
        attribution_control=False,
        zoom_snap=0.25,
        zoom_delta=0.5,
        min_zoom=8,
        max_zoom=22,
    )
    layers.add_panes(page)
    groups = layers.add_groups(page)
    layers.add_ground(ground, groups)
    layers.add_streams(scene, groups)
    layers.add_crossings(scene, groups)
    layers.add_areas(scene, groups)
    routes = layers.add_routes(scene, groups)
    hits = layers.add_lines(scene, groups)
    layers.add_field_marks(scene, groups)
    layers.add_turns(scene, groups)
    sides = point_sides(scene, paper)
    layers.add_points(scene, sides, groups)
    found = layers.add_findings(number_rows(scene, paper, sides), groups)
    page.add_child(Start(groups, hits, found, routes))
    return page


def _content(plan: Plan, scene: Scene, ground: Ground, paper: Paper) -> dict[str, Any]:
    units = plan.site.units
    unit = symbol("level", units)
    roles = {line.role for line in plan.lines}
    return {
        "title": plan.site.title,
        "scheme": SCHEMES[plan.scheme],
        "made": f"{plan.made:%d %B %Y}".lstrip("0"),
        "unit": unit,
        "figures": water_figures(plan),
        "findings": scene.findings,
        "blocked": plan.blocked,
        "odds": odds,
        "looks": [look for role, look in ROLES.items() if role in roles],
        "shapes": _shapes(scene),
        "areas": [(r, w) for r, w in AREA_WORDS.items() if any(a.role == r for a in plan.areas)],
        "contour_words": f"every {ground.interval:g} {unit}, labelled every fifth",
        "vents": any(turn.vent for turn in scene.turns),
        "points": point_rows(plan, scene),
        "lines": line_rows(plan),
        "facts": section_facts(plan),
        "choices": choice_rows(plan),
        "routes": route_tables(plan),
        "drawn_routes": bool(scene.routes),
        "owners": owner_rows(plan),
        "cautions": cautions(plan),
        "source": data_source(plan),
        "drawing": draw_plan(scene, ground, paper, units),
        "sections": [
            (line, [draw_section(plan, scene, line, page) for page in FORMATS])
            for line in scene.lines
        ],
        "data": _data(plan, scene, ground),
    }


def _shapes(scene: Scene) -> list[tuple[str, str, str]]:
    """Role, letter and word of each kind of point on the plan, for the legend."""
    kinds = {point.role: point for point in scene.points}
    return [
        (role, kinds[role].letter if role != "outlet" else "1", kinds[role].word)
        for role in POINT_WORDS
        if role in kinds
    ]


def _data(plan: Plan, scene: Scene, ground: Ground) -> dict[str, Any]:
    """What `map.js` needs: samples of the lines, places of the findings, the pointer's levels."""
    west, south, east, north = scene.bounds
    ground_south, ground_west, ground_north, ground_east = ground.bounds
    units = plan.site.units
    stakes = {one.line.name: peg_marks(one) for one in scene.staked}
    return {
        "title": plan.site.title,
        "made": plan.made.isoformat(),
        "stakes": peg_digest(scene.staked),
        "units": units,
        "unit": symbol("level", units),
        "scale": per_si("level", units),
        "bounds": [[south, west], [north, east]],
        "ground": [[ground_south, ground_west], [ground_north, ground_east]],
        "grid": ground.grid,
        "first": "main" if plan.scheme == "gravity" else "delivery",
        "lines": [
            {
                "name": line.name,
                "role": line.role,
                "letters": line.look.letters,
                "colour": line.look.colour,
                "path": [[round(lat, 7), round(lon, 7)] for lon, lat in line.path.tolist()],
                "chainage": _rounded(line.chainage, 2),
                "ground": _rounded(line.ground, 3),
                "pipe": _rounded(line.pipe, 3),
                "stakes": stakes.get(line.name, []),
            }
            for line in scene.lines
        ],
        "routes": [
            {
                "line": route.line,
                "letter": route.letter,
                "letters": route.label,
                "colour": route.look.colour,
                "path": [[round(lat, 7), round(lon, 7)] for lon, lat in route.course.tolist()],
            }
            for route in scene.routes
        ],
        "findings": [
            {
                "number": finding.number,
                "line": finding.line,
                "chainage": finding.chainage,
                "at": None if finding.at is None else [finding.at[1], finding.at[0]],
            }
            for finding in scene.findings
        ],
    }


def _rounded(values: FloatArray, digits: int) -> list[float | None]:
    """As JSON takes them: null where a value is not known."""
    return [round(v, digits) if math.isfinite(v) else None for v in values.tolist()]


def _number(page: folium.Map) -> None:
    """Name folium's parts by their place, so that one plan always gives one and the same file."""
    waiting: list[Any] = [page]
    count = 0
    while waiting:
        part = waiting.pop()
        part._id = format(count, "x")  # noqa: SLF001  # folium offers no other way
        count += 1
        waiting.extend(part._children.values())  # noqa: SLF001
