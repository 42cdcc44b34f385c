"""Marks on the plan strip: chainage ticks, stakes, points and names, contours' figures, north."""

import numpy as np
from matplotlib.axes import Axes
from shapely import LineString, make_valid, transform
from shapely import box as shapely_box

from planner.output.look import POINT_LETTERS
from planner.output.sheets.content import SheetContent
from planner.output.sheets.contours import Relief, figure_contours
from planner.output.sheets.ink import SMALL, fitted, rule, text_width, write
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import flow_arrows
from planner.output.sheets.strip import Panel, StripPlace, at_runs, points_of
from planner.output.sheets.symbols import POINT, point_symbol
from planner.output.sheets.taken import Spot, Taken, put
from planner.profile.value import FloatArray
from planner.record.value import Placed

LEAST_AREA = 40.0  # mm² that a name needs
ASIDE = 3.3  # mm from the pipe to the middle of a tick's figure


def draw_plan_marks(
    sheet: Axes,
    place: StripPlace,
    content: SheetContent,
    marks: FloatArray,
    reliefs: list[Relief],
    measure: Measure,
) -> None:
    """On each panel: points with names, chainage ticks, stakes, areas, contours; words clear."""
    profile = content.line.profile
    for panel, relief in zip(place.panels, reliefs, strict=True):
        taken = Taken(panel.box)
        line = panel.mm(points_of(profile, panel.reach))
        flow_arrows(sheet, line[:, 0], line[:, 1], content.line.role, 2.6)
        _points(sheet, taken, panel, content)
        _ticks(sheet, taken, panel, content, marks, measure)
        if len(place.panels) > 1:
            _north(sheet, taken, panel)
        whole = panel.mm(profile.xy)
        taken.stroke(whole)
        taken.harden()
        _area_names(sheet, taken, panel, content, whole)
        paths = [
            (level, panel.mm(panel.frame.to_land(path)))
            for level, path, index in relief.lines
            if index
        ]
        figure_contours(sheet, taken, paths, measure)
    for panel in place.panels[1:]:
        left, box = panel.box.left, panel.box
        rule(sheet, [left, left], [box.bottom, box.top], 0.7, ls=(0, (4.0, 3.0)), gid="plan-break")
    if len(place.panels) == 1:
        box = Box(place.box.left - 18.0, place.box.bottom, place.box.left, place.box.top)
        _arrow(sheet, place.panels[0], np.array([box.left + 9.0, box.top - 15.0]), 6.0)


def _points(sheet: Axes, taken: Taken, panel: Panel, content: SheetContent) -> None:
    """The line's ends, and those other points whose symbols stand clear of one another."""
    ends = {content.line.start, content.line.end}
    half = POINT / 2.0 + 0.4
    for point, letter in sorted(lettered_points(content), key=lambda p: p[0].name not in ends):
        x, y = map(float, panel.mm(np.array([point.xy]))[0])
        box = Box(x - half, y - half, x + half, y + half)
        end = point.name in ends and panel.box.holds(box)
        if point.role == "way" or not (end or taken.free(box)):
            continue
        taken.take(box)
        point_symbol(sheet, x, y, point.role, letter)
        text = fitted(point.name, 34.0, SMALL)
        wide = text_width(text, SMALL) / 2.0
        asides = (0.0, wide - 3.0, 3.0 - wide)
        spots = [Spot(x + aside, y + up) for up in (5.2, -5.2) for aside in asides]
        spots += [Spot(x + aside, y) for aside in (wide + 4.2, -wide - 4.2)]
        put(sheet, taken, text, spots, weight="bold" if point.name in ends else "normal")


def lettered_points(content: SheetContent) -> list[tuple[Placed, str]]:
    """Each point with its letter: an outlet's number, P for a powered pump, else its role's."""
    return letters_of(content.points, powered=content.scheme == "powered")


def letters_of(points: tuple[Placed, ...], *, powered: bool) -> list[tuple[Placed, str]]:
    """Each point with the letter or number that stands in its symbol."""
    outlets = [point for point in points if point.role == "outlet"]
    letters = {id(outlet): str(number) for number, outlet in enumerate(outlets, start=1)}
    if powered:
        letters |= {id(point): "P" for point in points if point.role == "pump"}
    return [(p, letters.get(id(p), POINT_LETTERS[p.role])) for p in points]


