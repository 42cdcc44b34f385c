"""Contours of the land in a frame of its own, drawn and figured."""

from dataclasses import dataclass

import contourpy
import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR
from planner.output.sheets.ink import SMALL, rule, text_width
from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.taken import Spot, Taken, put
from planner.profile.value import FloatArray

CONTOURS_APART = 3.0  # mm on paper, on ground of middling slope
MOST_CONTOURS = 40
EVERY = 70.0  # mm between two figures on one contour
FLAT_ENOUGH = 0.3  # of a figure's width; where a contour bends more no figure is set


@dataclass(frozen=True, eq=False, slots=True)
class Relief:
    """Contours: their interval [m], and each one's level [m], path [m] and whether it is an index.

    Paths are (n, 2), in the coordinates of the grid they were taken from.
    """

    interval: float
    lines: tuple[tuple[float, FloatArray, bool], ...]


def relief(
    x: FloatArray, y: FloatArray, z: FloatArray, step: float, scale: int, measure: Measure
) -> Relief:
    """Contours of levels on a grid `step` [m] apart, as close as paper at 1:`scale` allows."""
    if np.isfinite(z).sum() < 4 or min(z.shape) < 2:
        return Relief(np.nan, ())
    interval = contour_interval(z, step, scale, measure)
    low, high = float(np.nanmin(z)), float(np.nanmax(z))
    # Index contours stand at round levels: every fourth of 0.5, else every fifth.
    leading = round(interval / measure.metres / 10 ** np.floor(np.log10(interval / measure.metres)))
    every = 4 if leading == 5 else 5
    maker = contourpy.contour_generator(x, y, np.ma.masked_invalid(z))
    lines = []
    for number in range(int(np.ceil(low / interval)), int(np.floor(high / interval)) + 1):
        level, index = number * interval, number % every == 0
        lines += [(level, np.asarray(path), index) for path in maker.lines(level)]
    return Relief(interval, tuple(lines))


def draw_contours(axes: Axes, shown: Relief) -> None:
    """The contours' strokes, index ones heavier."""
    for _, path, index in shown.lines:
        rule(
            axes, path[:, 0], path[:, 1], 0.6 if index else 0.3, color=HAIR, zorder=1,
            gid="contour",
        )  # fmt: skip


def figure_contours(
    sheet: Axes, taken: Taken, paths: list[tuple[float, FloatArray]], measure: Measure
) -> None:
    """Figures along index contours given in mm, where nothing else stands."""
    for level, path in paths:
        text = f"{level / measure.metres:g}"
        for spot in _spots(path, text_width(text, SMALL)):
            put(sheet, taken, text, [spot], color="#5f584e", zorder=4)


def _spots(path: FloatArray, width: float) -> list[Spot]:
    """Places along a line [mm], `EVERY` mm apart, where it is straight enough for a figure."""
    steps = np.hypot(*np.diff(path, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    found: list[Spot] = []
    last = -EVERY
    for at in np.arange(width, along[-1] - width, 3.0):
        if at - last < EVERY:
            continue
        ends = np.array([at - width / 2.0, at + width / 2.0])
        (x0, x1), (y0, y1) = (np.interp(ends, along, path[:, axis]) for axis in (0, 1))
        chord = float(np.hypot(x1 - x0, y1 - y0))
        if chord < width * (1.0 - FLAT_ENOUGH / 2.0):
            continue
        turn = float(np.degrees(np.arctan2(y1 - y0, x1 - x0)))
        upright = turn - 180.0 if turn > 90.0 else turn + 180.0 if turn < -90.0 else turn
        x, y = (float(np.interp(at, along, path[:, axis])) for axis in (0, 1))
        found.append(Spot(x, y, round(upright, 1)))
        last = float(at)
    return found


def contour_interval(z: FloatArray, step: float, scale: int, measure: Measure) -> float:
    """A round interval [m] that leaves contours `CONTOURS_APART` mm apart on middling slopes."""
    along, across = np.gradient(z, step)
    slope = np.hypot(along, across)
    known = slope[np.isfinite(slope)]
    middling = float(np.median(known)) if known.size else 0.0
    spread = float(np.nanmax(z) - np.nanmin(z))
    least = max(middling * CONTOURS_APART * scale / 1000.0, spread / MOST_CONTOURS, 0.1)
    return round_step(least / measure.metres) * measure.metres
