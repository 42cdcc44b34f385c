"""The land on the plan strip: contours, streams, areas and pipes, in metres of a panel's frame."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import STREAM
from planner.output.sheets.content import SheetContent
from planner.output.sheets.contours import Relief, draw_contours, relief
from planner.output.sheets.ink import rule
from planner.output.sheets.measure import Measure
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.strip import Panel
from planner.terrain.sample import ground_at

PLAN_WEIGHT = 0.62
OTHER_WEIGHT = 0.35  # of the lines that have sheets of their own
SAMPLE = 1.0  # mm between two samples of the ground
AREA_DASH = (0, (7.0, 2.0, 1.0, 2.0))


def draw_land(axes: Axes, place: Panel, content: SheetContent, measure: Measure) -> Relief:
    """Contours, streams, areas and all pipes, in axes of u, v metres; the contours drawn."""
    shown = _contours(axes, place, content, measure)
    for stream in content.streams:
        uv = place.frame.to_plan(stream.xy)
        rule(axes, uv[:, 0], uv[:, 1], 1.2, color=STREAM, zorder=1.5, gid="stream")
    for area in content.areas:
        for part in getattr(area.shape, "geoms", [area.shape]):
            uv = place.frame.to_plan(np.asarray(part.exterior.coords)[:, :2])
            rule(axes, uv[:, 0], uv[:, 1], 0.7, ls=AREA_DASH, zorder=2, gid="area")
    for other in content.others:
        uv = place.frame.to_plan(other.profile.xy)
        pipe_stroke(axes, uv[:, 0], uv[:, 1], other.role, OTHER_WEIGHT)
    uv = place.frame.to_plan(content.line.profile.xy)
    pipe_stroke(axes, uv[:, 0], uv[:, 1], content.line.role, PLAN_WEIGHT)
    return shown


def _contours(axes: Axes, place: Panel, content: SheetContent, measure: Measure) -> Relief:
    terrain = content.terrain
    (west, east), (south, north) = place.limits
    step = max(SAMPLE * place.scale / 1000.0, min(terrain.cell) / 2.0)
    u, v = np.meshgrid(np.arange(west, east + step, step), np.arange(south, north + step, step))
    xy = place.frame.to_land(np.column_stack([u.ravel(), v.ravel()]))
    z = ground_at(terrain, xy[:, 0], xy[:, 1]).reshape(u.shape)
    shown = relief(u, v, z, step, place.scale, measure)
    draw_contours(axes, shown)
    return shown
