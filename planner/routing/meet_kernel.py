"""Compiled: the pipe along a line under a rule with one limit, looked at from both of its ends.

A walk sets out from the root of the line, another from its far end: what sinks away from the root
climbs towards it. Along a line that is given all that matters of the pipe so far is what it costs.

**Sinking**, labels: a price, and the highest level the pipe can have at that price. Over a step s

    p' = min(top', p - g s),    possible while p' >= bottom',

and the digging is certain as it goes (`planner.routing.piece_kernel`).

**Climbing**, one function for all layings at once: F(q), the least price at which the pipe lies at
level q here. It never rises with q, and is straight between corners. Over a step

    F'(q) = F(p) + half of w (top - p + top' - q),    p = min(top, q - g s),

for q from max(bottom', lowest + g s) to top', with w the price of the step's digging a metre deep:
the corners rise by g s and grow dearer by their depth, those above the top are cut off.

**Turning**, at any sample. A high point lies at the top and costs a vent: it begins a sinking label
of price F(top) + vent. A low point is free, and the climbing piece may begin at any level: where
F is above the price of the cheapest sinking label, it becomes that price.

Where the two walks meet, a sinking label and a function F are one piece, which costs F(p) more; two
sinking labels are a low point; two functions a high point. The cheapest pair is the cheapest laying
of the whole line (`planner.routing.band_follow_kernel` tells its joints too), so that where a part
of a line is changed only that part has to be walked again.
"""

import numpy as np
from numba import njit

from planner.routing.band_kernel import Root, Rule
from planner.routing.edge_kernel import TOLERANCE, FloatArray
from planner.routing.lean import lean
from planner.routing.piece_kernel import CLIMBS, SINKS, Strip

PRICE, LEVEL, MODE = 0, 1, 3  # columns of a label: a sinking pipe, or a corner of F
COLUMNS = 4
MOST_SINKS, MOST_CORNERS = 32, 224
ADDED = 3  # corners that a step adds at most
LEAST_BEND = 1e-9  # m of pipe; a corner as little off the straight line doesn't matter
MOST_LABELS = MOST_SINKS + MOST_CORNERS
MIDDLE = 4 * MOST_CORNERS  # where F begins in the room to work in
ROOM = 2 * MIDDLE


def root_labels(root: Root) -> FloatArray:
    """Labels that set out from the root, (k, 4)."""
    labels = []
    if root.cost[SINKS] < np.inf:
        labels.append([root.cost[SINKS], root.level[SINKS], 0.0, SINKS])
    if root.cost[CLIMBS] < np.inf:
        ends = (root.level[CLIMBS], root.top)
        labels.extend([root.cost[CLIMBS], level, 0.0, CLIMBS] for level in ends)
    return np.array(labels)


def far_labels(rule: Rule, top: float, bottom: float) -> FloatArray:
    """Labels that set out from the far end, where the band is [bottom, top], (k, 4)."""
    climbs_there = [[rule.closing, top, 0.0, SINKS]] if rule.vented else []
    return np.array([*climbs_there, [0.0, bottom, 0.0, CLIMBS], [0.0, top, 0.0, CLIMBS]])


