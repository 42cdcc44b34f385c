"""Where lines run: what blocks them, what they cross, how steep the ground is."""

import math
from collections.abc import Iterator

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.geometry.base import BaseGeometry

from planner.checks.spot import on_line, sample_at_run
from planner.checks.value import Limit, Values
from planner.record.value import Blocked, Finding, Line, Plan
from planner.terrain.drainage import Stream
from planner.terrain.value import FloatArray, Terrain

# A pipe that follows a closed area's edge lies within a cell or two of it.
NEAR_CELLS = 3.0

OUTSIDE_LEAST = Limit(0.5, "less is drawing error [m]", "setting")
STEEPEST = Limit(
    0.65, "slopes over about 65 % can't be walked with pipe nor trenched by hand", "setting"
)
STEEP_WINDOW = Limit(5.0, "a shorter step is a bank, which a trench is cut through [m]", "setting")
CROSSING_APART = Limit(
    10.0, "crossings nearer than this are one place on the ground [m]", "setting"
)
CROSSING_END = Limit(3.0, "an end this near a stream stands in it on purpose [m]", "setting")


def blocked(plan: Plan) -> Iterator[Finding]:
    """Lines for which there is no route."""
    points = {point.name: point for point in plan.points}
    for line in plan.blocked:
        values: Values = {
            "case": _case(plan, line),
            "blocked": line.role,
            "start": line.start,
            "end": line.end,
        }
        if line.shortfall is not None and math.isfinite(line.shortfall):
            values["shortfall_m"] = line.shortfall
        values |= _nearest_miss(plan, line)
        area = _closed_area(plan, line)
        if area is not None:
            values["area"] = area
        start = points.get(line.start)
        at = line.where or (None if start is None else start.xy)
        yield Finding("stop", "line-blocked", values, at=at)


def _case(plan: Plan, line: Blocked) -> str:
    """What blocks, and whether it is an end of the line itself that stands on it."""
    ends = {point.xy for point in plan.points if point.name in (line.start, line.end)}
    if line.obstacle == "grade" and len(ends) == 1:
        return "same"
    stands = line.obstacle in ("closed", "void", "edge") and _standing(plan, line) is not None
    return f"{line.obstacle}-end" if stands else line.obstacle


def _standing(plan: Plan, line: Blocked) -> str | None:
    """Name of the end at which the line fails."""
    for point in plan.points:
        if point.name in (line.start, line.end) and point.xy == line.where:
            return point.name
    return None


def _nearest_miss(plan: Plan, line: Blocked) -> Values:
    """Where the line fails: at a point, or how far from its end and beside what else."""
    values: Values = {}
    standing = _standing(plan, line)
    if standing is not None:
        values["point"] = standing
    if line.where is None:
        return values
    for point in plan.points:
        away = math.dist(point.xy, line.where)
        if point.name == line.end:
            values["gap_m"] = away
        elif away < float(values.get("near_m") or math.inf):
            values |= {"near": point.name, "near_m": away}
    if line.edge is not None:
        values["edge_m"] = math.dist(line.where, line.edge)
    return values


def _closed_area(plan: Plan, line: Blocked) -> str | None:
    """Name of the closed area next to the place where the search ended."""
    if line.where is None or line.obstacle != "closed":
        return None
    where, reach = Point(line.where), NEAR_CELLS * max(plan.terrain.cell)
    avoided = [area for area in plan.areas if area.role == "avoid"]
    nearest = min(avoided, key=lambda area: float(area.shape.distance(where)), default=None)
    return nearest.name if nearest and nearest.shape.distance(where) <= reach else None


def leaves_stay(plan: Plan) -> Iterator[Finding]:
    """Lines outside the land they should stay on."""
    land = shapely.union_all([area.shape for area in plan.areas if area.role == "stay"])
    if land.is_empty:
        return
    for line in plan.lines:
        outside = line.path.difference(land)
        if outside.length > OUTSIDE_LEAST.value:
            starts = (line.path.project(Point(part.coords[0])) for part in _pieces(outside))
            index = sample_at_run(line, min(starts))
            yield on_line(line, index, "warn", "leaves-stay", {"metres_m": float(outside.length)})


def _pieces(shape: BaseGeometry) -> list[BaseGeometry]:
    """The points and lines a geometry is made of."""
    parts = shapely.get_parts(shape)
    return [part for part in parts if part.geom_type in {"Point", "LineString"} and part]


def stream_crossing(plan: Plan) -> Iterator[Finding]:
    """Places where a line crosses a watercourse, or enters one to run along in it."""
    for line in plan.lines:
        clear = max(CROSSING_END.value, 2.0 * max(plan.terrain.cell))
        left = -math.inf
        for enters, leaves in _crossings(line, plan.streams):
            inside = clear < enters < float(line.profile.run[-1]) - clear
            if inside and enters - left > CROSSING_APART.value:
                yield on_line(line, sample_at_run(line, enters), "warn", "stream-crossing", {})
            left = max(left, leaves) if inside else left


def _crossings(line: Line, streams: tuple[Stream, ...]) -> list[tuple[float, float]]:
    """Horizontal distances from the line's start at which it enters and leaves streams [m]."""
    path = line.path
    meets = (path.intersection(LineString(stream.xy)) for stream in streams if len(stream.xy) > 1)
    runs = (
        sorted(float(path.project(Point(xy))) for xy in part.coords)
        for meet in meets
        for part in _pieces(meet)
    )
    return sorted((run[0], run[-1]) for run in runs)


def too_steep(plan: Plan) -> Iterator[Finding]:
    """Ground along a line that can't be walked and trenched."""
    for line in plan.lines:
        slope = _slope_along(line, plan.terrain)
        steep = slope > STEEPEST.value
        if steep.any():
            worst = int(np.nanargmax(np.where(steep, slope, -np.inf)))
            metres = float(np.gradient(line.profile.chainage)[steep].sum())
            values: Values = {"slope": float(slope[worst]), "metres_m": metres}
            yield on_line(line, worst, "warn", "too-steep", values)


def _slope_along(line: Line, terrain: Terrain) -> FloatArray:
    """Slope of the ground along the line at each sample, up or down, over a window."""
    run, ground = line.profile.run, line.profile.ground
    half = max(STEEP_WINDOW.value, 2.0 * max(terrain.cell)) / 2.0
    before = np.maximum(run - half, run[0])
    after = np.minimum(run + half, run[-1])
    rise = np.interp(after, run, ground) - np.interp(before, run, ground)
    slope: FloatArray = np.abs(rise / (after - before))
    return slope
