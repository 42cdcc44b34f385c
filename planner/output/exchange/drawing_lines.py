"""The lines of the drawing in three dimensions: the pipe, and the ground over it."""

from collections.abc import Iterator
from typing import Any

import numpy as np
from ezdxf.enums import TextEntityAlignment

from planner.output.exchange.drawing_blocks import NAME, STYLE, words
from planner.output.exchange.drawing_layers import ground_layer, metres
from planner.output.look import ROLES
from planner.output.stakes.thin import needed_samples
from planner.profile.value import FloatArray
from planner.record.value import Line, Plan

ASIDE = metres(2.0)  # of a line's name from the line


def draw_lines(space: Any, plan: Plan) -> None:
    """A 3-D polyline at the pipe's level on the role's layer, one at the ground's on its own.

    Parameters
    ----------
    space : ezdxf.layouts.Modelspace
    plan : Plan
    """
    for line in plan.lines:
        for layer, level in (
            (line.role, line.profile.pipe),
            (ground_layer(line.role), line.profile.ground),
        ):
            for course in _courses(line, level):
                space.add_polyline3d(course, dxfattribs={"layer": layer})
        _name(space, line)


def _courses(line: Line, level: FloatArray) -> Iterator[FloatArray]:
    """Points (n, 3) with the levels [m], one array for each part without a hole in the data."""
    known = np.isfinite(level)
    ends = np.flatnonzero(np.diff(known)) + 1
    for part in np.split(np.arange(level.size), ends):
        if known[part[0]] and part.size > 1:
            kept = part[_needed(line, level, part)]
            yield np.column_stack([line.profile.xy[kept], level[kept]])


def _needed(line: Line, level: FloatArray, part: Any) -> Any:
    """Which of these samples the line needs, in plan or in its section."""
    plan = needed_samples(line.profile.xy[part])
    section = needed_samples(np.column_stack([line.profile.run[part], level[part]]))
    return np.union1d(plan, section)


def _name(space: Any, line: Line) -> None:
    """The role's letters and the line's ends, along its middle, never upside down."""
    run = float(line.profile.run[-1]) / 2.0
    path = line.path
    at, ahead = path.interpolate(run), path.interpolate(run + 1.0)
    behind = path.interpolate(run - 1.0)
    angle = readable(np.arctan2(ahead.y - behind.y, ahead.x - behind.x))
    place = at.x - ASIDE * np.sin(angle), at.y + ASIDE * np.cos(angle)
    text = f"{ROLES[line.role].letters} · {line.name}: {line.start} – {line.end}"
    entity = space.add_text(
        words(text),
        height=NAME,
        rotation=float(np.degrees(angle)),
        dxfattribs={"layer": line.role, "style": STYLE},
    )
    entity.set_placement(place, align=TextEntityAlignment.BOTTOM_CENTER)


def readable(angle: float) -> float:
    """The direction [rad], or the one opposite, in which text reads from left to right."""
    return float((angle + np.pi / 2.0) % np.pi - np.pi / 2.0)