@njit(cache=True)
def walk(  # noqa: C901
    rule: Rule,
    strip: Strip,
    factor: FloatArray,
    span: tuple[int, int],
    top: float,
    labels: FloatArray,
    count: int,
    room: FloatArray,
) -> int:
    """Carry labels over the samples from `span[0]` to `span[1]`, which follow a place of that top.

    Parameters
    ----------
    labels : (MOST_LABELS, 4)
        The first `count` are changed in place: sinking labels, then the corners of F, lowest first.
    room : (4, ROOM)
        To work in.

    Returns
    -------
    int
        How many are left; none where the rule can't be kept.
    """
    sinks, first, last = 0, MIDDLE, MIDDLE
    for m in range(count):
        if labels[m, MODE] == SINKS:
            room[0, sinks], room[1, sinks] = labels[m, PRICE], labels[m, LEVEL]
            sinks += 1
        else:
            room[2, last], room[3, last] = labels[m, PRICE], labels[m, LEVEL]
            last += 1
    for s in range(span[0], span[1]):
        fall, dig = rule.grade * strip.step[s], 0.5 * rule.dig * factor[s] * strip.step[s]
        before, top, bottom = top, strip.top[s], strip.bottom[s]
        sinks = sink_on(room[0], room[1], sinks, fall, dig, before, top, bottom)
        if last > first:
            first, last = climb_on(room[2], room[3], first, last, fall, dig, before, top, bottom)
        if sinks == 0 and last == first:
            return 0
        if rule.vented:
            sinks, first, last = turn(room, sinks, first, last, rule.vent, top, bottom)
        if first < 2 or last + 2 > ROOM:
            first, last = to_middle(room[2], room[3], first, last)
        bend = LEAST_BEND
        while last - first > MOST_CORNERS - ADDED:
            last = smooth(room[2], room[3], first, last, bend)
            bend *= 4.0
    for m in range(sinks):
        labels[m, PRICE], labels[m, LEVEL] = room[0, m], room[1, m]
        labels[m, MODE] = SINKS
    count = sinks
    for k in range(first, last):
        labels[count, PRICE], labels[count, LEVEL] = room[2, k], room[3, k]
        labels[count, MODE] = CLIMBS
        count += 1
    return count


@lean
def sink_on(
    price: FloatArray,
    level: FloatArray,
    count: int,
    fall: float,
    dig: float,
    before: float,
    top: float,
    bottom: float,
) -> int:
    """Take sinking labels one step on; how many are left."""
    kept = 0
    for m in range(count):
        after = min(top, level[m] - fall)
        if after >= bottom - TOLERANCE:
            price[kept] = price[m] + dig * (before - level[m] + top - after)
            level[kept] = after
            kept += 1
    return kept


@lean
def climb_on(
    price: FloatArray,
    level: FloatArray,
    first: int,
    last: int,
    rise: float,
    dig: float,
    before: float,
    top: float,
    bottom: float,
) -> tuple[int, int]:
    """Take F one step on; its corners are from `first` to `last`, none where it ends."""
    if level[first] + rise > top + TOLERANCE:
        return first, first
    for k in range(first, last):
        price[k] += dig * (before + top - 2.0 * level[k] - rise)
        level[k] += rise
    if level[last - 1] < top:
        end = price[last - 1] - dig * (top - level[last - 1])
        if dig > 0.0 or last - first == 1 or price[last - 2] != end:
            last += 1
        price[last - 1], level[last - 1] = end, top
    else:
        while last - 1 > first and level[last - 2] > top:
            last -= 1
        if last - 1 > first and level[last - 1] > top:
            if level[last - 2] == top:
                last -= 1
            else:
                price[last - 1] = between(price, level, last - 2, top)
                level[last - 1] = top
    while first + 1 < last and level[first + 1] <= bottom:
        first += 1
    if level[first] < bottom and first + 1 < last:
        price[first] = between(price, level, first, bottom)
        level[first] = bottom
    return first, last


@lean
def between(price: FloatArray, level: FloatArray, k: int, at: float) -> float:
    """F at a level above its corner k and below the next."""
    share = (at - level[k]) / (level[k + 1] - level[k])
    return float(price[k] + share * (price[k + 1] - price[k]))


@lean
def turn(
    room: FloatArray, sinks: int, first: int, last: int, vent: float, top: float, bottom: float
) -> tuple[int, int, int]:
    """Begin new pieces where they are cheaper, or can lie better, than those under way."""
    sunk = np.inf
    for m in range(sinks):
        sunk = min(sunk, room[0, m])
    climbed = room[2, last - 1] + vent if last > first else np.inf
    kept = 0
    for m in range(sinks):
        beaten = room[0, m] >= climbed
        for n in range(sinks):
            if room[0, n] <= room[0, m] and room[1, n] >= room[1, m]:
                same = room[0, n] == room[0, m] and room[1, n] == room[1, m]
                if not same or n < m:
                    beaten = True
        if not beaten:
            room[0, kept], room[1, kept] = room[0, m], room[1, m]
            kept += 1
    if climbed < np.inf and kept < MOST_SINKS:
        room[0, kept], room[1, kept] = climbed, top
        kept += 1
    if sunk < np.inf:
        first, last = lower(room[2], room[3], first, last, sunk, top, bottom)
    return kept, first, last


