"""The drive pipe: its ratios, its slope, whether it is straight and where that leaves it."""

import math
from collections.abc import Iterator

import numpy as np

from planner.checks.planned import lines_of, name_of
from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.hydraulics import limits
from planner.record.value import Finding, Line, Plan
from planner.terrain.value import FloatArray

# Outside every country's rule but the loosest; the sources disagree.
FALLS_LEAST = Limit.low(limits.DRIVE_LENGTH_TO_FALL)
FALLS_MOST = Limit.high(limits.DRIVE_LENGTH_TO_FALL_USDA)
BORES_LEAST = Limit.low(limits.DRIVE_LENGTH_TO_BORE)
BORES_MOST = Limit.high(limits.DRIVE_LENGTH_TO_BORE)
FLATTEST = Limit(math.radians(5.0), "flatter pipes hold air [rad]", "setting")
STEEPEST = Limit(math.radians(45.0), "steeper pipes are hard to anchor [rad]", "setting")
SWING = Limit(0.25, "steel pipe springs this far over its length [m]", "setting")
TURN = Limit(math.radians(1.0), "what a joint of screwed pipe gives [rad]", "setting")
PROP = Limit(0.5, "a pipe that jumps at each beat needs low, firm supports [m]", "setting")


def length_to_fall(plan: Plan) -> Iterator[Finding]:
    """Length over fall."""
    ratio = plan.water.drive_length_to_fall
    yield from _ratio(plan, "drive-length-to-fall", ratio, (FALLS_LEAST, FALLS_MOST))


def length_to_bore(plan: Plan) -> Iterator[Finding]:
    """Length over bore."""
    ratio = plan.water.drive_length_to_bore
    yield from _ratio(plan, "drive-length-to-bore", ratio, (BORES_LEAST, BORES_MOST))


def _ratio(
    plan: Plan, code: str, ratio: float | None, ends: tuple[Limit, Limit]
) -> Iterator[Finding]:
    least, most = (limit.value for limit in ends)
    if ratio is None or not math.isfinite(ratio) or least <= ratio <= most:
        return
    case = "short" if ratio < least else "long"
    values: Values = {"case": case, "ratio": ratio, "least": least, "most": most}
    yield Finding("warn", code, values, name_of(plan, "drive"))


def _angle(line: Line) -> float:
    """Slope of the straight pipe between the ends, positive falling [rad]."""
    pipe, run = line.profile.pipe, line.profile.run
    return math.atan2(float(pipe[0] - pipe[-1]), float(run[-1] - run[0]))


def too_flat(plan: Plan) -> Iterator[Finding]:
    """A drive pipe that falls too gently; one that does not fall is said elsewhere."""
    for line in lines_of(plan, "drive"):
        if 0.0 < _angle(line) < FLATTEST.value:
            yield _slope_finding(line, "drive-too-flat", FLATTEST)


def too_steep(plan: Plan) -> Iterator[Finding]:
    """A drive pipe that falls too steeply."""
    for line in lines_of(plan, "drive"):
        if _angle(line) > STEEPEST.value:
            yield _slope_finding(line, "drive-too-steep", STEEPEST)


def _slope_finding(line: Line, code: str, limit: Limit) -> Finding:
    values: Values = {"angle": math.degrees(_angle(line)), "limit": math.degrees(limit.value)}
    return on_line(line, 0, "warn", code, values)


def _chord(line: Line) -> FloatArray:
    """Levels of the straight pipe between the ends [m]."""
    run, pipe = line.profile.run, line.profile.pipe
    chord: FloatArray = np.interp(run, [run[0], run[-1]], [pipe[0], pipe[-1]])
    return chord


def not_straight(plan: Plan) -> Iterator[Finding]:
    """A bend in plan or in profile; one that the site allows is told, with its turn."""
    for line in lines_of(plan, "drive"):
        if line.settings.laying.bend:
            yield from _bend(line)
            continue
        xy = line.profile.xy
        east, north = (xy[-1] - xy[0]) / np.hypot(*(xy[-1] - xy[0]))
        off = np.abs(east * (xy[:, 1] - xy[0, 1]) - north * (xy[:, 0] - xy[0, 0]))
        bend = np.abs(line.profile.pipe - _chord(line))
        if off.max() > SWING.value:
            worst = int(np.argmax(off))
            values: Values = {"off_m": float(off[worst])}
            yield on_line(line, worst, "warn", "drive-not-straight", values)
        if bend.max() > SWING.value:
            worst = int(np.argmax(bend))
            values = {"case": "profile", "off_m": float(bend[worst])}
            yield on_line(line, worst, "warn", "drive-not-straight", values)


def _bend(line: Line) -> Iterator[Finding]:
    """Where the pipe turns most, and by how much, in plan and profile together."""
    points = np.column_stack([line.profile.xy, line.profile.pipe])
    steps = np.diff(points, axis=0)
    steps /= np.linalg.norm(steps, axis=1)[:, None]
    turn = np.arccos(np.clip(np.sum(steps[1:] * steps[:-1], axis=1), -1.0, 1.0))
    if turn.size and turn.max() > TURN.value:
        worst = int(np.argmax(turn))
        values: Values = {"case": "asked", "turn": math.degrees(float(turn[worst]))}
        yield on_line(line, worst + 1, "note", "drive-not-straight", values)


def stands(plan: Plan) -> Iterator[Finding]:
    """How far the pipe stands above the ground and lies in it, within what the site allows."""
    for line in lines_of(plan, "drive"):
        depth = line.profile.depth
        if np.isnan(depth).any() or any(found.line == line.name for found in off_ground(plan)):
            continue
        dug, propped = float(depth.max()), float(-depth.min())
        values: Values = {}
        if propped > SWING.value:
            values["propped_m"] = propped
        if dug > SWING.value:
            values["dug_m"] = dug
        if values:
            case = "both" if len(values) == 2 else next(iter(values)).removesuffix("_m")
            index = int(np.argmin(depth) if "propped_m" in values else np.argmax(depth))
            yield on_line(line, index, "note", "drive-supports", {"case": case, **values})


def off_ground(plan: Plan) -> Iterator[Finding]:
    """What the straight pipe asks of the ground: a deep trench, or props."""
    for line in lines_of(plan, "drive"):
        laying = line.settings.laying
        # A bend that is allowed lies as it was laid; else it is judged as the straight pipe.
        level = line.profile.pipe if laying.bend else _chord(line)
        depth = line.profile.ground - level
        if np.isnan(depth).all():
            continue
        deepest, highest = int(np.nanargmax(depth)), int(np.nanargmin(depth))
        if depth[deepest] > laying.deepest_trench + SWING.value:
            values: Values = {
                "case": "dug",
                "depth_m": float(depth[deepest]),
                "limit_m": laying.deepest_trench,
            }
            yield on_line(line, deepest, "warn", "drive-off-ground", values)
        if -depth[highest] > max(PROP.value, -laying.least_cover):
            values = {"case": "propped", "height_m": float(-depth[highest])}
            yield on_line(line, highest, "warn", "drive-off-ground", values)
