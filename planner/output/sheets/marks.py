"""Where figures stand: chainage marks, grid levels and the stretches of one grade."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString

from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.scales import on_paper
from planner.profile.value import FloatArray, Profile

APART = 13.0  # mm between two marks, so that figures of 7 pt stand clear of each other
STRETCH = 17.0  # mm, room for one grade and its arrow
ARROW = 4.0  # mm, room for the arrow alone
LEVELS_APART = 9.0  # mm between two lines of the level grid


@dataclass(frozen=True, slots=True)
class Grade:
    """A stretch of pipe drawn as of one grade: from one run to another [m], rise over run."""

    start: float
    end: float
    grade: float


def chainage_marks(
    profile: Profile, wanted: tuple[float, ...], scale: int, measure: Measure
) -> FloatArray:
    """Chainages [m] that get a column of figures, rising, `APART` mm from each other on paper.

    Both ends first, then those `wanted` (high and low points), then round ones.
    """
    length = profile.length
    step = round_step(APART * scale / 1000.0 / measure.metres) * measure.metres
    regular = np.arange(step, length, step)
    chosen = [0.0, length]
    for chainage in (*wanted, *regular):
        run = np.interp([chainage, *chosen], profile.chainage, profile.run)
        if np.all(on_paper(1.0, scale) * np.abs(run[1:] - run[0]) >= APART - 1e-9):
            chosen.append(float(chainage))
    return np.sort(np.array(chosen))


def grid_levels(low: float, high: float, scale: int, measure: Measure) -> FloatArray:
    """Round levels [m] within low..high, about `LEVELS_APART` mm apart on paper."""
    step = round_step(LEVELS_APART * scale / 1000.0 / measure.metres) * measure.metres
    first, last = np.ceil(low / step - 1e-9), np.floor(high / step + 1e-9)
    return np.asarray(np.arange(first, last + 1.0) * step, dtype=np.float64)


def grades(profile: Profile, turns: tuple[int, ...], scale: int) -> tuple[Grade, ...]:
    """The pipe as few straight stretches, each wide enough for its figure.

    High and low points, the samples `turns`, end a stretch wherever there is room for an arrow, so
    that no fall is hidden in a rise; the pipe between is simplified (Douglas and Peucker) until
    every piece is `STRETCH` mm wide, or one piece is left.
    """
    known = np.isfinite(profile.pipe)
    run, pipe = profile.run[known], profile.pipe[known]
    if run.size < 2:
        return ()
    least = STRETCH * scale / 1000.0
    room = ARROW * scale / 1000.0
    knots = _spaced(sorted({run[0], run[-1], *profile.run[list(turns)].tolist()}), room)
    joints = [knots[0]]
    for start, end in pairwise(knots):
        joints.extend(_pieces(run, pipe, start, end, least))
    levels = np.interp(joints, run, pipe)
    return tuple(
        Grade(a, b, float((zb - za) / (b - a)))
        for a, b, za, zb in zip(joints, joints[1:], levels, levels[1:], strict=False)
    )


def _spaced(places: list[float], least: float) -> list[float]:
    """`places` without those nearer than `least` to the one before or to the last."""
    kept = [places[0]]
    for place in places[1:-1]:
        if place - kept[-1] >= least and places[-1] - place >= least:
            kept.append(place)
    return [*kept, places[-1]]


def _pieces(
    run: FloatArray, pipe: FloatArray, start: float, end: float, least: float
) -> list[float]:
    """Runs at which the pieces between two knots end, the last being `end`."""
    inside = (run > start) & (run < end)
    x = np.concatenate([[start], run[inside], [end]])
    z = np.interp(x, run, pipe)
    tolerance = 0.02  # m; a grade that bends less than this is one grade
    while True:
        ends = np.array(LineString(np.column_stack([x, z])).simplify(tolerance).coords)[:, 0]
        if ends.size <= 2 or np.min(np.diff(ends)) >= least:
            return [float(e) for e in ends[1:]]
        tolerance *= 1.5
