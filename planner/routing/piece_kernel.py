"""Compiled: one piece of a pipe, which sinks or climbs all the way, and what its digging costs.

Walk along the pipe. It lies between `bottom` and `top`, and a piece of it either SINKS or CLIMBS,
by at least g a metre.

**Sinking.** Over a step s the highest level the pipe can have goes on as

    p' = min(top', p - g s),    and the step is possible while p' >= bottom'.

It is the shallowest laying of all that came before, at every sample at once, so its digging is
certain as it goes.

**Climbing.** The lowest level goes on as q' = max(bottom', q + g s), while q' <= top': upside down
it is the rule above. But how deep the pipe lies is settled only at the high point to come, where it
lies at the top. Let it lie at level q here. Sample k before must be dug deeper than is certain by
as much as q lies under some level h_k, so that the digging of the piece, priced, is

    f(q) = C + sum of W_k max(0, h_k - q),    q from the lowest level to the top,

with W_k the price of depth at the sample: half the steps beside it (trapezoids). A step raises each
h_k by g s; then the ground caps q, which makes certain what lies above it: C grows by
W_k (h_k - top') and h_k becomes top'. Those equal to the top are merged, the sample itself is added
there, and so the h_k form a stack, the highest on top: a linked list that labels share. At the high
point the piece has cost f(top) = C.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.routing.edge_kernel import TOLERANCE, FloatArray, IntArray
from planner.routing.lean import lean

SINKS, CLIMBS = 0, 1
ROUNDING = 1e-12  # m, and m of pipe
Int32Array = NDArray[np.int32]
NODE = np.dtype([("height", np.float64), ("weight", np.float64), ("below", np.int32)], align=True)


class Strip(NamedTuple):
    """The band along a way: at each sample, the step before it and the levels there [m]."""

    step: FloatArray
    top: FloatArray
    bottom: FloatArray


class Piece(NamedTuple):
    """A piece as it comes to a place.

    Attributes
    ----------
    mode : int
        `SINKS` or `CLIMBS`.
    level : float
        Highest level if it sinks, lowest if it climbs [m]; NaN: no pipe comes here.
    climb : float
        Of a climbing piece the least grade times its length so far [m]; kept for the digging.
    stack : int
        Its digging that is not certain yet.
    """

    mode: int
    level: float
    climb: float
    stack: int


class Digging(NamedTuple):
    """Stacks of digging that is not certain yet: nodes of linked lists, 0 is none.

    Attributes
    ----------
    height, weight, below : (n,), (n,), (n,) int32
        h_k less the climb of its label; W_k; the node below.
    made : (2,) int64
        Nodes made, one more than nothing; nodes looked at to compare climbing pieces.
    new_height, new_weight : (m,)
        Nodes of the way at hand.
    """

    height: FloatArray
    weight: FloatArray
    below: Int32Array
    made: IntArray
    new_height: FloatArray
    new_weight: FloatArray


def make_digging(most: int, samples: int) -> Digging:
    """Room for so many nodes, and for a way of so many samples."""
    node = np.empty(most, NODE)
    new = np.empty(samples + 2), np.empty(samples + 2)
    return Digging(node["height"], node["weight"], node["below"], np.array([1, 0]), *new)


def make_strip(samples: int) -> Strip:
    """Room for so many samples."""
    return Strip(np.empty(samples), np.empty(samples), np.empty(samples))


@lean
def sink_over(
    strip: Strip, begin: int, end: int, grade: float, top: float, level: float
) -> tuple[float, float]:
    """Highest level after a way whose first sample follows a place with that top and level.

    Returns
    -------
    (level, section)
        NaN where no pipe passes; the trench below the top [m²].
    """
    depth, section = top - level, 0.0
    for s in range(begin, end):
        level = min(strip.top[s], level - grade * strip.step[s])
        if not level >= strip.bottom[s] - TOLERANCE:  # True also in a closed cell
            return np.nan, section
        before, depth = depth, strip.top[s] - level
        section += 0.5 * (before + depth) * strip.step[s]
    return level, section


@lean
def climb_over(strip: Strip, begin: int, end: int, grade: float, level: float) -> float:
    """Lowest level after a way; NaN where no pipe passes."""
    for s in range(begin, end):
        level = max(strip.bottom[s], level + grade * strip.step[s])
        if not level <= strip.top[s] + TOLERANCE:  # True also in a closed cell
            return np.nan
    return level


@lean
def pass_over(
    digging: Digging,
    strip: Strip,
    begin: int,
    end: int,
    top: float,
    piece: Piece,
    grade: float,
    price: float,
) -> tuple[Piece, float]:
    """Take a piece over samples `begin` to `end`, which follow a place with that top.

    Parameters
    ----------
    grade : float
        Least grade.
    price : float
        Of a square metre of trench; 0: nothing is kept of the digging.

    Returns
    -------
    (piece, cost)
        As it comes to the last sample; the price of the digging that has become certain.
    """
    if piece.mode == SINKS:
        level, section = sink_over(strip, begin, end, grade, top, piece.level)
        return Piece(SINKS, level, 0.0, 0), price * section
    if price == 0.0:
        level = climb_over(strip, begin, end, grade, piece.level)
        return Piece(CLIMBS, level, 0.0, 0), 0.0
    return climb_digging(digging, strip, begin, end, top, piece, grade, price)


@lean
def climb_digging(
    digging: Digging,
    strip: Strip,
    begin: int,
    end: int,
    top: float,
    piece: Piece,
    grade: float,
    price: float,
) -> tuple[Piece, float]:
    """As `pass_over`, of a piece that climbs."""
    height, weight = digging.new_height, digging.new_weight
    level, climb, base = piece.level, piece.climb, piece.stack
    count, certain = 0, 0.0
    for s in range(begin - 1, end):
        before = 0.0
        if s >= begin:
            before, top = strip.step[s], strip.top[s]
            climb += grade * before
            level = max(strip.bottom[s], level + grade * before)
            if not level <= top + TOLERANCE:
                return Piece(CLIMBS, np.nan, 0.0, 0), 0.0
        after = strip.step[s + 1] if s + 1 < end else 0.0
        held = 0.5 * price * (before + after)
        while count > 0 or base > 0:
            h = (height[count - 1] if count > 0 else digging.height[base]) + climb
            if h < top - ROUNDING:
                break
            w = weight[count - 1] if count > 0 else digging.weight[base]
            certain += w * max(h - top, 0.0)
            held += w
            if count > 0:
                count -= 1
            else:
                base = digging.below[base]
        height[count], weight[count] = top - climb, held
        count += 1
    return Piece(CLIMBS, level, climb, _keep(digging, base, count, level - climb)), certain


@lean
def _keep(digging: Digging, base: int, count: int, lowest: float) -> int:
    """Put the new nodes on the stack, without those so low that no pipe lies under them."""
    if base > 0 and digging.height[base] <= lowest:
        base = 0
    for k in range(count):
        if digging.new_height[k] > lowest:
            made = digging.made[0]
            digging.height[made], digging.weight[made] = (
                digging.new_height[k],
                digging.new_weight[k],
            )
            digging.below[made] = base
            digging.made[0] = made + 1
            base = made
    return base


@lean
def digs_no_more(
    digging: Digging, top: float, piece: Piece, cost: float, other: Piece, other_cost: float
) -> bool:
    """Whether a climbing piece costs no more than another, at every level the other can have.

    Their costs are straight between the heights of both stacks, so those corners decide.
    """
    more, slope, level = other_cost - cost, 0.0, top
    a, b = piece.stack, other.stack
    while True:
        digging.made[1] += 1
        if more < -ROUNDING:
            return False
        if level <= other.level:
            return True
        at_a = digging.height[a] + piece.climb if a > 0 else -np.inf
        at_b = digging.height[b] + other.climb if b > 0 else -np.inf
        corner = min(max(at_a, at_b, other.level), level)
        more += slope * (level - corner)
        level = corner
        if level > other.level:
            if at_a >= at_b:
                slope -= digging.weight[a]
                a = digging.below[a]
            else:
                slope += digging.weight[b]
                b = digging.below[b]
