"""Compiled: the laying of a pipe with the fewest high points, and the depth that removes one.

A laying is a chain of rising and falling pieces inside the band [top - slack, top]. In a rising
piece that ends at sample j the shallowest level is p_j = top_j and, walking back,
p_k = min(top_k, p_(k+1) - g * run); a falling piece is its mirror. Both pieces beside a high joint
stand at top there, so the cost of a piece hangs on its two joints alone and a chain of joints is
found by dynamic programming over the samples, least (high points, digging) first.
"""

import numpy as np
from numba import njit
from numpy.typing import NDArray

TOLERANCE = 1e-9  # m; rounding of levels that are equal on paper
NEVER = 1 << 30  # a count no laying has

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@njit(cache=True)
def _rise_into(
    j: int,
    run: FloatArray,
    top: FloatArray,
    slack: FloatArray,
    least: FloatArray,
    low_weight: int,
    count: IntArray,
    digging: FloatArray,
    origin: IntArray,
) -> None:
    """Rising pieces that end at sample j, from every low joint before it."""
    level, depth, dug = top[j], 0.0, 0.0
    for i in range(j - 1, -1, -1):
        step = run[i + 1] - run[i]
        level = min(top[i], level - least[i] * step)
        before, depth = depth, top[i] - level
        if not depth <= slack[i] + TOLERANCE:
            break
        dug += 0.5 * (before + depth) * step
        if count[1, i] < NEVER:
            total = count[1, i] + (low_weight if i > 0 else 0)
            cost = digging[1, i] + dug
            if total < count[0, j] or (total == count[0, j] and cost < digging[0, j]):
                count[0, j], digging[0, j], origin[0, j] = total, cost, i


@njit(cache=True)
def _fall_from(
    j: int,
    run: FloatArray,
    top: FloatArray,
    slack: FloatArray,
    least: FloatArray,
    high_weight: int,
    count: IntArray,
    digging: FloatArray,
    origin: IntArray,
) -> None:
    """Falling pieces that begin at sample j, to every low joint after it."""
    total = count[0, j] + (high_weight if j > 0 else 0)
    level, depth, dug = top[j], 0.0, 0.0
    for m in range(j + 1, run.size):
        step = run[m] - run[m - 1]
        level = min(top[m], level - least[m - 1] * step)
        before, depth = depth, top[m] - level
        if not depth <= slack[m] + TOLERANCE:
            break
        dug += 0.5 * (before + depth) * step
        cost = digging[0, j] + dug
        if total < count[1, m] or (total == count[1, m] and cost < digging[1, m]):
            count[1, m], digging[1, m], origin[1, m] = total, cost, j


@njit(cache=True)
def fewest_joints(
    run: FloatArray, top: FloatArray, slack: FloatArray, least: FloatArray, weights: IntArray
) -> IntArray:
    """Joints of the laying that costs least by (weighted joints, digging).

    Parameters
    ----------
    run, top, slack : (n,) ndarray
        Horizontal distance, highest level allowed, depth of the band [m].
    least : (n - 1,) ndarray
        Least grade of each step, 0 or more.
    weights : (6,) int ndarray
        What is counted for: a high joint, a low joint, a start that falls, a start that rises, an
        end that rises, an end that falls.

    Returns
    -------
    (n,) int ndarray
        1 at high joints, -1 at low joints, 0 elsewhere; sample 0 holds 1 if the first piece falls
        and -1 if it rises, the last sample 1 if the last piece rises and -1 if it falls. All 0
        where no laying exists.
    """
    n = run.size
    # Row 0: standing at a high joint, about to fall; row 1: at a low joint, about to rise.
    count = np.full((2, n), NEVER, np.int64)
    digging = np.full((2, n), np.inf)
    origin = np.full((2, n), -1, np.int64)
    count[0, 0], digging[0, 0] = weights[2], 0.0
    count[1, 0], digging[1, 0] = weights[3], 0.0
    for j in range(n):
        _rise_into(j, run, top, slack, least, weights[1], count, digging, origin)
        if count[0, j] < NEVER:
            _fall_from(j, run, top, slack, least, weights[0], count, digging, origin)
    joints = np.zeros(n, np.int64)
    last = n - 1
    rises, falls = count[0, last] + weights[4], count[1, last] + weights[5]
    if min(rises, falls) >= NEVER:
        return joints
    at_high = 0
    if falls < rises or (falls == rises and digging[1, last] < digging[0, last]):
        at_high = 1
    k = last
    while k >= 0:
        joints[k] = 1 if at_high == 0 else -1
        k = origin[at_high, k]
        at_high = 1 - at_high
    return joints


@njit(cache=True)
def shallowest_levels(
    run: FloatArray, top: FloatArray, least: FloatArray, joints: IntArray
) -> FloatArray:
    """Highest level of a laying with the given joints (as `fewest_joints` returns them)."""
    n = run.size
    level = top.copy()
    for j in range(n):
        if joints[j] != 1:
            continue
        k = j - 1
        while k >= 0:
            level[k] = min(level[k], level[k + 1] - least[k] * (run[k + 1] - run[k]))
            if joints[k] != 0:
                break
            k -= 1
        k = j + 1
        while k < n:
            level[k] = min(level[k], level[k - 1] - least[k - 1] * (run[k] - run[k - 1]))
            if joints[k] != 0:
                break
            k += 1
    return level


@njit(cache=True)
def rise_shortfall(run: FloatArray, top: FloatArray, slack: FloatArray, least: float) -> float:
    """Extra depth [m] a pipe needs that rises by `least` from the first sample to the last.

    The greatest violation of z2 >= z1 - t + g (r2 - r1) over all r1 < r2; 0 where there is none.
    """
    worst = 0.0
    floor = top[0] - slack[0]
    for k in range(1, run.size):
        floor = floor + least * (run[k] - run[k - 1])
        worst = max(worst, floor - top[k])
        floor = max(floor, top[k] - slack[k])
    return worst
