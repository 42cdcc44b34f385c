"""The owner's map: lines by role with their letters, points, numbered fittings; nothing else."""

import io
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from planner.output.look import INK, POINT_LETTERS, ROLES, STREAM
from planner.output.owner.fittings import Fitting
from planner.output.owner.room import Room
from planner.output.owner.words import name_of
from planner.output.print.type import turned
from planner.output.sheets.ink import WHITE, drawing, halo, rule, text_width, write
from planner.output.sheets.measure import Measure, measure, round_step
from planner.output.sheets.paper import MM_PER_INCH
from planner.output.sheets.pipe import flow_arrows, pipe_stroke
from planner.output.sheets.symbols import point_symbol
from planner.profile.value import FloatArray
from planner.record.value import Plan

DOTS = 250  # an inch
MARGIN = 11.0  # mm
NAME = 9.0  # pt
NUMBER = 9.0
DISC = 2.3  # mm, half of a number's circle
LEAST_SPAN = 20.0  # m of land across the map
BAR = 38.0  # mm, about how long the scale bar is
POINT_ROOM = 7.0  # mm


@dataclass(frozen=True, slots=True)
class Place:
    """Where land stands on the map: x, y [m] of its middle, mm of its middle, mm for one m."""

    middle: FloatArray
    centre: FloatArray
    scale: float

    def mm(self, xy: FloatArray) -> FloatArray:
        """Millimetres from the map's lower left of points [m]."""
        return (np.asarray(xy, dtype=np.float64) - self.middle) * self.scale + self.centre


def map_picture(plan: Plan, found: Sequence[Fitting], wide: float, high: float) -> io.BytesIO:
    """The map as a PNG picture of so many mm, north up.

    Raises nothing for a plan without lines: its points stand alone.
    """
    figure = Figure(figsize=(wide / MM_PER_INCH, high / MM_PER_INCH), dpi=DOTS)
    FigureCanvasAgg(figure)
    held = io.BytesIO()
    with drawing():
        axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        axes.set_xlim(0.0, wide)
        axes.set_ylim(0.0, high)
        axes.set_axis_off()
        draw_map(axes, plan, found, (wide, high))
        figure.savefig(held, format="png", dpi=DOTS, facecolor=WHITE, metadata={"Software": None})
    held.seek(0)
    return held


def draw_map(axes: Axes, plan: Plan, found: Sequence[Fitting], size: tuple[float, float]) -> None:
    """The map in axes of millimetres."""
    place = placed(plan, size)
    room = Room(size)
    for stream in plan.streams:
        xy = place.mm(stream.xy)
        rule(axes, xy[:, 0], xy[:, 1], 1.0, color=STREAM, zorder=1.5, gid="stream")
    paths = [place.mm(line.profile.xy) for line in plan.lines]
    for line, path in zip(plan.lines, paths, strict=True):
        pipe_stroke(axes, path[:, 0], path[:, 1], line.role, 0.8)
        flow_arrows(axes, path[:, 0], path[:, 1], line.role, 2.4)
        room.take_line(path)
    room.take(0.0, 0.0, BAR + 22.0, 9.0)
    room.take(size[0] - 12.0, size[1] - 17.0, 12.0, 17.0)
    _points(axes, plan, place, room)
    _numbers(axes, found, place, room)
    for line, path in zip(plan.lines, paths, strict=True):
        _letters(axes, ROLES[line.role].letters, path, room)
    _north(axes, size)
    _bar(axes, place, measure(plan.site.units))


def placed(plan: Plan, size: tuple[float, float]) -> Place:
    """All points and lines in the middle of the map, as large as they can be."""
    west, south, east, north = reach(plan)
    span = np.array([east - west, north - south])
    scale = float(np.min((np.array(size) - 2.0 * MARGIN) / np.maximum(span, LEAST_SPAN)))
    middle = np.array([west + east, south + north]) / 2.0
    return Place(middle, np.array(size) / 2.0, scale)


