"""Compiled: the cheapest laying along a line that is given, by the rule of `band_kernel`.

The line is walked away from its root, sample by sample, with all labels of which no other leads to
nothing worse; one piece may end and the next begin at any sample. The length of the line is the
same for all, so labels are told apart by their vents and digging alone. A sinking label that costs
as much as the cheapest climbing one and a vent leads to nothing better than turning there; nor does
a climbing one that costs as much as the cheapest sinking one. So a handful is left.
"""

from typing import NamedTuple

import numpy as np
from numba import njit

from planner.routing.band_kernel import Root, Rule
from planner.routing.edge_kernel import TOLERANCE, FloatArray, IntArray
from planner.routing.follow_kernel import (
    Land,
    Leg,
    band_between,
    cuts_corner,
    patch_at,
    slope_across,
)
from planner.routing.ground_kernel import figure
from planner.routing.piece_kernel import (
    CLIMBS,
    ROUNDING,
    SINKS,
    Digging,
    Int32Array,
    Piece,
    Strip,
    digs_no_more,
    pass_over,
    sink_over,
)

LAID, NOWHERE, CROWDED = 0, 1, 2
BEATEN = -1  # in place of a joint


class Open(NamedTuple):
    """Labels of one mode at a sample, the first `size[0]` of each array.

    Attributes
    ----------
    cost, level, climb : (m,)
    stack : (m,)
    joint : (m,)
        The last joint of the pipe.
    size : (1,)
    """

    cost: FloatArray
    level: FloatArray
    climb: FloatArray
    stack: IntArray
    joint: IntArray
    size: IntArray


class Joints(NamedTuple):
    """Joints, as linked lists that labels share: the sample, and the joint before; 0 is none."""

    sample: Int32Array
    before: Int32Array
    made: IntArray


class Laying(NamedTuple):
    """The cheapest laying.

    Attributes
    ----------
    status : int
        `CROWDED` where there was not room enough for the digging.
    cost : float
        Of vents and digging [m of pipe]; infinite where the rule can't be kept.
    mode : int
        As it comes to the far end.
    level : float
        Highest or lowest level there, as the mode is [m].
    joint : int
        The last joint.
    """

    status: int
    cost: float
    mode: int
    level: float
    joint: int


@njit(cache=True)
def cheapest_laying(
    strip: Strip, factor: FloatArray, rule: Rule, root: Root, digging: Digging, joints: Joints
) -> Laying:
    """Cheapest laying along a line.

    Parameters
    ----------
    strip : Strip
        (n,) samples in order away from the root, without the root itself.
    factor : (n,)
        Price of a metre in the step before each sample.
    digging, joints : Digging, Joints
        Room to work in; 2 n + 1 joints are enough.
    """
    n, top = strip.step.size, root.top
    sinking, climbing = _open(n + 2), _open(n + 2 if rule.vented else 1)
    if root.cost[SINKS] < np.inf:
        _add(sinking, root.cost[SINKS], Piece(SINKS, root.level[SINKS], 0.0, 0), 0)
    if root.cost[CLIMBS] < np.inf:
        _add(climbing, root.cost[CLIMBS], Piece(CLIMBS, root.level[CLIMBS], 0.0, 0), 0)
    for s in range(n):
        if s > 0 and rule.vented:
            _turn(s - 1, top, strip.bottom[s - 1], rule.vent, sinking, climbing, joints)
            _thin(sinking, SINKS, top, digging)
            _thin(climbing, CLIMBS, top, digging)
        if digging.made[0] + 3 * climbing.size[0] > digging.below.size:
            return Laying(CROWDED, np.inf, SINKS, 0.0, 0)
        price = rule.dig * factor[s]
        _step(strip, s, SINKS, rule.grade, price, top, sinking, digging)
        _step(strip, s, CLIMBS, rule.grade, price, top, climbing, digging)
        top = strip.top[s]
    a, b = _cheapest(sinking), _cheapest(climbing)
    sunk = sinking.cost[a] if a >= 0 else np.inf
    climbed = climbing.cost[b] + rule.closing if b >= 0 else np.inf
    if min(sunk, climbed) == np.inf:
        return Laying(NOWHERE, np.inf, SINKS, 0.0, 0)
    if sunk <= climbed:
        return Laying(LAID, sunk, SINKS, sinking.level[a], sinking.joint[a])
    return Laying(LAID, climbed, CLIMBS, climbing.level[b], climbing.joint[b])