def _area_names(
    sheet: Axes, taken: Taken, panel: Panel, content: SheetContent, line: FloatArray
) -> None:
    """Each area's name, in the largest part of it that the panel shows clear of the line."""
    box = panel.box
    if box.width < 20.0:
        return
    window = shapely_box(box.left + 8.0, box.bottom + 3.0, box.right - 8.0, box.top - 3.0)
    kept = LineString(line).buffer(3.0)
    for area in content.areas:
        shown = make_valid(transform(area.shape, panel.mm)).intersection(window).difference(kept)
        parts = sorted(getattr(shown, "geoms", [shown]), key=lambda part: -part.area)
        spots = [part.representative_point() for part in parts if part.area >= LEAST_AREA]
        text = fitted(area.name, 30.0, SMALL)
        asides = [
            (x, y) for y in (0.0, 4.0, -4.0, 8.0, -8.0) for x in (0.0, 8.0, -8.0, 20.0, -20.0)
        ]
        middles = [Spot(s.x + x, s.y + y) for s in spots for x, y in asides]
        put(sheet, taken, text, middles, style="italic", zorder=6)


def _ticks(
    sheet: Axes,
    taken: Taken,
    panel: Panel,
    content: SheetContent,
    marks: FloatArray,
    measure: Measure,
) -> None:
    """A tick across the pipe at each mark with its chainage, a short one at each stake."""
    profile = content.line.profile
    runs = np.interp(marks, profile.chainage, profile.run)
    for stake in content.stakes:
        if panel.reach.has(stake.run_m):
            _tick(sheet, panel, content, stake.run_m, 0.8, 0.6)
    for chainage, run in zip(marks, runs, strict=True):
        if not panel.reach.has(float(run)) or not 0.0 < run < profile.run[-1]:
            continue
        at, across = _tick(sheet, panel, content, float(run), 1.5, 0.9)
        text = measure.mark(float(chainage))
        spots = [Spot(*(at + across * side).tolist()) for side in (-ASIDE, ASIDE, -5.0, 5.0)]
        put(sheet, taken, text, spots, zorder=6.6)


def _tick(
    sheet: Axes, panel: Panel, content: SheetContent, run: float, half: float, width: float
) -> tuple[FloatArray, FloatArray]:
    """A tick across the pipe; where it stands [mm], and the direction across."""
    profile = content.line.profile
    pair = np.clip([run - 0.5, run + 0.5], 0.0, float(profile.run[-1]))
    start, end = panel.mm(at_runs(profile, np.asarray(pair)))
    along = (end - start) / (np.hypot(*(end - start)) or 1.0)
    across = np.array([-along[1], along[0]])
    at = panel.mm(at_runs(profile, np.array([run])))[0]
    ends = np.array([at - across * half, at + across * half])
    rule(sheet, ends[:, 0], ends[:, 1], width, zorder=6.5)
    return at, across


def _north(sheet: Axes, taken: Taken, panel: Panel) -> None:
    """A small arrow to the grid's north, in a corner of the panel that is free."""
    box, half = panel.box, 5.6
    for x in (box.left + half, box.right - half):
        for y in (box.top - half, box.bottom + half):
            corner = Box(x - half, y - half, x + half, y + half)
            if taken.free(corner):
                taken.take(corner)
                _arrow(sheet, panel, np.array([x, y]), 2.8)
                return


def _arrow(sheet: Axes, panel: Panel, middle: FloatArray, half: float) -> None:
    """An arrow to the grid's north, as the panel is turned."""
    (tail, head) = panel.frame.to_plan(np.array([[0.0, 0.0], [0.0, 1.0]]))
    north_arrow(sheet, middle, (head - tail) / np.hypot(*(head - tail)), half)


def north_arrow(
    sheet: Axes, middle: FloatArray, direction: FloatArray, half: float, letter: str = "N"
) -> None:
    """An arrow along a unit vector, its letter beyond its tip."""
    start, tip = middle - direction * half, middle + direction * half
    rule(sheet, [start[0], tip[0]], [start[1], tip[1]], 0.9)
    side = np.array([-direction[1], direction[0]])
    barb = tip - direction * half / 2.0
    for turn in (1.0, -1.0):
        end = barb + turn * side * half * 0.22
        rule(sheet, [tip[0], end[0]], [tip[1], end[1]], 0.9)
    at = tip + direction * 1.9
    write(sheet, at[0], at[1], letter, weight="bold", ha="center", va="center_baseline")
