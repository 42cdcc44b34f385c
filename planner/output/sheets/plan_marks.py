"""Marks on the plan strip: chainage ticks, flow arrows, points and names, the north arrow."""

import numpy as np
from matplotlib.axes import Axes
from shapely import LineString, Polygon, make_valid, transform
from shapely import box as shapely_box

from planner.output.look import POINT_LETTERS
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import SMALL, fitted, halo, rule, write
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import flow_arrows
from planner.output.sheets.strip import StripPlace
from planner.output.sheets.symbols import POINT, point_symbol
from planner.profile.value import FloatArray, Profile
from planner.record.value import Placed, PlacedArea

APART = 12.0  # mm between two symbols, so that names can be read
ASIDE = 4.5  # mm from the line that names of areas keep
LEAST_AREA = 40.0  # mm² that a name needs


def draw_plan_marks(
    sheet: Axes, place: StripPlace, content: SheetContent, marks: FloatArray, measure: Measure
) -> None:
    """On the plan: chainage ticks, flow arrows, points with their names, letters of areas."""
    profile = content.line.profile
    line = place.mm(profile.xy)
    flow_arrows(sheet, line[:, 0], line[:, 1], content.line.role, 2.6)
    _points(sheet, place, content)
    _ticks(sheet, place, profile, marks, measure)
    _area_names(sheet, place, content.areas, LineString(line).buffer(ASIDE))
    _north(sheet, place)


def _points(sheet: Axes, place: StripPlace, content: SheetContent) -> None:
    """The line's ends, and those other points whose symbols stand clear of one another."""
    ends = {content.line.start, content.line.end}
    drawn: list[tuple[float, float]] = []
    for point, letter in sorted(lettered_points(content), key=lambda p: p[0].name not in ends):
        x, y = map(float, place.mm(np.array([point.xy]))[0])
        hidden = any(abs(x - u) < APART and abs(y - v) < POINT + 4.0 for u, v in drawn)
        beyond = not _inside(place.box, x, y, POINT / 2.0 + 0.5)
        if point.role == "way" or beyond or (hidden and point.name not in ends):
            continue
        point_symbol(sheet, x, y, point.role, letter)
        _name(sheet, place, x, y, point.name, 34.0 if point.name in ends else APART)
        drawn.append((x, y))


def lettered_points(content: SheetContent) -> list[tuple[Placed, str]]:
    """Each point with its letter: an outlet's number, P for a powered pump, else its role's."""
    outlets = [point for point in content.points if point.role == "outlet"]
    letters = {id(outlet): str(number) for number, outlet in enumerate(outlets, start=1)}
    if content.scheme == "powered":
        letters |= {id(point): "P" for point in content.points if point.role == "pump"}
    return [(p, letters.get(id(p), POINT_LETTERS[p.role])) for p in content.points]


def _area_names(
    sheet: Axes, place: StripPlace, areas: tuple[PlacedArea, ...], kept: Polygon
) -> None:
    """Each area's name, in the largest part of it that the strip shows clear of the line."""
    window = shapely_box(
        place.box.left + 8.0, place.box.bottom + 3.0, place.box.right - 8.0, place.box.top - 3.0
    )
    for area in areas:
        shown = make_valid(transform(area.shape, place.mm)).intersection(window).difference(kept)
        largest = max(getattr(shown, "geoms", [shown]), key=lambda part: part.area, default=shown)
        if largest.area < LEAST_AREA:
            continue
        spot = largest.representative_point()
        text = fitted(area.name, 30.0, SMALL)
        write(
            sheet, spot.x, spot.y, text, ha="center", style="italic", path_effects=halo(), zorder=6
        )


def _inside(box: Box, x: float, y: float, margin: float) -> bool:
    return bool(
        box.left + margin <= x <= box.right - margin
        and box.bottom + margin <= y <= box.top - margin
    )


def _name(sheet: Axes, place: StripPlace, x: float, y: float, name: str, room: float) -> None:
    """A point's name over its symbol, or under it near the strip's top."""
    over = y + POINT / 2.0 + 4.0 < place.box.top
    height = y + (POINT / 2.0 + 1.0) * (1.0 if over else -1.0)
    text = fitted(name, room, SMALL)
    write(
        sheet,
        x,
        height,
        text,
        ha="center",
        va="bottom" if over else "top",
        path_effects=halo(),
        zorder=9,
    )


def _ticks(
    sheet: Axes, place: StripPlace, profile: Profile, marks: FloatArray, measure: Measure
) -> None:
    """A tick across the pipe at each mark between the ends, with its chainage."""
    for chainage in marks[1:-1]:
        pair = np.clip([chainage - 0.5, chainage + 0.5], 0.0, profile.length)
        ends = np.column_stack(
            [np.interp(pair, profile.chainage, profile.xy[:, axis]) for axis in (0, 1)]
        )
        (x0, y0), (x1, y1) = place.mm(ends)
        along = np.hypot(x1 - x0, y1 - y0) or 1.0
        across = np.array([-(y1 - y0), x1 - x0]) / along
        x, y = (x0 + x1) / 2.0, (y0 + y1) / 2.0
        if not _inside(place.box, x, y, 4.0):
            continue
        rule(
            sheet,
            [x - across[0] * 1.3, x + across[0] * 1.3],
            [y - across[1] * 1.3, y + across[1] * 1.3],
            0.8,
            zorder=6.5,
        )
        at = np.array([x, y]) - across * 3.1
        text = measure.chainage(chainage)
        write(
            sheet,
            at[0],
            at[1],
            text,
            ha="center",
            va="center_baseline",
            path_effects=halo(),
            zorder=6.6,
        )


def _north(sheet: Axes, place: StripPlace) -> None:
    """An arrow to the grid's north, in the column left of the plan."""
    (tail, head) = place.frame.to_plan(np.array([[0.0, 0.0], [0.0, 1.0]]))
    direction = (head - tail) / np.hypot(*(head - tail))
    middle = np.array([place.box.left - 10.0, place.box.top - 15.0])
    start, tip = middle - direction * 6.0, middle + direction * 6.0
    rule(sheet, [start[0], tip[0]], [start[1], tip[1]], 0.9)
    side = np.array([-direction[1], direction[0]])
    barb = tip - direction * 3.0
    rule(sheet, [tip[0], (barb + side * 1.3)[0]], [tip[1], (barb + side * 1.3)[1]], 0.9)
    rule(sheet, [tip[0], (barb - side * 1.3)[0]], [tip[1], (barb - side * 1.3)[1]], 0.9)
    at = tip + direction * 2.3
    write(sheet, at[0], at[1], "N", weight="bold", ha="center", va="center_baseline")
