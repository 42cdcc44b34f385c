"""The land on the plan strip: contours, streams, areas and pipes, in metres of its frame."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR, STREAM
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import SMALL, rule
from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.strip import StripPlace
from planner.profile.value import FloatArray
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain

PLAN_WEIGHT = 0.62
OTHER_WEIGHT = 0.35  # of the lines that have sheets of their own
CONTOURS_APART = 3.0  # mm on paper, on ground of middling slope
MOST_CONTOURS = 40
SAMPLE = 1.0  # mm between two samples of the ground


def draw_land(axes: Axes, place: StripPlace, content: SheetContent, measure: Measure) -> None:
    """Contours, streams, areas and all pipes, in axes of u, v metres."""
    _contours(axes, place, content.terrain, measure)
    for stream in content.streams:
        uv = place.frame.to_plan(stream.xy)
        rule(axes, uv[:, 0], uv[:, 1], 1.0, color=STREAM, zorder=1.5, gid="stream")
    for area in content.areas:
        for part in getattr(area.shape, "geoms", [area.shape]):
            uv = place.frame.to_plan(np.asarray(part.exterior.coords)[:, :2])
            rule(axes, uv[:, 0], uv[:, 1], 0.7, ls=(0, (7.0, 2.0, 1.0, 2.0)), zorder=2, gid="area")
    for other in content.others:
        uv = place.frame.to_plan(other.profile.xy)
        pipe_stroke(axes, uv[:, 0], uv[:, 1], other.role, OTHER_WEIGHT)
    uv = place.frame.to_plan(content.line.profile.xy)
    pipe_stroke(axes, uv[:, 0], uv[:, 1], content.line.role, PLAN_WEIGHT)


def _contours(axes: Axes, place: StripPlace, terrain: Terrain, measure: Measure) -> None:
    (west, east), (south, north) = place.limits
    step = max(SAMPLE * place.scale / 1000.0, min(terrain.cell) / 2.0)
    u, v = np.meshgrid(np.arange(west, east + step, step), np.arange(south, north + step, step))
    xy = place.frame.to_land(np.column_stack([u.ravel(), v.ravel()]))
    z = ground_at(terrain, xy[:, 0], xy[:, 1]).reshape(u.shape)
    if np.isfinite(z).sum() < 4 or min(z.shape) < 2:
        return
    interval = contour_interval(z, step, place.scale, measure)
    low, high = np.nanmin(z), np.nanmax(z)
    numbers = np.arange(np.ceil(low / interval), np.floor(high / interval) + 1.0)
    # Index contours stand at round levels: every fourth of 0.5, else every fifth.
    leading = round(interval / measure.metres / 10 ** np.floor(np.log10(interval / measure.metres)))
    index = numbers % (4 if leading == 5 else 5) == 0
    for chosen, width in ((numbers[~index], 0.3), (numbers[index], 0.55)):
        if chosen.size == 0:
            continue
        drawn = axes.contour(
            u,
            v,
            np.ma.masked_invalid(z),
            levels=chosen * interval,
            colors=HAIR,
            linewidths=width,
            linestyles="solid",
            zorder=1,
        )
        if width > 0.5:
            axes.clabel(
                drawn,
                fontsize=SMALL,
                colors=HAIR,
                fmt=lambda level: f"{level / measure.metres:g}",
                inline_spacing=2,
            )


def contour_interval(z: FloatArray, step: float, scale: int, measure: Measure) -> float:
    """A round interval [m] that leaves contours `CONTOURS_APART` mm apart on middling slopes."""
    along, across = np.gradient(z, step)
    slope = np.hypot(along, across)
    known = slope[np.isfinite(slope)]
    middling = float(np.median(known)) if known.size else 0.0
    spread = float(np.nanmax(z) - np.nanmin(z))
    least = max(middling * CONTOURS_APART * scale / 1000.0, spread / MOST_CONTOURS, 0.1)
    return round_step(least / measure.metres) * measure.metres
