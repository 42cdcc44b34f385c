"""The first sheet: the whole site as a map at true scale, with grid, norths, legend and index."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from shapely import box as rectangle
from shapely import make_valid, transform

from planner.output.look import HAIR, INK, ROLES, STREAM
from planner.output.sheets.block import (
    data_row,
    datum_row,
    frame_block,
    levels_row,
    scale_bar,
)
from planner.output.sheets.columns import stake_at
from planner.output.sheets.content import SheetContent
from planner.output.sheets.contours import Relief, draw_contours, figure_contours, relief
from planner.output.sheets.draw import blank, draw_frame, metres, millimetres
from planner.output.sheets.ink import FIGURE, MEDIUM, SMALL, fitted, rule, text_width
from planner.output.sheets.land import AREA_DASH
from planner.output.sheets.marks import mark_step
from planner.output.sheets.measure import Measure, measure
from planner.output.sheets.overview_key import draw_key
from planner.output.sheets.paper import (
    BLOCK,
    PAPERS,
    Box,
    PaperName,
    block_of,
    frame_of,
)
from planner.output.sheets.pipe import flow_arrows, pipe_stroke
from planner.output.sheets.plan_marks import letters_of
from planner.output.sheets.scales import fitting, on_paper
from planner.output.sheets.symbols import POINT, point_symbol
from planner.output.sheets.taken import Spot, Taken, put
from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.terrain.sample import ground_at

AROUND = 12.0  # mm of land round what is drawn
PIXEL = 0.4  # mm of the hillshade
SHADE = (0.80, 1.0)  # its greys: light enough for words and for a photocopier
STAKES_APART = 20.0  # mm between two stakes that are named
GRID_APART = 45.0  # mm between two grid ticks
WEIGHT = 0.75  # of the strokes on the map


@dataclass(frozen=True, slots=True)
class MapPlace:
    """The map in its box [mm] at 1:`scale`; `west`, `south` are x, y at its corner [m]."""

    box: Box
    scale: int
    west: float
    south: float

    def mm(self, xy: FloatArray) -> FloatArray:
        """(n, 2) millimetres on the sheet of points x, y."""
        offset = np.asarray(xy, dtype=np.float64).reshape(-1, 2) - [self.west, self.south]
        return np.asarray(offset * 1000.0 / self.scale + [self.box.left, self.box.bottom])

    @property
    def limits(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """X and y limits of the box [m]."""
        metre = on_paper(1.0, self.scale)
        return (
            (self.west, self.west + self.box.width / metre),
            (self.south, self.south + self.box.height / metre),
        )


def draw_overview(
    plan: Plan,
    contents: tuple[SheetContent, ...],
    index: tuple[tuple[str, int], ...],
    pages: int,
    paper: PaperName,
) -> Figure:
    """The site's map, north of the grid up.

    Parameters
    ----------
    contents : tuple of SheetContent
        Of each whole line; the first carries the number of this sheet.
    index : tuple of (str, int)
        Name of the line and number of each sheet between the first and the last ones.
    pages : int
        How many sheets of findings and figures end the set.
    """
    units = measure(plan.site.units)
    figure = blank(paper)
    place = place_map(plan, paper, units)
    land = metres(figure, PAPERS[paper], place.box, "map", place.limits)
    sheet = millimetres(figure, PAPERS[paper], "sheet", 3)
    shown = _ground(land, place, plan, units)
    _land(land, plan)
    taken = _piped(place, plan)
    _grid(sheet, taken, place)
    _points(sheet, taken, place, plan)
    _letters(sheet, taken, place, plan)
    stakes = _stakes(sheet, taken, place, contents, units)
    taken.harden()
    _names(sheet, taken, place, plan)
    paths = [(level, place.mm(path)) for level, path, heavy in shown.lines if heavy]
    figure_contours(sheet, taken, paths, units)
    frame, block = frame_of(paper), block_of(paper)
    side = Box(block.left, block.top, frame.right, frame.top)
    draw_key(sheet, side, plan, shown.interval, stakes, (*index, ("", pages)), units)
    _block(sheet, block, contents[0], place.scale, units)
    draw_frame(sheet, frame)
    rule(sheet, [block.left] * 2, [frame.bottom, frame.top], 0.5)
    return figure


def _piped(place: MapPlace, plan: Plan) -> Taken:
    """The map with its pipes, which words stand clear of where they can."""
    taken = Taken(place.box)
    for line in plan.lines:
        taken.stroke(place.mm(line.profile.xy))
    return taken


def place_map(plan: Plan, paper: PaperName, units: Measure) -> MapPlace:
    """Everything of the plan in the left of the paper, at the largest round scale that fits."""
    frame = frame_of(paper)
    box = Box(frame.left, frame.bottom, frame.right - BLOCK, frame.top)
    xy = np.vstack(
        [line.profile.xy for line in plan.lines] + [np.array([p.xy]) for p in plan.points]
    )
    low, high = xy.min(axis=0), xy.max(axis=0)
    extent_x, extent_y = (float(e) for e in high - low)
    scale = max(
        fitting(extent_x, box.width - 2.0 * AROUND, units),
        fitting(extent_y, box.height - 2.0 * AROUND, units),
    )
    west, south = (
        float(middle) - room * scale / 2000.0
        for middle, room in zip((low + high) / 2.0, (box.width, box.height), strict=True)
    )
    return MapPlace(box, scale, west, south)


def _ground(axes: Axes, place: MapPlace, plan: Plan, units: Measure) -> Relief:
    """Hillshade in light greys, and contours over it."""
    (west, east), (south, north) = place.limits
    step = max(PIXEL * place.scale / 1000.0, min(plan.terrain.cell) / 2.0)
    x, y = np.meshgrid(np.arange(west, east + step, step), np.arange(south, north + step, step))
    z = ground_at(plan.terrain, x.ravel(), y.ravel()).reshape(x.shape)
    if min(z.shape) >= 2 and np.isfinite(z).any():
        light = _light(z, step)
        edges = (x[0, 0] - step / 2, x[0, -1] + step / 2, y[0, 0] - step / 2, y[-1, 0] + step / 2)
        shade = axes.imshow(
            light, cmap="gray", vmin=0.0, vmax=1.0, extent=edges, origin="lower",
            aspect="auto", zorder=0.2, interpolation="nearest",
        )  # fmt: skip
        shade.set_gid("hillshade")
    thin = max(int(1.0 / PIXEL), 1)
    shown = relief(
        x[::thin, ::thin], y[::thin, ::thin], z[::thin, ::thin], step * thin, place.scale, units
    )
    draw_contours(axes, shown)
    return shown


def _light(z: FloatArray, step: float) -> FloatArray:
    """Greys of ground lit from the north-west at 45°, heights doubled; white where unknown."""
    north, east = np.gradient(z * 2.0, step)
    toward = (east * np.sqrt(0.5) - north * np.sqrt(0.5)) * np.sqrt(0.5) + np.sqrt(0.5)
    light = np.clip(toward / np.sqrt(1.0 + east**2 + north**2), 0.0, 1.0)
    low, high = SHADE
    return np.asarray(np.where(np.isfinite(light), low + (high - low) * light, 1.0))


def _land(axes: Axes, plan: Plan) -> None:
    for stream in plan.streams:
        rule(axes, stream.xy[:, 0], stream.xy[:, 1], 1.4, color=STREAM, zorder=1.5, gid="stream")
    for area in plan.areas:
        for part in getattr(area.shape, "geoms", [area.shape]):
            ring = np.asarray(part.exterior.coords)[:, :2]
            rule(axes, ring[:, 0], ring[:, 1], 0.8, ls=AREA_DASH, zorder=2, gid="area")
    for line in plan.lines:
        pipe_stroke(axes, line.profile.xy[:, 0], line.profile.xy[:, 1], line.role, WEIGHT)


def _grid(sheet: Axes, taken: Taken, place: MapPlace) -> None:
    """Ticks of the metric grid at the edges with their coordinates, crosses inside."""
    box = place.box
    step = _grid_step(place.scale)
    (west, east), (south, north) = place.limits
    xs = np.arange(np.ceil(west / step), np.floor(east / step) + 1) * step
    ys = np.arange(np.ceil(south / step), np.floor(north / step) + 1) * step
    for x in xs:
        at = float(place.mm(np.array([[x, south]]))[0, 0])
        rule(sheet, [at, at], [box.bottom, box.bottom + 2.0], 0.6)
        rule(sheet, [at, at], [box.top - 2.0, box.top], 0.6)
        put(sheet, taken, f"{x:.0f} E", [Spot(at, box.bottom + 3.8)])
    for y in ys:
        at = float(place.mm(np.array([[west, y]]))[0, 1])
        rule(sheet, [box.left, box.left + 2.0], [at, at], 0.6)
        rule(sheet, [box.right - 2.0, box.right], [at, at], 0.6)
        put(sheet, taken, f"{y:.0f} N", [Spot(box.left + 3.8, at, 90.0)])
        for x in xs:
            u = float(place.mm(np.array([[x, y]]))[0, 0])
            rule(sheet, [u - 1.2, u + 1.2], [at, at], 0.4, color=HAIR, zorder=0.8)
            rule(sheet, [u, u], [at - 1.2, at + 1.2], 0.4, color=HAIR, zorder=0.8)


def _grid_step(scale: int) -> float:
    """A round distance [m] between grid ticks."""
    least = GRID_APART * scale / 1000.0
    power = 10.0 ** np.floor(np.log10(least))
    return float(next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= least * (1 - 1e-9)))


def _points(sheet: Axes, taken: Taken, place: MapPlace, plan: Plan) -> None:
    """Symbols first, so that no name covers one; a symbol that another covers is left out."""
    lettered = letters_of(plan.points, powered=plan.scheme == "powered")
    drawn: list[tuple[str, float, float]] = []
    half = POINT / 2.0 + 0.3
    for point, letter in lettered:
        x, y = map(float, place.mm(np.array([point.xy]))[0])
        box = Box(x - half, y - half, x + half, y + half)
        if point.role == "way" or not place.box.holds(box):
            continue
        if any(abs(x - u) < POINT * 0.8 and abs(y - v) < POINT * 0.8 for _, u, v in drawn):
            continue
        drawn.append((point.name, x, y))
        taken.take(box)
        point_symbol(sheet, x, y, point.role, letter)
    for name, x, y in drawn:
        text = fitted(name, 38.0, FIGURE, "bold")
        wide = text_width(text, FIGURE, "bold") / 2.0
        spots = [
            Spot(x + dx, y + dy)
            for dx, dy in (
                (0.0, 5.6), (0.0, -5.6), (wide + 4.4, 0.0), (-wide - 4.4, 0.0),
                (wide, 5.6), (-wide, 5.6), (wide, -5.6), (-wide, -5.6), (0.0, 9.0), (0.0, -9.0),
            )
        ]  # fmt: skip
        put(sheet, taken, text, spots, FIGURE, weight="bold")


def _letters(sheet: Axes, taken: Taken, place: MapPlace, plan: Plan) -> None:
    """The role's letters beside each line, and arrows of the flow on it."""
    for line in plan.lines:
        path = place.mm(line.profile.xy)
        flow_arrows(sheet, path[:, 0], path[:, 1], line.role, 2.4)
        look = ROLES[line.role]
        spots = [
            spot
            for away in (3.6, 6.4)
            for share in (0.5, 0.35, 0.65, 0.2, 0.8)
            for spot in _beside(path, share, away)
        ]
        put(sheet, taken, look.letters, spots, MEDIUM, weight="bold", color=look.colour, zorder=8)


