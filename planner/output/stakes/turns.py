"""Where a line bends: in plan, and in its grade."""

import math
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from planner.profile.value import FloatArray, Profile

# A string between two pegs shows where the pipe goes. With pegs 10 m apart it leaves a pipe that
# bends by 3 degrees midway by 0.13 m, which is half the width of a trench dug by hand, and about
# what such a trench's bottom is out by anyway: less than that is not a bend to set out.
LEAST_TURN = math.radians(3.0)
SIDEWAYS = 0.15  # m; nearer to a straight string than this is straight in plan
UPWARD = 0.1  # m; and this is one grade


@dataclass(frozen=True, slots=True)
class Turn:
    """A bend at a horizontal distance from the start [m].

    `angle` [rad] in plan is positive to the right, in grade positive where it grows steeper
    upward.
    """

    run_m: float
    angle: float


def bends(profile: Profile) -> tuple[Turn, ...]:
    """Bends in plan, of the line without its noise."""
    corners, run = _straightened(profile.xy, profile.run, SIDEWAYS)
    step = np.diff(corners, axis=0)
    return _turns(run, np.arctan2(step[:, 0], step[:, 1]))


def grade_changes(profile: Profile) -> tuple[Turn, ...]:
    """Bends of the laid pipe in its section; none across a hole of the data."""
    known = np.isfinite(profile.pipe)
    if np.count_nonzero(known) < 3:
        return ()
    section = np.column_stack([profile.run[known], profile.pipe[known]])
    corners, run = _straightened(section, profile.run[known], UPWARD)
    step = np.diff(corners, axis=0)
    return _turns(run, np.arctan2(step[:, 1], step[:, 0]))


def _straightened(xy: FloatArray, run: FloatArray, stray: float) -> tuple[FloatArray, FloatArray]:
    """The points needed for a line no farther than `stray` from all of them, with their runs."""
    # The third coordinate is not looked at by Douglas and Peucker; it carries the run along.
    line = LineString(np.column_stack([xy, run])).simplify(stray, preserve_topology=False)
    corners = np.asarray(line.coords, dtype=np.float64)
    return corners[:, :2], corners[:, 2]


def _turns(run: FloatArray, direction: FloatArray) -> tuple[Turn, ...]:
    angle = (np.diff(direction) + math.pi) % (2.0 * math.pi) - math.pi
    return tuple(
        Turn(float(place), float(turn))
        for place, turn in zip(run[1:-1], angle, strict=True)
        if abs(turn) >= LEAST_TURN
    )
