"""The level at which a pipe lies, and the high points that no level in its band avoids."""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.grade.kernel import (
    FloatArray,
    IntArray,
    fewest_joints,
    rise_shortfall,
    shallowest_levels,
)

End = Literal["open", "closed"]  # closed: air can't leave there, as at a ram
Edge = Literal["top", "bottom"]


@dataclass(frozen=True, eq=False, slots=True)
class Levels:
    """Where a pipe lies, and its joints.

    Attributes
    ----------
    level : (n,) ndarray
        Laid level [m].
    highs : (k,) int ndarray
        Samples of the high points, in order.
    lows : (m,) int ndarray
        Samples of the low points, in order.
    flat : (n - 1,) bool ndarray
        Steps that are less steep than the least grade, up or down.
    """

    level: FloatArray
    highs: IntArray
    lows: IntArray
    flat: npt.NDArray[np.bool_]


def pipe_levels(
    run: npt.ArrayLike,
    top: npt.ArrayLike,
    slack: npt.ArrayLike,
    least: float,
    *,
    start: End = "open",
    end: End = "open",
    hugs: Edge = "top",
) -> Levels:
    """Lay a pipe in the band [top - slack, top] with the fewest high points.

    The laying is a chain of pieces that rise or fall by at least `least`. Of the layings with
    fewest high points it is the one nearest to the `hugs` edge of the band: the top for a pipe in
    a trench (least digging), the bottom for a pipe on the surface (least propping). Where the
    ground is so flat and the band so thin that no such laying exists, each step's least grade is
    lowered to the ground's own, and `flat` tells where.

    Parameters
    ----------
    run : (n,) array-like
        Horizontal distance [m], strictly rising, n >= 2.
    top : (n,) array-like
        Ground less least cover [m], no NaN.
    slack : float or (n,) array-like
        Deepest trench less least cover [m], 0 or more.
    least : float
        Least grade, rise over run, 0 or more.
    start, end : {"open", "closed"}
        A line that falls away from a closed start, or rises to a closed end, counts a high point
        there.

    Raises
    ------
    OutsideRange
        NaN, a run that does not rise, a negative slack or grade.
    """
    run, top = np.asarray(run, dtype=np.float64), np.asarray(top, dtype=np.float64)
    slack = np.ascontiguousarray(np.broadcast_to(np.asarray(slack, dtype=np.float64), run.shape))
    _check(run, top, slack, least)
    even = np.full(run.size - 1, float(least))
    edge = top if hugs == "top" else top - slack
    own = np.abs(np.diff(edge)) / np.diff(run)
    for grades in (even, np.minimum(even, own)):
        joints, level = _lay(run, top, slack, grades, (start == "closed", end == "closed"), hugs)
        if np.any(joints):
            break
    inner = joints.copy()
    inner[0] = 1 if start == "closed" and joints[0] == 1 else 0
    inner[-1] = 1 if end == "closed" and joints[-1] == 1 else 0
    laid = np.diff(level) / np.diff(run)
    return Levels(
        level=level,
        highs=np.flatnonzero(inner == 1),
        lows=np.flatnonzero(inner == -1),
        flat=np.abs(laid) < least * (1.0 - 1e-6) - 1e-9,
    )


def falling_levels(
    run: npt.ArrayLike,
    top: npt.ArrayLike,
    slack: npt.ArrayLike,
    least: float,
    greatest: float | None = None,
) -> FloatArray | None:
    """Shallowest level of a pipe that falls by `least` all the way, or None where none exists.

    Parameters as for `pipe_levels`, and `greatest`: the grade by which it falls at most, None for
    no limit. Returns (n,) levels [m].

    Both limits say how far one sample may lie above another, and of two pipes that keep them the
    higher at each sample keeps them too: so there is a highest one, and it is the lower of what the
    samples before and the samples after allow.
    """
    run, top = np.asarray(run, dtype=np.float64), np.asarray(top, dtype=np.float64)
    slack = np.broadcast_to(np.asarray(slack, dtype=np.float64), run.shape)
    _check(run, top, slack, least)
    joints = np.zeros(run.size, dtype=np.int64)
    joints[0], joints[-1] = 1, -1
    level = shallowest_levels(run, top, np.full(run.size - 1, float(least)), joints)
    if greatest is not None:
        after = np.minimum.accumulate((top + greatest * run)[::-1])[::-1] - greatest * run
        level = np.minimum(level, after)
    return level if np.all(level >= top - slack - 1e-9) else None


def extra_depth(
    levels: Levels,
    run: FloatArray,
    top: FloatArray,
    slack: FloatArray,
    *,
    least: float,
    high: int,
    start: End = "open",
    end: End = "open",
) -> float:
    """Least extra trench [m] that removes the high point at sample `high`.

    Either the pipe goes on rising to the next high point (or an open end), or it falls all the way
    from the high point before (or an open start); the cheaper of the two.

    Returns
    -------
    float
        0 or more; infinite where neither way is open.
    """
    lows = levels.lows
    before = lows[lows < high]
    after = lows[lows > high]
    low_before = int(before[-1]) if before.size else 0
    low_after = int(after[0]) if after.size else run.size - 1
    highs = levels.highs
    next_high = highs[highs > high]
    last_high = highs[highs < high]
    choices = [np.inf]
    if next_high.size or end == "open":
        stop = int(next_high[0]) if next_high.size else run.size - 1
        part = slice(low_before, stop + 1)
        choices.append(rise_shortfall(run[part], top[part], slack[part], least))
    if high > 0 and (last_high.size or start == "open"):
        begin = int(last_high[-1]) if last_high.size else 0
        part = slice(begin, low_after + 1)
        back = slice(None, None, -1)
        choices.append(rise_shortfall(-run[part][back], top[part][back], slack[part][back], least))
    return float(min(choices))


def _lay(
    run: FloatArray,
    top: FloatArray,
    slack: FloatArray,
    least: FloatArray,
    closed: tuple[bool, bool],
    hugs: Edge,
) -> tuple[IntArray, FloatArray]:
    """Joints and levels; joints all 0 where no laying exists."""
    start, end = int(closed[0]), int(closed[1])
    if hugs == "top":
        weights = np.array([1, 0, start, 0, end, 0])
        joints = fewest_joints(run, top, slack, least, weights)
        return joints, shallowest_levels(run, top, least, joints)
    # Upside down a rising piece falls, so what counts for high joints now counts for low ones.
    weights = np.array([0, 1, 0, start, 0, end])
    bottom = slack - top
    joints = fewest_joints(run, bottom, slack, least, weights)
    return -joints, -shallowest_levels(run, bottom, least, joints)


def _check(run: FloatArray, top: FloatArray, slack: FloatArray, least: float) -> None:
    if run.ndim != 1 or run.size < 2 or run.shape != top.shape:
        msg = f"a profile needs two samples or more, got runs {run.shape} and levels {top.shape}"
        raise OutsideRange(msg)
    if not np.all(np.diff(run) > 0.0):
        msg = "the runs of a profile must rise from sample to sample"
        raise OutsideRange(msg)
    if not (np.all(np.isfinite(top)) and np.all(slack >= 0.0)):
        msg = "a profile needs a level at every sample and a slack of 0 m or more"
        raise OutsideRange(msg)
    if not least >= 0.0:
        msg = f"the least grade is {least}; it must be 0 or more, such as 0.005 for 0.5 %"
        raise OutsideRange(msg)
