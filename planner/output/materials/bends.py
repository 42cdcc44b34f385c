"""Where a line turns more sharply than its pipe can be bent: there an elbow is needed."""

import math
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from planner.profile.value import FloatArray
from planner.record.value import Line
from planner.record.works import PipeRun

PLAY = 0.05  # m, setting: half of what is left of a trench beside its pipe
# What couplings and the pipe's own give take up without a fitting [trade guess]: a person can turn
# a threaded or glued string of sticks by about this much at each joint.
JOINT_TURN = math.radians(3.0)
ONE_PLACE = 1.0  # m; a turn in plan and one in profile this near are one elbow
SQUARE = math.radians(60.0)  # from here a 90° elbow is nearest to the turn; under it one of 45°
HALF = math.radians(22.5)  # from here a 45° elbow


@dataclass(frozen=True, slots=True)
class Turn:
    """A corner of a line.

    Attributes
    ----------
    chainage_m : float
    angle : float
        By how much it turns [rad].
    radius : float
        Of the widest bend that fits between the corner and the middles of its legs [m].
    """

    chainage_m: float
    angle: float
    radius: float


def turns(line: Line) -> tuple[Turn, ...]:
    """The corners of a line in plan and in profile, along the flow."""
    profile = line.profile
    chainage = profile.chainage
    plan = _corners(profile.xy, chainage)
    section = _corners(np.column_stack([profile.run, profile.pipe]), chainage)
    found: list[Turn] = []
    for turn in sorted((*plan, *section), key=lambda turn: turn.chainage_m):
        if found and turn.chainage_m - found[-1].chainage_m < ONE_PLACE:
            found[-1] = max(found[-1], turn, key=lambda one: one.angle)
        else:
            found.append(turn)
    return tuple(found)


def elbows(line: Line) -> tuple[tuple[PipeRun, Turn], ...]:
    """The corners at which the pipe lying there needs an elbow; none where no pipe is chosen."""
    return tuple(
        (run, turn)
        for turn in turns(line)
        for run in line.runs
        if run.start_m <= turn.chainage_m < run.end_m and needs_elbow(turn, run)
    )


def needs_elbow(turn: Turn, run: PipeRun) -> bool:
    """Whether neither a bend of the pipe nor its joints take the turn."""
    return turn.angle > JOINT_TURN and turn.radius < run.pipe.bend_radius


def elbow_angle(turn: Turn) -> str:
    """The elbow nearest to a turn.

    Examples
    --------
    >>> elbow_angle(Turn(0.0, math.radians(80.0), 0.1))
    '90°'
    """
    if turn.angle >= SQUARE:
        return "90°"
    return "45°" if turn.angle >= HALF else "22½° or less"


def _corners(points: FloatArray, chainage: FloatArray) -> list[Turn]:
    """Corners of points in a plane, with the widest bend that fits each."""
    known = np.all(np.isfinite(points), axis=1)
    points, chainage = points[known], chainage[known]
    if len(points) < 3:
        return []
    kept = _kept(points)
    legs = np.diff(points[kept], axis=0)
    lengths = np.hypot(legs[:, 0], legs[:, 1])
    heading = np.arctan2(legs[:, 1], legs[:, 0])
    angles = np.abs((np.diff(heading) + np.pi) % (2.0 * np.pi) - np.pi)
    room = np.minimum(lengths[:-1], lengths[1:]) / 2.0
    with np.errstate(divide="ignore"):
        radii = room / np.tan(angles / 2.0)
    return [
        Turn(float(at), float(angle), float(radius))
        for at, angle, radius in zip(chainage[kept[1:-1]], angles, radii, strict=True)
    ]


def _kept(points: FloatArray) -> list[int]:
    """Indices of the points that a line through them within `PLAY` turns at."""
    simple = np.array(LineString(points).simplify(PLAY).coords)
    kept, at = [], 0
    for vertex in simple:  # vertices of the simplified line are points of the line, in order
        at += int(np.argmax(np.all(points[at:] == vertex, axis=1)))
        kept.append(at)
    return kept