@njit(cache=True)
def _step(
    strip: Strip,
    s: int,
    mode: int,
    grade: float,
    price: float,
    top: float,
    labels: Open,
    digging: Digging,
) -> None:
    """Take labels on to sample s; those that can't go there end."""
    kept = 0
    for m in range(labels.size[0]):
        piece = Piece(mode, labels.level[m], labels.climb[m], labels.stack[m])
        piece, more = pass_over(digging, strip, s, s + 1, top, piece, grade, price)
        if piece.level == piece.level:  # not NaN
            _write(labels, kept, labels.cost[m] + more, piece, labels.joint[m])
            kept += 1
    labels.size[0] = kept


@njit(cache=True)
def _turn(
    s: int,
    top: float,
    bottom: float,
    vent: float,
    sinking: Open,
    climbing: Open,
    joints: Joints,
) -> None:
    """Begin new pieces at sample s in place of all labels that they beat."""
    a, b = _cheapest(sinking), _cheapest(climbing)
    sunk = sinking.cost[a] if a >= 0 else np.inf
    climbed = climbing.cost[b] + vent if b >= 0 else np.inf
    low, high = sinking.joint[a] if a >= 0 else 0, climbing.joint[b] if b >= 0 else 0
    if climbed < np.inf:
        _drop_dearer(sinking, climbed)
        _add(sinking, climbed, Piece(SINKS, top, 0.0, 0), _joint(joints, s, high))
    if sunk < np.inf:
        _drop_dearer(climbing, sunk)
        _add(climbing, sunk, Piece(CLIMBS, bottom, 0.0, 0), _joint(joints, s, low))


@njit(cache=True)
def _thin(labels: Open, mode: int, top: float, digging: Digging) -> None:
    """Drop each label of which one that is left leads to nothing worse."""
    for m in range(labels.size[0]):
        for n in range(labels.size[0]):
            if n != m and labels.joint[n] >= 0 and _no_worse(labels, n, m, mode, top, digging):
                labels.joint[m] = BEATEN
                break
    kept = 0
    for m in range(labels.size[0]):
        if labels.joint[m] != BEATEN:
            piece = Piece(mode, labels.level[m], labels.climb[m], labels.stack[m])
            _write(labels, kept, labels.cost[m], piece, labels.joint[m])
            kept += 1
    labels.size[0] = kept


@njit(cache=True)
def _no_worse(labels: Open, a: int, b: int, mode: int, top: float, digging: Digging) -> bool:
    """Whether label A leads to nothing worse than label B."""
    if labels.cost[a] > labels.cost[b] + ROUNDING:
        return False
    if mode == SINKS:
        return bool(labels.level[a] >= labels.level[b] - TOLERANCE)
    if labels.level[a] > labels.level[b] + TOLERANCE:
        return False
    piece = Piece(mode, labels.level[a], labels.climb[a], labels.stack[a])
    other = Piece(mode, labels.level[b], labels.climb[b], labels.stack[b])
    return digs_no_more(digging, top, piece, labels.cost[a], other, labels.cost[b])


@njit(cache=True)
def _open(most: int) -> Open:
    real, whole = np.empty((3, most)), np.empty((2, most), np.int64)
    return Open(real[0], real[1], real[2], whole[0], whole[1], np.zeros(1, np.int64))


@njit(cache=True)
def _write(labels: Open, m: int, cost: float, piece: Piece, joint: int) -> None:
    labels.cost[m], labels.level[m], labels.climb[m] = cost, piece.level, piece.climb
    labels.stack[m], labels.joint[m] = piece.stack, joint


@njit(cache=True)
def _add(labels: Open, cost: float, piece: Piece, joint: int) -> None:
    _write(labels, labels.size[0], cost, piece, joint)
    labels.size[0] += 1