def reach(plan: Plan) -> tuple[float, float, float, float]:
    """West, south, east and north of all points and lines [m]."""
    spots = np.array([point.xy for point in plan.points], dtype=np.float64).reshape(-1, 2)
    xy = np.vstack([spots, *(line.profile.xy for line in plan.lines)])
    west, south = xy.min(axis=0)
    east, north = xy.max(axis=0)
    return float(west), float(south), float(east), float(north)


def _points(axes: Axes, plan: Plan, place: Place, room: Room) -> None:
    shown = [point for point in plan.points if point.role != "way"]
    at = [place.mm(np.array(point.xy)) for point in shown]
    for x, y in at:
        room.take(x - POINT_ROOM / 2, y - POINT_ROOM / 2, POINT_ROOM, POINT_ROOM)
    outlets = 0
    for point, (x, y) in zip(shown, at, strict=True):
        letter = POINT_LETTERS[point.role]
        if point.role == "outlet":
            outlets += 1
            letter = str(outlets)
        if point.role == "pump" and plan.scheme == "powered":
            letter = "P"
        point_symbol(axes, x, y, point.role, letter)
        name = name_of(point.name)
        wide = text_width(name, NAME) + 1.0
        left, bottom = room.beside(x, y, wide, 3.6, (POINT_ROOM / 2 + 0.5, 7.0, 10.0))
        write(axes, left + 0.5, bottom + 0.8, turned(name), NAME, path_effects=halo(2.0), zorder=12)


def _numbers(axes: Axes, found: Sequence[Fitting], place: Place, room: Room) -> None:
    for one in found:
        x, y = place.mm(np.array(one.xy))
        wide = 2.0 * DISC
        left, bottom = room.beside(x, y, wide, wide, (POINT_ROOM / 2 + 0.5, 7.0, 10.0, 13.0))
        u, v = left + DISC, bottom + DISC
        rule(axes, [x, u], [y, v], 0.6, zorder=9)
        disc = Circle((u, v), DISC, facecolor=INK, edgecolor=WHITE, linewidth=0.6, zorder=13)
        axes.add_patch(disc)
        size = NUMBER if one.number < 100 else 7.0
        write(
            axes, u, v, str(one.number), size,
            color=WHITE, weight="bold", ha="center", va="center_baseline", zorder=14,
        )  # fmt: skip


def _letters(axes: Axes, letters: str, path: FloatArray, room: Room) -> None:
    middle = path[len(path) // 2]
    left, bottom = room.beside(float(middle[0]), float(middle[1]), 5.4, 3.8, (2.2, 4.0, 7.0))
    write(
        axes, left + 2.7, bottom + 0.9, letters, NAME,
        weight="bold", ha="center", path_effects=halo(2.0), zorder=11,
    )  # fmt: skip


def _north(axes: Axes, size: tuple[float, float]) -> None:
    x, y = size[0] - 6.0, size[1] - 15.0
    arrow = Polygon([[x - 2.2, y], [x, y + 9.0], [x + 2.2, y], [x, y + 2.0]], closed=True)
    arrow.set(facecolor=INK, edgecolor=INK, zorder=9)
    axes.add_patch(arrow)
    write(axes, x, y + 10.0, "N", NAME, weight="bold", ha="center", zorder=9)


def _bar(axes: Axes, place: Place, show: Measure) -> None:
    """A scale bar, which holds however the page is copied."""
    units = round_step(BAR / 2.0 / place.scale / show.metres)
    long = units * show.metres * place.scale
    x, y = 3.0, 3.0
    rule(axes, [x, x, x, x + long, x + long, x + long], [y + 1.5, y, y, y, y, y + 1.5], 1.2)
    write(axes, x + long + 1.5, y, f"{units:,.0f} {show.symbol}", NAME, path_effects=halo(2.0))