def _beside(path: FloatArray, share: float, away: float) -> list[Spot]:
    """Places to either side of a line [mm], at a share of its length."""
    steps = np.hypot(*np.diff(path, axis=0).T)
    along = np.concatenate([[0.0], np.cumsum(steps)])
    at = share * along[-1]
    return _sides(path, along, float(at), away)


def _sides(path: FloatArray, along: FloatArray, at: float, away: float) -> list[Spot]:
    here, before, after = (
        np.array([np.interp(place, along, path[:, axis]) for axis in (0, 1)])
        for place in (at, at - 1.0, at + 1.0)
    )
    ahead = after - before
    across = np.array([-ahead[1], ahead[0]]) / (np.hypot(*ahead) or 1.0)
    return [Spot(*(here + side * away * across).tolist()) for side in (1.0, -1.0)]


def _stakes(
    sheet: Axes, taken: Taken, place: MapPlace, contents: tuple[SheetContent, ...], units: Measure
) -> float:
    """Ticks along the lines at a coarse interval, each with its stake's name; that interval [m]."""
    step = mark_step(place.scale, STAKES_APART, units)
    for content in contents:
        profile = content.line.profile
        path = place.mm(profile.xy)
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
        for chainage in np.arange(step, profile.length - step / 4.0, step):
            run = float(np.interp(chainage, profile.chainage, profile.run))
            at = on_paper(run, place.scale)
            ends = _sides(path, along, at, 1.3)
            rule(sheet, [ends[0].x, ends[1].x], [ends[0].y, ends[1].y], 0.8, zorder=6.5)
            name = stake_at(content.stakes, float(chainage)) if content.stakes else ""
            half = text_width(name, SMALL) / 2.0 + 1.8
            put(sheet, taken, name, [*_sides(path, along, at, half), *_sides(path, along, at, 4.2)])
    return step


