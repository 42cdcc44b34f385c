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

ASIDE = metres(1.5)  # of a line's name from the line
LETTER = 0.7  # width of a letter, in heights
STEP = 1.0  # m, before and behind


def draw_lines(space: Any, plan: Plan) -> None:
    """A 3-D polyline at the ground's level on a layer of its own, over it one at the pipe's.

    Parameters
    ----------
    space : ezdxf.layouts.Modelspace
    plan : Plan
    """
    for line in plan.lines:
        for layer, level in (
            (ground_layer(line.role), line.profile.ground),
            (line.role, line.profile.pipe),
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
    """The role's letters and the line's ends along its middle, on the side free of stakes."""
    along = direction(line, float(line.profile.run[-1]) / 2.0)
    at = line.path.interpolate(0.5, normalized=True)
    stakes = readable(along + np.pi / 2.0)
    away = stakes + np.pi
    angle = readable(along)
    above = np.sin(away - angle) > 0.0
    entity = space.add_text(
        _label(line),
        height=NAME,
        rotation=float(np.degrees(angle)),
        dxfattribs={"layer": line.role, "style": STYLE},
    )
    entity.set_placement(
        (at.x + ASIDE * np.cos(away), at.y + ASIDE * np.sin(away)),
        align=TextEntityAlignment.BOTTOM_CENTER if above else TextEntityAlignment.TOP_CENTER,
    )


def _label(line: Line) -> str:
    """All of it where it is no longer than the line."""
    letters = ROLES[line.role].letters
    text = words(f"{letters} · {line.name}: {line.start} – {line.end}")
    return text if len(text) * NAME * LETTER <= line.profile.run[-1] else letters


def direction(line: Line, run: float) -> float:
    """Where the line runs at a horizontal distance from its start [rad, from the east]."""
    profile, around = line.profile, [run - STEP, run + STEP]
    (x0, x1), (y0, y1) = (np.interp(around, profile.run, profile.xy[:, axis]) for axis in (0, 1))
    return float(np.arctan2(y1 - y0, x1 - x0))


def readable(angle: float) -> float:
    """The direction [rad], or the one opposite, in which text reads from left to right."""
    return float((angle + np.pi / 2.0) % np.pi - np.pi / 2.0)
