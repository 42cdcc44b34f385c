"""The section: ground, pipe and water levels over the run, at true scales."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import DOUBT, GROUND, HAIR, ROLES
from planner.output.sheets.content import Numbered, SheetContent
from planner.output.sheets.ink import SMALL, fitted, halo, rule, write
from planner.output.sheets.letters import draw_letters
from planner.output.sheets.marks import grid_levels
from planner.output.sheets.measure import Measure
from planner.output.sheets.pipe import flow_arrows, pipe_stroke
from planner.output.sheets.place import SectionPlace
from planner.output.sheets.symbols import FLAG, chevron, finding_number
from planner.output.vents import vents_of
from planner.profile.value import FloatArray
from planner.record.value import Line

PIPE_WEIGHT = 0.6  # of the width on the map: at these scales a trench is a millimetre deep
FILLED = (0, (1.0, 2.0))
CLOSED = (0, (9.0, 3.0))
OPEN = (0, (6.0, 2.0, 1.0, 2.0))
CAPTION = 5.5  # mm at the top of the left column, where the exaggeration stands
NAMES = 3.2  # mm under the section's top
FLAGS = 8.6
CHEVRON_HEIGHT = 7.8  # mm that a vent and its figure take over a high point


def draw_section(axes: Axes, content: SheetContent) -> None:
    """Ribbon of doubt, ground, pipe and water levels, in axes of metres."""
    line, profile = content.line, content.line.profile
    error = content.terrain.provenance.standard_error
    if np.isfinite(error):
        low, high = profile.ground - error, profile.ground + error
        axes.fill_between(profile.run, low, high, color=DOUBT, linewidth=0, zorder=1, gid="doubt")
    measured = np.where(profile.filled, np.nan, profile.ground)
    rule(axes, profile.run, profile.ground, 0.8, color=GROUND, ls=FILLED, gid="filled")
    rule(axes, profile.run, measured, 1.0, color=GROUND, gid="ground", zorder=3)
    if line.water is not None:
        water = line.water
        blue = ROLES["delivery"].colour
        rule(axes, profile.run, water.closed_level, 0.7, ls=CLOSED, gid="closed-level", zorder=4)
        rule(
            axes,
            profile.run,
            water.open_level,
            0.9,
            color=blue,
            ls=OPEN,
            gid="open-level",
            zorder=4,
        )
    pipe_stroke(axes, profile.run, profile.pipe, line.role, PIPE_WEIGHT)


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
        if y - box.bottom > 2.6 and box.top - y > CAPTION:
            figure = measure.level(level)
            write(sheet, box.left - 1.2, y, figure, ha="right", va="center_baseline")
    rule(sheet, [box.left, box.left], [box.bottom, box.top], 0.5)
    profile = line.profile
    runs = np.interp(marks, profile.chainage, profile.run)
    top = np.fmax(np.interp(runs, profile.run, profile.ground), _at(line, runs))
    for run, level in zip(runs, top, strict=True):
        if np.isfinite(level):
            x, y = float(place.x(run)), float(place.y(level))
            rule(sheet, [x, x], [box.bottom, y], 0.3, color=HAIR, zorder=0.6)


def _at(line: Line, runs: FloatArray) -> FloatArray:
    return np.interp(runs, line.profile.run, line.profile.pipe)


def draw_marks(sheet: Axes, place: SectionPlace, content: SheetContent, measure: Measure) -> None:
    """On the section: names of the ends, high and low points, numbers of findings, letters."""
    line, profile = content.line, content.line.profile
    _ends(sheet, place, content, measure)
    vents = vents_of(line)
    for high in line.high_points:
        over = np.nanmax([profile.ground[high.index], profile.pipe[high.index]])
        vent = vents.get(high.index)
        figure = f"{measure.level(high.rise_m)} {measure.symbol}{f', {vent}' if vent else ''}"
        x, y = float(place.x(high.run_m)), float(place.y(over)) + 0.8
        chevron(sheet, x, y, figure, up=True, stem=vent is not None)
    for low in line.low_points:
        under = np.nanmin([profile.ground[low.index], profile.pipe[low.index]])
        figure = f"{measure.level(low.sag_m)} {measure.symbol}"
        chevron(sheet, float(place.x(low.run_m)), float(place.y(under)) - 0.8, figure, up=False)
    _findings(sheet, place, line, content.findings)
    flow_arrows(sheet, place.x(profile.run), place.y(profile.pipe), line.role, 2.4)
    draw_letters(sheet, place, line)


def _ends(sheet: Axes, place: SectionPlace, content: SheetContent, measure: Measure) -> None:
    profile = content.line.profile
    x0, x1 = float(place.x(0.0)), float(place.x(profile.run[-1]))
    room = max((x1 - x0) / 2.0 - 4.0, 30.0)
    y = place.box.top - NAMES
    for x, name, level, side in (
        (x0, content.line.start, profile.pipe[0], "left"),
        (x1, content.line.end, profile.pipe[-1], "right"),
    ):
        if np.isfinite(level):
            rule(sheet, [x, x], [float(place.y(level)), y + 2.0], 0.35, zorder=2)
        outward = side == "right" and x1 - x0 < 70.0
        text = fitted(name, room, SMALL, "bold")
        gap = 1.0 if side == "left" or outward else -1.0
        align = "left" if outward else side
        write(sheet, x + gap, y, text, weight="bold", ha=align, path_effects=halo(), zorder=9)


def _findings(sheet: Axes, place: SectionPlace, line: Line, findings: tuple[Numbered, ...]) -> None:
    """Numbers in a row under the names, each with a thin leader down to its place."""
    here = [f for f in findings if f.line == line.name and f.chainage_m is not None]
    profile = line.profile
    last = -np.inf
    for finding in sorted(here, key=lambda f: (f.chainage_m, f.number)):
        run = float(np.interp(finding.chainage_m or 0.0, profile.chainage, profile.run))
        foot = float(place.x(run))
        x = max(foot, last + FLAG + 0.8)
        last = x
        y = place.box.top - FLAGS
        level = np.interp(run, profile.run, np.fmax(profile.ground, profile.pipe))
        reach = float(place.y(level)) + (CHEVRON_HEIGHT if _near_chevron(line, run, place) else 1.0)
        rule(sheet, [x, foot], [y - FLAG / 2, min(y - FLAG / 2, reach)], 0.4, zorder=6)
        finding_number(sheet, x, y, finding.number, finding.level)


def _near_chevron(line: Line, run: float, place: SectionPlace) -> bool:
    x = float(place.x(run))
    return any(abs(float(place.x(high.run_m)) - x) < 6.0 for high in line.high_points)