@njit(cache=True)
def _drop_dearer(labels: Open, cost: float) -> None:
    """Drop the labels that cost as much or more."""
    kept = 0
    for m in range(labels.size[0]):
        if labels.cost[m] < cost:
            piece = Piece(0, labels.level[m], labels.climb[m], labels.stack[m])
            _write(labels, kept, labels.cost[m], piece, labels.joint[m])
            kept += 1
    labels.size[0] = kept


@njit(cache=True)
def _cheapest(labels: Open) -> int:
    """The cheapest label, -1 where there is none."""
    count = labels.size[0]
    return int(np.argmin(labels.cost[:count])) if count > 0 else -1


@njit(cache=True)
def _joint(joints: Joints, sample: int, before: int) -> int:
    made = joints.made[0]
    joints.sample[made], joints.before[made] = sample, before
    joints.made[0] = made + 1
    return int(made)


@njit(cache=True)
def section_of(strip: Strip, begin: int, end: int, mode: int, grade: float, root: Root) -> float:
    """Trench below the top [m2] of the piece between two joints, at samples `begin` and `end`.

    Parameters
    ----------
    begin : int
        -1: the root.
    """
    if mode == SINKS:
        top = strip.top[begin] if begin >= 0 else root.top
        level = top if begin >= 0 else min(top, root.level[SINKS])
        return sink_over(strip, begin + 1, end + 1, grade, top, level)[1]
    level, depth, section = strip.top[end], 0.0, 0.0
    for s in range(end, begin, -1):  # it lies at the top where it ends
        top = strip.top[s - 1] if s > 0 else root.top
        level = min(top, level - grade * strip.step[s])
        section += 0.5 * (depth + top - level) * strip.step[s]
        depth = top - level
    return section


@njit(cache=True)
def samples_of(land: Land, rows: FloatArray, cols: FloatArray) -> int:
    """How many samples a line has, its start left out."""
    count = 0
    for i in range(rows.size - 1):
        count += _pieces(land, Leg(rows[i], cols[i], rows[i + 1], cols[i + 1]))
    return count


@njit(cache=True)
def _pieces(land: Land, leg: Leg) -> int:
    cells = np.hypot(leg.row1 - leg.row0, leg.col1 - leg.col0)
    return max(int(np.ceil(cells / land.part - ROUNDING)), 1)


@njit(cache=True)
def sample_line(
    land: Land, rows: FloatArray, cols: FloatArray, strip: Strip, factor: FloatArray
) -> bool:
    """Lay out the band along a line of vertices at fractional rows and columns.

    Parameters
    ----------
    strip, factor : (n,) of `samples_of`, to be filled

    Returns
    -------
    bool
        Whether all of it is open ground, with no slope across it too steep.
    """
    at = 0
    for i in range(rows.size - 1):
        leg = Leg(rows[i], cols[i], rows[i + 1], cols[i + 1])
        count = _pieces(land, leg)
        if not _sample_leg(land, leg, count, strip, factor, at):
            return False
        at += count
    return True


@njit(cache=True)
def _sample_leg(
    land: Land, leg: Leg, count: int, strip: Strip, factor: FloatArray, at: int
) -> bool:
    down, right = (leg.row1 - leg.row0) / count, (leg.col1 - leg.col0) / count
    step = np.hypot(down * land.height, right * land.width)
    ahead, left = right * land.width, -down * land.height
    limit = land.side_slope * step
    patch = patch_at(land.soil, leg.row0, leg.col0)
    if limit < np.inf and not slope_across(land, patch, ahead, left) <= limit:
        return False
    rows, cols = land.soil.z.shape
    for k in range(1, count + 1):
        row, col = leg.row0 + down * k, leg.col0 + right * k
        before, patch = patch, patch_at(land.soil, row, col)
        top, bottom = band_between(land.soil, patch)
        if not bottom <= top or cuts_corner(land.soil, before, patch):
            return False
        if limit < np.inf and not slope_across(land, patch, ahead, left) <= limit:
            return False
        strip.step[at], strip.top[at], strip.bottom[at] = step, top, bottom
        r = min(max(int(row - 0.5 * down + 0.5), 0), rows - 1)
        c = min(max(int(col - 0.5 * right + 0.5), 0), cols - 1)
        factor[at] = figure(land.soil.cost, r, c)
        at += 1
    return True
