"""The section: ground, pipe and water levels over the run, at true scales."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import DOUBT, GROUND, HAIR, INK, ROLES
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import FIGURE, rule, write
from planner.output.sheets.levelled import levelled_ground, stations_on
from planner.output.sheets.marks import grid_levels
from planner.output.sheets.measure import Measure
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.place import SectionPlace
from planner.output.sheets.reach import Reach
from planner.profile.value import FloatArray
from planner.record.value import Line

PIPE_WEIGHT = 0.6  # of the width on the map: at these scales a trench is a millimetre deep
FILLED = (0, (1.0, 2.0))
CLOSED = (0, (9.0, 3.0))
OPEN = (0, (6.0, 2.0, 1.0, 2.0))
CAPTION = 5.5  # mm at the top of the left column, where the exaggeration stands


def draw_section(axes: Axes, content: SheetContent, reach: Reach) -> None:
    """Ribbon of doubt, ground, pipe and water levels, in axes of metres."""
    line, profile = content.line, content.line.profile
    error = content.terrain.provenance.standard_error
    run = np.clip(profile.run, reach.start, reach.end)
    shown = _inside(profile.run, reach)
    if np.isfinite(error):
        low, high = profile.ground - error, profile.ground + error
        axes.fill_between(
            run, low, high, where=shown, color=DOUBT, linewidth=0, zorder=1, gid="doubt"
        )
    measured = np.where(profile.filled, np.nan, profile.ground)
    _level(axes, line, reach, profile.ground, 0.8, color=GROUND, ls=FILLED, gid="filled")
    _level(axes, line, reach, measured, 1.0, color=GROUND, gid="ground", zorder=3)
    sure = levelled_ground(profile, stations_on(profile, content.survey))
    _level(axes, line, reach, sure, 2.0, color=INK, gid="levelled-ground", zorder=3.1)
    if line.water is not None:
        closed, opened = line.water.closed_level, line.water.open_level
        blue = ROLES["delivery"].colour
        _level(axes, line, reach, closed, 0.7, ls=CLOSED, gid="closed-level", zorder=4)
        _level(axes, line, reach, opened, 0.9, color=blue, ls=OPEN, gid="open-level", zorder=4)
    x, y = clipped(line, reach, profile.pipe)
    pipe_stroke(axes, x, y, line.role, PIPE_WEIGHT)


def clipped(line: Line, reach: Reach, levels: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Runs and levels of a part of a line, cut exactly at its ends."""
    run = line.profile.run
    inside = run[(run > reach.start) & (run < reach.end)]
    runs = np.concatenate([[reach.start], inside, [reach.end]])
    known = np.interp(runs, run, levels)
    near = np.searchsorted(run, runs).clip(0, run.size - 1)
    return runs, np.where(np.isfinite(levels[near]), known, np.nan)


def _level(
    axes: Axes, line: Line, reach: Reach, levels: FloatArray, width: float, **how: object
) -> None:
    x, y = clipped(line, reach, levels)
    rule(axes, x, y, width, **how)


def _inside(run: FloatArray, reach: Reach) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Samples of the reach, and the one beyond each end."""
    first = max(int(np.searchsorted(run, reach.start, side="right")) - 1, 0)
    last = min(int(np.searchsorted(run, reach.end)), run.size - 1)
    shown = np.zeros(run.size, dtype=np.bool_)
    shown[first : last + 1] = True
    return shown


def draw_grid(
    sheet: Axes, place: SectionPlace, line: Line, marks: FloatArray, measure: Measure
) -> None:
    """Level grid with its figures, the datum, and an ordinate from the datum to each mark."""
    box = place.box
    levels = grid_levels(*place.level_limits, place.scales.vertical, measure)
    for level in levels[(levels > place.datum + 1e-9)]:
        y = float(place.y(level))
        if y > box.top - 1.0:
            continue
        rule(sheet, [box.left, box.right], [y, y], 0.25, color=HAIR, alpha=0.6, zorder=0.5)
        if y - box.bottom > 5.4 and box.top - y > CAPTION:
            figure = measure.level(level)
            write(sheet, box.left - 1.2, y, figure, FIGURE, ha="right", va="center_baseline")
    rule(sheet, [box.left, box.left], [box.bottom, box.top], 0.5)
    profile = line.profile
    runs = np.interp(marks, profile.chainage, profile.run)
    top = np.fmax(
        np.interp(runs, profile.run, profile.ground), np.interp(runs, profile.run, profile.pipe)
    )
    for run, level in zip(runs, top, strict=True):
        if np.isfinite(level):
            x, y = float(place.x(run)), float(place.y(level))
            rule(sheet, [x, x], [box.bottom, min(y, box.top)], 0.3, color=HAIR, zorder=0.6)
