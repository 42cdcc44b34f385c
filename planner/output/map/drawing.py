"""The plan as one SVG drawing: for paper, and for browsers that run no scripts."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from markupsafe import Markup

from planner.output.map.along import Spot, spots
from planner.output.map.assets import TEMPLATES
from planner.output.map.field_marks import DrawnCrossing
from planner.output.map.ground import Ground
from planner.output.map.naming import Side, name_sides
from planner.output.map.numbers import MOST_NUMBERS, NUMBER, number_rows
from planner.output.map.paper import Paper, fit_paper
from planner.output.map.routes import DASH, WEIGHT, SceneRoute
from planner.output.map.scene import Scene, SceneArea, SceneLine
from planner.profile.value import FloatArray
from planner.site.value import Units
from planner.units.show import per_si, symbol

WIDTH = 700.0  # px; about as wide as paper between its margins, 16 px print as 12 point
ARROW_EVERY = 90.0  # px
LETTER_EVERY = 260.0  # px
ROUTE_WIDTH = WEIGHT * 4 / 3  # px
CLEAR = 24.0  # px from a point to the letters of a line
BAR = 130.0  # px, the scale bar at most


@dataclass(frozen=True, eq=False, slots=True)
class DrawnLine:
    """A line on paper: its SVG path, its arrows and letters."""

    line: SceneLine
    path: str
    arrows: list[Spot]
    letters: list[Spot]


def draw_plan(scene: Scene, ground: Ground, paper: Paper, units: Units) -> Markup:
    """The plan on a sheet as an SVG element."""
    sides = point_sides(scene, paper)
    points = paper.place([point.lonlat for point in scene.points])
    drawn = {
        "paper": paper,
        "image": ground.image,
        "frame": _frame(paper, ground.bounds),
        "contours": [(c, svg_path(paper.place(c.path))) for c in ground.contours],
        "figures": [(label.text, *_xy(paper, label.at), label.angle) for label in ground.figures],
        "streams": [svg_path(paper.place(stream)) for stream in scene.streams],
        "areas": [_area(paper, area) for area in scene.areas],
        "crossings": [_crossing(paper, crossing) for crossing in scene.crossings],
        "marks": [(mark, *_xy(paper, mark.lonlat)) for mark in scene.marks],
        "lines": [_line(paper, line, points) for line in scene.lines],
        "routes": [_route(paper, route) for route in scene.routes],
        "route_width": ROUTE_WIDTH,
        "route_dash": " ".join(f"{part * ROUTE_WIDTH:.1f}" for part in DASH),
        "turns": [(turn, *_xy(paper, turn.lonlat)) for turn in scene.turns],
        "points": [
            (point, side, *_xy(paper, point.lonlat))
            for point, side in zip(scene.points, sides, strict=True)
        ],
        "rows": [(row, *_xy(paper, row.at)) for row in number_rows(scene, paper, sides)],
        "most": MOST_NUMBERS,
        "number": NUMBER,
        "bar": scale_bar(paper, units),
    }
    return Markup(TEMPLATES.get_template("plan.svg.jinja").render(**drawn))  # noqa: S704  # rendered with autoescape


def sheet_paper(scene: Scene) -> Paper:
    """The sheet that the scene fills."""
    return fit_paper(scene.bounds, WIDTH)


def point_sides(scene: Scene, paper: Paper) -> list[Side]:
    """On which side of each point its name stands."""
    if not scene.points:
        return []
    at = paper.place([point.lonlat for point in scene.points])
    names = [point.name for point in scene.points]
    paths = [paper.place(line.path) for line in scene.lines]
    return name_sides(names, at, paths, (paper.width, paper.height))


def scale_bar(paper: Paper, units: Units) -> tuple[float, str]:
    """Length [px] and words of a round scale bar."""
    scale = per_si("level", units)
    most = BAR / paper.metre * scale
    power = 10.0 ** math.floor(math.log10(most))
    size = max(f * power for f in (1.0, 2.0, 5.0) if f * power <= most)
    return size / scale * paper.metre, f"{size:,g} {symbol('level', units)}"


def svg_path(xy: FloatArray, *, closed: bool = False) -> str:
    """SVG path through (n, 2) pixels, to 0.1 px."""
    points = "L".join(f"{x:.1f} {y:.1f}" for x, y in xy)
    return f"M{points}{'Z' if closed else ''}"


def _frame(paper: Paper, bounds: tuple[float, float, float, float]) -> dict[str, float]:
    south, west, north, east = bounds
    (left, top), (right, bottom) = paper.place([(west, north), (east, south)])
    return {"x": left, "y": top, "width": right - left, "height": bottom - top}


def _area(paper: Paper, area: SceneArea) -> tuple[SceneArea, str, float, float]:
    rings = [ring for part in area.parts for ring in part]
    path = "".join(svg_path(paper.place(ring), closed=True) for ring in rings)
    x, y = _xy(paper, area.label_at)
    return area, path, x, y


def _line(paper: Paper, line: SceneLine, points: FloatArray) -> DrawnLine:
    """A line whose letters keep clear of the points [px]."""
    path = paper.place(line.course)
    return DrawnLine(
        line=line,
        path=svg_path(path),
        arrows=spots(path, ARROW_EVERY, ARROW_EVERY / 2),
        letters=[
            spot
            for spot in spots(path, LETTER_EVERY, LETTER_EVERY / 3)
            if not np.any(np.hypot(points[:, 0] - spot.x, points[:, 1] - spot.y) < CLEAR)
        ],
    )


def _crossing(paper: Paper, crossing: DrawnCrossing) -> tuple[DrawnCrossing, str, float, float]:
    return crossing, svg_path(paper.place(crossing.path)), *_xy(paper, crossing.label_at)


def _route(paper: Paper, route: SceneRoute) -> tuple[SceneRoute, str, float, float]:
    return route, svg_path(paper.place(route.course)), *_xy(paper, route.label_at)


def _xy(paper: Paper, lonlat: npt.ArrayLike) -> tuple[float, float]:
    x, y = paper.place(lonlat)[0]
    return float(x), float(y)
