"""Floods, frost and drainage, and what was assumed."""

import math
from collections.abc import Iterator

import numpy as np
from shapely.geometry import LineString, Point
from shapely.ops import nearest_points

from planner.checks.air import PRESSURE_LINES
from planner.checks.fitted import fitted
from planner.checks.planned import chosen, lines_of
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.profile.value import LowPoint
from planner.record.value import Finding, Level, Line, Plan
from planner.terrain.sample import ground_at

FROST_SPARE = Limit(0.15, "pipe 6 in or 0.15 m below the depth of frost [m]", "published")
STREAM_BESIDE = Limit(20.0, "a stream farther off does not drown the outlet [m]", "setting")
STREAM_LEAST = Limit(0.1, "less is not seen in elevation data [m]", "setting")

ROUNDING = 1e-6  # m; a depth is the difference of two levels

IN_THE_OPEN = ("waste", "overflow")  # they come up to their mouth, and run empty


def cover_under_frost(plan: Plan) -> Iterator[Finding]:
    """Lines in use all year that lie in freezing ground, each at its shallowest."""
    frost = plan.site.frost_depth
    if plan.site.season != "all-year" or frost is None or frost <= 0:
        return
    wanted = frost + FROST_SPARE.value
    for line in plan.lines:
        depth = line.profile.depth
        if (
            line.role in IN_THE_OPEN
            or np.isnan(depth).all()
            or np.nanmin(depth) >= wanted - ROUNDING
        ):
            continue
        worst = int(np.nanargmin(depth))
        values: Values = {"depth_m": float(depth[worst]), "wanted_m": wanted, "frost_m": frost}
        if line.settings.laying.manner == "surface":
            values["case"] = "surface"
        yield on_line(line, worst, "warn", "cover-under-frost", values)


def sag_wont_drain(plan: Plan) -> Iterator[Finding]:
    """Low points of lines under pressure: silt stays there, and in winter ice."""
    for line in lines_of(plan, *PRESSURE_LINES):
        for low in line.low_points:
            if fitted(line, low.chainage_m, "washout"):
                continue
            freezes = _freezes(plan, line, low)
            values: Values = {"sag_m": low.sag_m, **({"case": "frost"} if freezes else {})}
            level: Level = "warn" if freezes else "note"
            yield on_line(line, low.index, level, "sag-wont-drain", values)


def _freezes(plan: Plan, line: Line, low: LowPoint) -> bool:
    """Whether water left in a low point freezes: it stands still, or lies in freezing ground."""
    frost = plan.site.frost_depth
    if frost is None:
        return plan.site.season == "summer"
    if frost <= 0:
        return False
    return not float(line.profile.depth[low.index]) >= frost + FROST_SPARE.value


def ram_below_flood(plan: Plan) -> Iterator[Finding]:
    """A ram or pump under the measured flood level."""
    pump, mark = chosen(plan, "pump"), plan.site.flood_mark
    if plan.scheme == "gravity" or pump is None or mark is None:
        return
    under = pump.ground + mark - pump.level
    if under > 0:
        values: Values = {"point": pump.name, "under_m": under}
        yield Finding("stop", "ram-below-flood", values, at=pump.xy)


def flood_mark_missing(plan: Plan) -> Iterator[Finding]:
    """Nobody said how high the water comes."""
    pump = chosen(plan, "pump")
    if plan.scheme == "ram" and pump is not None and plan.site.flood_mark is None:
        yield Finding("note", "flood-mark-missing", {"point": pump.name}, at=pump.xy)


def waste_drowned(plan: Plan) -> Iterator[Finding]:
    """A waste line whose end is under water, at the flood mark or beside a higher stream."""
    for line in lines_of(plan, "waste"):
        # A waste line ends in the open, so its end is at ground level.
        end, index = float(line.profile.ground[-1]), line.profile.run.size - 1
        if _stream_level(plan, line) - end > _least(plan):
            values: Values = {"case": "stream", "under_m": _stream_level(plan, line) - end}
            yield on_line(line, index, "warn", "waste-drowned", values)
        pump, mark = chosen(plan, "pump"), plan.site.flood_mark
        if pump is not None and mark is not None and pump.ground + mark > end:
            values = {"under_m": pump.ground + mark - end}
            yield on_line(line, index, "warn", "waste-drowned", values)


def waste_unplanned(plan: Plan) -> Iterator[Finding]:
    """A ram from which no line leads its waste water away."""
    pump = chosen(plan, "pump")
    if plan.scheme == "ram" and pump is not None and not any(lines_of(plan, "waste")):
        yield Finding("warn", "waste-unplanned", {"point": pump.name}, at=pump.xy)


def _least(plan: Plan) -> float:
    """What a difference of levels must exceed to be believed [m]."""
    noise = plan.terrain.provenance.standard_error
    return max(STREAM_LEAST.value, noise if math.isfinite(noise) else 0.0)


def _stream_level(plan: Plan, line: Line) -> float:
    """Level of the nearest stream beside the line's end [m], -inf where there is none."""
    end = Point(line.profile.xy[-1])
    courses = [LineString(stream.xy) for stream in plan.streams if len(stream.xy) > 1]
    course = min(courses, key=lambda shape: float(shape.distance(end)), default=None)
    if course is None or course.distance(end) > STREAM_BESIDE.value:
        return -math.inf
    spot, _ = nearest_points(course, end)
    return float(ground_at(plan.terrain, spot.x, spot.y))


def bore_assumed(plan: Plan) -> Iterator[Finding]:
    """Bores the program chose."""
    lines = [line for line in plan.lines if line.settings.pipe.bore_assumed]
    if lines:
        yield Finding("note", "bore-assumed", {"lines": ", ".join(line.name for line in lines)})