@lean
def lower(
    price: FloatArray,
    level: FloatArray,
    first: int,
    last: int,
    most: float,
    top: float,
    bottom: float,
) -> tuple[int, int]:
    """Put a price in the place of F where that is dearer, or is not at all."""
    if last == first or price[last - 1] >= most:
        first, last = MIDDLE, MIDDLE + 2
        price[first] = price[first + 1] = most
        level[first], level[first + 1] = bottom, top
        return first, last
    k = first
    while price[k] >= most:
        k += 1
    from_level = level[first]
    if k > first:
        share = (price[k - 1] - most) / (price[k - 1] - price[k])
        from_level = level[k - 1] + share * (level[k] - level[k - 1])
        first = k
    if from_level > bottom:
        first -= 2
        price[first] = price[first + 1] = most
        level[first], level[first + 1] = bottom, from_level
    return first, last


@lean
def smooth(price: FloatArray, level: FloatArray, first: int, last: int, bend: float) -> int:
    """Leave out corners of F that are no more than `bend` off the straight line past them."""
    kept = k = first + 1
    while k < last:
        if k + 1 < last and level[k + 1] > level[kept - 1]:
            share = (level[k] - level[kept - 1]) / (level[k + 1] - level[kept - 1])
            on = price[kept - 1] + share * (price[k + 1] - price[kept - 1])
            if abs(price[k] - on) <= bend:
                k += 1  # the one after it stays
        price[kept], level[kept] = price[k], level[k]
        kept += 1
        k += 1
    return kept


@lean
def to_middle(price: FloatArray, level: FloatArray, first: int, last: int) -> tuple[int, int]:
    """Move the corners to where there is room on either side."""
    size = last - first
    if first < MIDDLE:
        for k in range(size - 1, -1, -1):
            price[MIDDLE + k], level[MIDDLE + k] = price[first + k], level[first + k]
    else:
        for k in range(size):
            price[MIDDLE + k], level[MIDDLE + k] = price[first + k], level[first + k]
    return MIDDLE, MIDDLE + size


@njit(cache=True)
def meet(
    rule: Rule,
    labels: FloatArray,
    count: int,
    others: FloatArray,
    other_count: int,
    tolerance: float,
) -> float:
    """Price of the vents and the digging of a line from labels of both ends; infinite if none."""
    best = min(
        meet_climbing(labels, count, others, other_count, tolerance),
        meet_climbing(others, other_count, labels, count, tolerance),
    )
    if not rule.vented:
        return best
    low = cheapest(labels, count, SINKS) + cheapest(others, other_count, SINKS)
    high = cheapest(labels, count, CLIMBS) + cheapest(others, other_count, CLIMBS)
    return min(best, low, high + rule.vent)


@lean
def cheapest(labels: FloatArray, count: int, mode: int) -> float:
    """Least price in a mode, infinite if there is no label."""
    best = np.inf
    for m in range(count):
        if labels[m, MODE] == mode:
            best = min(best, labels[m, PRICE])
    return best


@lean
def meet_climbing(
    sinking: FloatArray, count: int, climbing: FloatArray, other_count: int, tolerance: float
) -> float:
    """Least price of a sinking label and F where it lies."""
    begin = 0
    while begin < other_count and climbing[begin, MODE] == SINKS:
        begin += 1
    best = np.inf
    for m in range(count):
        if sinking[m, MODE] != SINKS or begin == other_count:
            break
        at = sinking[m, LEVEL]
        if at < climbing[begin, LEVEL] - tolerance:
            continue
        k = begin
        while k + 1 < other_count and climbing[k + 1, LEVEL] <= at:
            k += 1
        more = climbing[k, PRICE]
        if k + 1 < other_count and at > climbing[k, LEVEL]:
            share = (at - climbing[k, LEVEL]) / (climbing[k + 1, LEVEL] - climbing[k, LEVEL])
            more += share * (climbing[k + 1, PRICE] - more)
        best = min(best, sinking[m, PRICE] + more)
    return best
