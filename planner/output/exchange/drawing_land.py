"""The land of the drawing: contours and streams near the lines, areas of the sketch."""

from typing import Any

import numpy as np
import shapely

from planner.output.exchange.drawing_blocks import NAME, STYLE, words
from planner.record.value import Plan
from planner.terrain.relief import contours
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray, Terrain

ROUND = 40.0  # m of ground drawn round the lines and points
SMOOTH = 0.1  # m; contours are thinned so far
Box = tuple[float, float, float, float]  # west, south, east, north


def draw_land(space: Any, plan: Plan) -> None:
    """Contours and streams within the box of the plan, areas whole.

    Parameters
    ----------
    space : ezdxf.layouts.Modelspace
    plan : Plan
    """
    box = box_of(plan)
    for contour in contours(_window(plan.terrain, box)):
        layer = "contours-index" if contour.index else "contours"
        line = shapely.LineString(contour.xy).simplify(SMOOTH)
        for part in _within(line, box):
            space.add_lwpolyline(
                part, dxfattribs={"layer": layer, "elevation": round(contour.level, 3)}
            )
    for stream in plan.streams:
        if len(stream.xy) > 1:
            for part in _within(shapely.LineString(stream.xy), box):
                space.add_lwpolyline(part, dxfattribs={"layer": "streams"})
    for area in plan.areas:
        _area(space, area.name, area.role, area.shape)


def box_of(plan: Plan) -> Box:
    """West, south, east and north of lines and points, with some ground round them [m]."""
    xy = np.vstack([*(line.profile.xy for line in plan.lines), *([p.xy] for p in plan.points)])
    (west, south), (east, north) = xy.min(axis=0) - ROUND, xy.max(axis=0) + ROUND
    return float(west), float(south), float(east), float(north)


def _window(terrain: Terrain, box: Box) -> Terrain:
    """The part of the terrain that covers a box: contours of a whole valley take long."""
    west, south, east, north = box
    rows, cols = terrain.shape
    row, col = grid_position(terrain, [west, east], [north, south])
    top, bottom = (int(np.clip(value, 0, rows - 1)) for value in (row[0] - 1, row[1] + 2))
    left, right = (int(np.clip(value, 0, cols - 1)) for value in (col[0] - 1, col[1] + 2))
    origin = terrain.origin[0] + left * terrain.cell[0], terrain.origin[1] - top * terrain.cell[1]
    return Terrain(
        z=terrain.z[top : bottom + 1, left : right + 1],
        cell=terrain.cell,
        origin=origin,
        crs=terrain.crs,
        provenance=terrain.provenance,
    )


def _within(line: shapely.LineString, box: Box) -> list[FloatArray]:
    """Coordinates of the parts of a line inside a box."""
    parts = shapely.get_parts(shapely.clip_by_rect(line, *box))
    return [shapely.get_coordinates(part) for part in parts if part.geom_type == "LineString"]


def _area(space: Any, name: str, role: str, shape: Any) -> None:
    for part in shapely.get_parts(shape):
        for ring in (part.exterior, *part.interiors):
            corners = shapely.get_coordinates(ring)[:-1]
            space.add_lwpolyline(corners, close=True, dxfattribs={"layer": role})
    at = shapely.point_on_surface(shape)
    text = space.add_text(
        words(f"{name} ({role})"), height=NAME, dxfattribs={"layer": role, "style": STYLE}
    )
    text.set_placement((at.x, at.y))