def _names(sheet: Axes, taken: Taken, place: MapPlace, plan: Plan) -> None:
    """Names of areas, each somewhere inside what the map shows of it."""
    window = rectangle(place.box.left, place.box.bottom, place.box.right, place.box.top)
    for area in plan.areas:
        shown = make_valid(transform(area.shape, place.mm)).intersection(window)
        if shown.is_empty:
            continue
        middle = max(getattr(shown, "geoms", [shown]), key=lambda part: part.area)
        spot = middle.representative_point()
        text = fitted(area.name, 40.0, SMALL)
        asides = [
            (dx, dy) for dy in (0.0, 5.0, -5.0, 10.0, -10.0) for dx in (0.0, 9.0, -9.0, 18.0, -18.0)
        ]
        put(
            sheet, taken, text, [Spot(spot.x + dx, spot.y + dy) for dx, dy in asides],
            style="italic", color=INK, zorder=7,
        )  # fmt: skip


def _block(sheet: Axes, block: Box, content: SheetContent, scale: int, units: Measure) -> None:
    rows = (
        levels_row(content, content.terrain.provenance),
        data_row(content.terrain, content.units),
        datum_row(content.terrain, content.papers, units),
        f"Grid: {_crs(content)}",
        f"Scale {units.spoken(scale)}",
    )
    frame_block(sheet, block, content, "Site plan and index of sheets", rows)
    scale_bar(sheet, block.left + 4.0, block.bottom + 2.4, scale, units)


def _crs(content: SheetContent) -> str:
    crs = content.terrain.crs
    if crs is None:
        return "the data's own metres"
    code = crs.to_epsg()
    return f"{crs.name}, metres" + (f" (EPSG:{code})" if code else "")
