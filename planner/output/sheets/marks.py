"""Where figures stand: chainage marks, grid levels and the stretches of one grade."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString

from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.reach import Reach
from planner.output.sheets.scales import on_paper
from planner.profile.value import FloatArray, Profile

ROUND = {  # so far apart [m or ft] may regular marks stand; every 10 m or 25 ft where they fit
    "m": (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0),
    "ft": (5.0, 10.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10000.0),
}
USUAL = {"m": 10.0, "ft": 25.0}  # apart, the marks a crew expects
STRETCH = 17.0  # mm, room for one grade and its arrow
ARROW = 4.0  # mm, room for the arrow alone
LEVELS_APART = 9.0  # mm between two lines of the level grid


@dataclass(frozen=True, slots=True)
class Grade:
    """A stretch of pipe drawn as of one grade: from one run to another [m], rise over run."""

    start: float
    end: float
    grade: float


def mark_step(scale: int, apart: float, measure: Measure) -> float:
    """Distance of regular marks [m]: the least round one that leaves them `apart` mm on paper."""
    least = apart * scale / 1000.0 / measure.metres
    steps = ROUND[measure.symbol]
    return next((step for step in steps if step >= least), steps[-1]) * measure.metres


def chainage_marks(
    profile: Profile,
    reach: Reach,
    wanted: tuple[float, ...],
    scale: int,
    apart: float,
    measure: Measure,
) -> FloatArray:
    """Chainages [m] that get a column of figures, rising, `apart` mm from each other on paper.

    Both ends of the reach first, then those `wanted` in their order, then round ones.
    """
    step = mark_step(scale, apart, measure)
    ends = np.interp([reach.start, reach.end], profile.run, profile.chainage)
    regular = np.arange(np.ceil(ends[0] / step), np.ceil(ends[1] / step)) * step
    chosen = list(map(float, ends))
    runs = [reach.start, reach.end]
    for chainage in (*wanted, *regular):
        run = float(np.interp(chainage, profile.chainage, profile.run))
        near = np.abs(np.array(runs) - run).min()
        if reach.has(run) and on_paper(float(near), scale) >= apart - 1e-9:
            chosen.append(float(chainage))
            runs.append(run)
    return np.sort(np.array(chosen))


def grid_levels(low: float, high: float, scale: int, measure: Measure) -> FloatArray:
    """Round levels [m] within low..high, about `LEVELS_APART` mm apart on paper."""
    step = round_step(LEVELS_APART * scale / 1000.0 / measure.metres) * measure.metres
    first, last = np.ceil(low / step - 1e-9), np.floor(high / step + 1e-9)
    return np.asarray(np.arange(first, last + 1.0) * step, dtype=np.float64)


def grades(profile: Profile, reach: Reach, turns: tuple[int, ...], scale: int) -> tuple[Grade, ...]:
    """The pipe as few straight stretches, each wide enough for its figure.

    High and low points, the samples `turns`, end a stretch wherever there is room for an arrow, so
    that no fall is hidden in a rise; the pipe between is simplified (Douglas and Peucker) until
    every piece is `STRETCH` mm wide, or one piece is left.
    """
    known = np.isfinite(profile.pipe)
    run, pipe = profile.run[known], profile.pipe[known]
    if run.size < 2 or min(reach.end, run[-1]) <= max(reach.start, run[0]):
        return ()
    first, last = max(reach.start, run[0]), min(reach.end, run[-1])
    least = STRETCH * scale / 1000.0
    room = ARROW * scale / 1000.0
    inside = [at for at in profile.run[list(turns)].tolist() if first < at < last]
    knots = _spaced(sorted({float(first), float(last), *inside}), room)
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
