"""The points of the drawing as blocks with attributes: works, stakes, high points, findings."""

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
from ezdxf.enums import TextEntityAlignment
from shapely.geometry import Point

from planner.output.exchange.drawing_blocks import HALF, NAME, words
from planner.output.exchange.drawing_layers import AS_BUILT
from planner.output.exchange.drawing_lines import direction, readable
from planner.output.stakes.value import Stake, StakedLine
from planner.output.vents import WORDS
from planner.record.value import Line, Placed, Plan
from planner.wording.findings import sentence

DECIMALS = 3
BESIDE = (HALF * 1.2, HALF * 0.7)  # of a work's name from its middle
CORNERS = tuple(math.radians(angle) for angle in (45.0, -45.0, 135.0, -135.0))
AT = 1.0  # m; a line that comes so near to a work ends at it
LONGEST = 120  # characters of a name or a remark


def draw_points(space: Any, plan: Plan, staked: Sequence[StakedLine]) -> None:
    """Insert a block for everything that stands at a place.

    Parameters
    ----------
    space : ezdxf.layouts.Modelspace
    plan : Plan
    staked : sequence of StakedLine
    """
    for point in plan.points:
        _work(space, plan, point)
    for one in staked:
        for stake in one.stakes:
            _stake(space, one.line, stake)
    for line in plan.lines:
        _along(space, line)
        _built(space, line)
    _findings(space, plan)
    for station in () if plan.survey is None else plan.survey.stations:
        said = {
            "NAME": station.name,
            "LEVEL": _m(station.level),
            "ERROR": _m(station.error),
            "MODEL": _m(station.model),
        }
        _insert(space, "levelled", "levelled", (*station.xy, station.level), said)


def _insert(
    space: Any,
    block: str,
    layer: str,
    at: tuple[float, float, float],
    said: dict[str, str],
    turn: float = 0.0,
) -> Any:
    x, y, z = at
    entity = space.add_blockref(
        block,
        (x, y, z if math.isfinite(z) else 0.0),
        dxfattribs={"layer": layer, "rotation": math.degrees(turn)},
    )
    entity.add_auto_attribs({tag: words(text, LONGEST) for tag, text in said.items()})
    for attribute in entity.attribs:
        attribute.dxf.layer = layer
    return entity


def _m(value: float | None) -> str:
    """Metres to the millimetre; "" where they are not known."""
    if value is None or not math.isfinite(value):
        return ""
    return f"{round(value, DECIMALS) + 0.0:.{DECIMALS}f}"


def _work(space: Any, plan: Plan, point: Placed) -> None:
    ram = point.role == "pump" and plan.scheme == "ram"
    said = {"NAME": point.name, "LEVEL": _m(point.level), "GROUND": _m(point.ground)}
    block = "ram" if ram else point.role
    entity = _insert(space, block, point.role, (*point.xy, point.level), said)
    corner, (x, y) = _free_corner(plan, point), point.xy
    right, above = math.cos(corner) > 0.0, math.sin(corner) > 0.0
    x += BESIDE[0] if right else -BESIDE[0]
    y += BESIDE[1] + NAME if above else -BESIDE[1] - NAME
    align = TextEntityAlignment.LEFT if right else TextEntityAlignment.RIGHT
    for row, attribute in enumerate(entity.attribs):
        attribute.set_placement((x, y - 1.5 * NAME * row), align=align)


def _free_corner(plan: Plan, point: Placed) -> float:
    """The corner [rad] that lies farthest from the lines that end here and their stakes."""
    taken = []
    for line in plan.lines:
        run, length = line.path.project(Point(point.xy)), line.path.length
        if line.path.distance(Point(point.xy)) < AT and min(run, length - run) < AT:
            along = direction(line, run)
            taken += [along if run < AT else along + math.pi, readable(along + math.pi / 2.0)]
    return max(CORNERS, key=lambda corner: min((_apart(corner, one) for one in taken), default=0.0))


def _apart(angle: float, other: float) -> float:
    return abs((angle - other + math.pi) % (2.0 * math.pi) - math.pi)


def _stake(space: Any, line: Line, stake: Stake) -> None:
    """Across the line, at the level of the ground; its name reads away from the line."""
    said = {
        "NAME": stake.name,
        "CHAINAGE": _m(stake.chainage_m),
        "GROUND": _m(stake.ground_m),
        "PIPE": _m(stake.pipe_m),
        "DEPTH": _m(stake.depth_m),
        "BACK": _m(stake.back_m),
        "RISE": _m(stake.rise_m),
        "REMARK": stake.remark,
        "LINE": stake.line,
    }
    across = direction(line, stake.run_m) + math.pi / 2.0
    block = "end-stake" if {"start", "end"} & set(stake.reasons) else "stake"
    _insert(space, block, "stakes", (*stake.xy, stake.ground_m), said, readable(across))


def _along(space: Any, line: Line) -> None:
    """High and low points, vents and crossings, at the level of the pipe."""
    profile = line.profile

    def at(index: int) -> tuple[float, float, float]:
        x, y = profile.xy[index].tolist()
        return x, y, float(profile.pipe[index])

    for high in line.high_points:
        said = {"RISE": _m(high.rise_m), "LEVEL": _m(high.level_m)} | _where(line, high.chainage_m)
        _insert(space, "high-point", "high-points", at(high.index), said)
    for low in line.low_points:
        said = {"SAG": _m(low.sag_m), "LEVEL": _m(low.level_m)} | _where(line, low.chainage_m)
        _insert(space, "low-point", "low-points", at(low.index), said)
    for one in () if line.air is None else line.air.vents:
        if one.vent is not None:
            said = {"KIND": WORDS[one.vent.kind]} | _where(line, one.chainage_m)
            _insert(space, "vent", "vents", at(one.index), said)
    for crossed in line.crossed:
        place = line.path.interpolate(crossed.run_m)
        level = float(np.interp(crossed.run_m, profile.run, profile.pipe))
        said = {"NAME": crossed.name or "stream"} | _where(line, crossed.chainage_m)
        _insert(space, "crossing", "crossings", (place.x, place.y, level), said)


def _where(line: Line, chainage: float) -> dict[str, str]:
    return {"LINE": line.name, "CHAINAGE": _m(chainage)}


def _built(space: Any, line: Line) -> None:
    built = line.built
    if built is None:
        return
    date = "" if built.date is None else built.date.isoformat()
    for mark in built.marks:
        level = float(np.interp(mark.chainage_m, line.profile.chainage, line.profile.ground))
        said = {
            "WHAT": mark.what,
            "DEPTH": _m(mark.depth),
            "PHOTO": mark.photo,
            "REMARK": mark.remark,
            "DATE": date,
        } | _where(line, mark.chainage_m)
        _insert(space, "mark", AS_BUILT, (*mark.xy, level), said)


def _findings(space: Any, plan: Plan) -> None:
    """Numbered as everywhere else; those without a place stand in the plan's other files."""
    for number, finding in enumerate(plan.findings, start=1):
        if finding.at is not None:
            said = {
                "NUMBER": str(number),
                "LEVEL": finding.level,
                "LINE": finding.line or "",
                "CHAINAGE": _m(finding.chainage_m),
                "MESSAGE": sentence(finding, plan.site.units).message,
            }
            _insert(space, "finding", "findings", (*finding.at, 0.0), said)
