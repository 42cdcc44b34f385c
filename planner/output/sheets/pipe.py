"""The stroke of a pipe, as its role is drawn on map, page and sheet."""

import numpy as np
import numpy.typing as npt
from matplotlib.axes import Axes

from planner.output.look import ROLES
from planner.output.sheets.ink import WHITE
from planner.output.sheets.symbols import arrow_head
from planner.profile.value import FloatArray
from planner.site.value import LineRole

ARROWS = 38.0  # mm between two flow arrows


def pipe_stroke(
    axes: Axes, x: npt.ArrayLike, y: npt.ArrayLike, role: LineRole, weight: float = 1.0
) -> None:
    """A pipe through points, in its role's colour and stroke; `weight` thins it."""
    look = ROLES[role]
    width = look.width * weight
    style = (0, look.dash) if look.dash else "solid"
    cap = "round" if not look.dash else "butt"
    axes.plot(
        x,
        y,
        color=look.colour,
        linewidth=width,
        linestyle=style,
        solid_capstyle=cap,
        dash_capstyle="butt",
        solid_joinstyle="round",
        gid=f"pipe-{role}",
        zorder=5,
    )
    if look.double:
        axes.plot(x, y, color=WHITE, linewidth=width * 0.42, solid_capstyle="butt", zorder=5.1)


def flow_arrows(axes: Axes, x: FloatArray, y: FloatArray, role: LineRole, size: float) -> None:
    """Arrow heads along a line given in mm, in the direction of the flow."""
    known = np.isfinite(x) & np.isfinite(y)
    x, y = x[known], y[known]
    if x.size < 2:
        return
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    count = max(int(along[-1] / ARROWS), 1)
    for place in (np.arange(count) + 0.5) * along[-1] / count:
        behind, ahead = place - 1.0, place + 1.0
        (x0, x1), (y0, y1) = (np.interp([behind, ahead], along, v) for v in (x, y))
        angle = float(np.arctan2(y1 - y0, x1 - x0))
        middle = float(np.interp(place, along, x)), float(np.interp(place, along, y))
        arrow_head(axes, *middle, angle, ROLES[role].colour, size)
