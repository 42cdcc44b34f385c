"""Compiled: the cheapest pipe that rises all the way, or falls and rises at the price of vents.

Walk away from the root of the pipe: the end of a line that rises, the start of one that falls. Its
pieces sink or climb (`planner.routing.piece_kernel`). A change from climbing to sinking is a high
point and costs a vent; one from sinking to climbing is free; both happen at the centre of a cell.
At a low point the pieces are priced each on its own level, and differ by half a step at most.

A label is a way from the root to a cell in one mode. Of two labels A leads to nothing worse than B
if it costs no more and

- sinking, its highest level is no lower;
- climbing, its lowest level is no higher, and its digging costs no more wherever B can lie.

(Dominance as in bi-objective search: Hernandez Ulloa et al., ICAPS 2020.) Where a sinking label has
come to a cell, a new climbing piece can begin at any level and nothing is dug yet, so that no later
climbing label leads to anything but a vent there; and of those the first is the cheapest.

Labels are settled in the order of cost so far plus a lower bound of what is to come
(`planner.routing.label_kernel`), so the first at the far end is the optimum over all lines on the
stencil's moves and all layings in the band, tested at every sample along every move. A line may
come to a cell more than once: where that is cheapest it gains height by going back and forth.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import TOLERANCE, Field, FloatArray, IntArray, Links, across
from planner.routing.label_kernel import (
    SIZE,
    Labels,
    Queue,
    fill,
    free_label,
    from_heap,
    new_label,
    open_next,
    piece_of,
    put,
    to_heap,
)
from planner.routing.lean import lean
from planner.routing.piece_kernel import (
    CLIMBS,
    SINKS,
    Digging,
    Int32Array,
    Piece,
    Strip,
    digs_no_more,
    pass_over,
)
from planner.routing.sample_kernel import sample_move
from planner.routing.stencil import Stencil

FOUND, BLOCKED, TOO_MANY = 0, 1, 2
SUNK, CLIMBED = 1, 2  # bits of `Cells.seen`: a label has come to the cell in this mode
FULL = np.inf  # in `Cells.room`: a climbing piece has begun here
SWEEP_TOLERANCE = 1e-6  # m, between levels summed up from the one end and from the other


class Rule(NamedTuple):
    """What the pipe must keep, and what it pays.

    Attributes
    ----------
    grade : float
        Least grade of each piece.
    vented : bool
        Whether pieces may climb.
    vent, dig : float
        Price of a high point [m]; of a square metre of trench below the top [m of pipe].
    closing : float
        Price of coming to the far end climbing [m].
    side_slope : float
        Steepest ground across a move; infinite: no limit.
    loose : float
        By how much [m of pipe] a climbing piece may dig dearer and still count as no worse; 0 for
        exactness, infinite: its digging is not looked at.
    patience : int
        Nodes of digging that may be looked at to compare pieces before the search gives up.
    """

    grade: float
    vented: bool
    vent: float
    dig: float
    closing: float
    side_slope: float
    loose: float = 0.0
    patience: int = np.iinfo(np.int64).max


class Root(NamedTuple):
    """Where the walk begins.

    Attributes
    ----------
    top : float
        Highest level there [m].
    level : (2,)
        Highest level of a pipe that sets out sinking, lowest of one that climbs.
    cost : (2,)
        Price of setting out sinking and climbing; infinite where that isn't allowed.
    """

    top: float
    level: FloatArray
    cost: FloatArray


class Beyond(NamedTuple):
    """What is known from the far end.

    Attributes
    ----------
    cost : (cells,) or (0,)
        Lower bound of the cost to come, 0 where it is unknown; no length: no bound at all.
    most : float
        Costs above this, and the unknown, count as this; infinite: the unknown is cut off.
    below : (cells,) or (0,)
        How far below the top lies the lowest level from which a pipe that sinks all the way comes
        to the far end, plus one; 0 where there is none; no length: not known.
    """

    cost: FloatArray
    most: float
    below: FloatArray


class Cells(NamedTuple):
    """What the search knows of each cell and, where there are two places, mode; all begin as zeros.

    Attributes
    ----------
    room : (2 cells + 2,)
        Of all settled labels the best level, as one more than its height above the bottom if it
        sinks, below the top if it climbs [m].
    waiting, settled : (2 cells + 2,) int32
        A label that waits, the cheapest or the last; the last one settled.
    seen : (cells + 1,) uint8
    leaving : (cells,) int32
        One more than the index of the cell's link to the far end.
    """

    room: FloatArray
    waiting: Int32Array
    settled: Int32Array
    seen: NDArray[np.uint8]
    leaving: Int32Array


class Found(NamedTuple):
    """What the search came to, and the label at the far end."""

    status: int
    label: int


# One loop, kept in one piece: to hand all its arrays to a function costs as much as a move.
@lean
def search_band(  # noqa: C901, PLR0911, PLR0912, PLR0913, PLR0915, PLR0917
    field: Field,
    stencil: Stencil,
    rule: Rule,
    root: Root,
    entry: Links,
    leave: Links,
    beyond: Beyond,
    cells: Cells,
    labels: Labels,
    digging: Digging,
    queue: Queue,
    strip: Strip,
) -> Found:
    """Settle labels from the root until one stands at the far end, or none is left.

    Parameters
    ----------
    entry, leave : Links
        From the root to cells, from cells to the far end; with no links in `leave` the whole field
        is settled.
    strip : Strip
        Room for the samples of a move.
    """
    far = field.top.size
    limited = field.east.size > 0 and rule.side_slope < np.inf
    linked = Strip(leave.step, leave.top, leave.bottom)
    for e in range(leave.node.size):
        if leave.across[e] <= rule.side_slope:
            cells.leaving[leave.node[e]] = e + 1
    if not _set_out(field, rule, root, entry, beyond, labels, digging, queue):
        return Found(TOO_MANY, 0)
    while True:
        label = _take(queue, labels, beyond)
        if label == 0:
            return Found(BLOCKED, 0)
        if digging.made[1] > rule.patience:
            return Found(TOO_MANY, 0)
        state, cost = labels.state[label], labels.cost[label]
        node, mode = state >> 1, state & 1
        if node == far:
            return Found(FOUND, label)
        turned = labels.parent[label] < 0
        first = not turned and cells.seen[node] & (SUNK << mode) == 0
        goes_on = not _beaten(field, rule, cells, labels, digging, label)
        if not (goes_on or (first and rule.vented)):
            if cells.waiting[state] == label:
                cells.waiting[state] = 0
            free_label(labels, label)
            continue
        labels.next[label] = cells.settled[state]
        cells.settled[state] = label
        if goes_on:
            room = _room(field, state, labels.level[label])
            cells.room[state] = max(cells.room[state], room)
        if first:
            cells.seen[node] |= SUNK << mode
            if mode == CLIMBS and cells.room[state - 1] < _room(field, state - 1, field.top[node]):
                new = new_label(labels)
                if new == 0:
                    return Found(TOO_MANY, 0)
                piece = Piece(SINKS, field.top[node], 0.0, 0)
                fill(labels, new, cost + rule.vent, node, piece, -label)
                put(queue, labels, new, cost + rule.vent + to_come(beyond, node))
            elif mode == SINKS and rule.vented:
                cells.room[state + 1] = FULL
        for onward in range(2):
            piece = piece_of(labels, label)
            if onward != mode:
                if onward == SINKS or not (first and rule.vented):
                    continue
                piece = Piece(CLIMBS, field.bottom[node], 0.0, 0)
            elif not goes_on:
                continue
            for k in range(-1, stencil.move.size):
                if k < 0:
                    e = cells.leaving[node] - 1
                    if e < 0:
                        continue
                    other, way, price = far, linked, rule.dig * leave.factor[e]
                    begin, end = leave.sample_from[e], leave.sample_from[e + 1]
                    total = cost + leave.cost[e] + (rule.closing if onward == CLIMBS else 0.0)
                else:
                    other = node + stencil.move[k]
                    # What the far end alone allows rules most moves out, unsampled.
                    best = _at_end(field, piece, other, rule.grade * stencil.run[k])
                    if not _leads_on(field, beyond, other, best):
                        continue
                    if _known(field, rule, cells, 2 * other + onward, best):
                        continue
                    factor, length = price_of(field, stencil, node, k)
                    total, price = cost + factor * length, rule.dig * factor
                    if _awaited(rule, cells, labels, 2 * other + onward, total, best):
                        continue
                    if limited and not across(field, stencil, node, k) <= rule.side_slope:
                        continue
                    way, begin, end = strip, 0, sample_move(field, stencil, node, k, strip)
                made = digging.made[0]
                stacks = onward == CLIMBS and price > 0.0
                if stacks and made + end - begin + 2 > digging.below.size:
                    return Found(TOO_MANY, 0)
                there, more = pass_over(
                    digging, way, begin, end, field.top[node], piece, rule.grade, price
                )
                if not _leads_on(field, beyond, other, there.level):
                    continue
                new = new_label(labels)
                if new == 0:
                    return Found(TOO_MANY, 0)
                fill(labels, new, total + more, other, there, label)
                if other < far and not _worth(field, rule, cells, labels, digging, new):
                    free_label(labels, new)
                    digging.made[0] = made
                    continue
                put(queue, labels, new, total + more + to_come(beyond, other))


@lean
def _set_out(
    field: Field,
    rule: Rule,
    root: Root,
    entry: Links,
    beyond: Beyond,
    labels: Labels,
    digging: Digging,
    queue: Queue,
) -> bool:
    """The first labels, over the links from the root; False where there is no room for them."""
    far, way = field.top.size, Strip(entry.step, entry.top, entry.bottom)
    queue.base[0] = np.inf
    for e in range(entry.node.size):
        queue.base[0] = min(queue.base[0], entry.cost[e] + to_come(beyond, entry.node[e]))
    for mode in range(2):
        for e in range(entry.node.size):
            node, ahead = entry.node[e], to_come(beyond, entry.node[e])
            if not entry.across[e] <= rule.side_slope or not root.cost[mode] + ahead < np.inf:
                continue
            begin, end = entry.sample_from[e], entry.sample_from[e + 1]
            piece = Piece(mode, root.level[mode], 0.0, 0)
            price = rule.dig * entry.factor[e]
            there, more = pass_over(digging, way, begin, end, root.top, piece, rule.grade, price)
            total = root.cost[mode] + entry.cost[e] + more
            if node == far and mode == CLIMBS:
                total += rule.closing
            if not _leads_on(field, beyond, node, there.level):
                continue
            new = new_label(labels)
            if new == 0:
                return False
            fill(labels, new, total, node, there, 0)
            put(queue, labels, new, total + ahead)
    return True


@lean
def to_come(beyond: Beyond, node: int) -> float:
    """Lower bound of the cost from a cell to the far end."""
    if node >= beyond.cost.size:
        return 0.0
    known = beyond.cost[node]
    return min(known, beyond.most) if known != 0.0 else beyond.most


@lean
def _take(queue: Queue, labels: Labels, beyond: Beyond) -> int:
    """The label of least cost so far and to come; 0 when none waits."""
    while queue.mark[SIZE] == 0:
        label = open_next(queue)
        if label == 0:
            return 0
        while label != 0:
            following = labels.next[label]
            to_heap(queue, label, labels.cost[label] + to_come(beyond, labels.state[label] >> 1))
            label = following
    return from_heap(queue)


@lean
def price_of(field: Field, stencil: Stencil, node: int, k: int) -> tuple[float, float]:
    """Mean factor along move k from a cell, and its length in three dimensions."""
    factor = 0.0
    for p in range(stencil.price_from[k], stencil.price_from[k + 1]):
        factor += stencil.price_share[p] * field.factor[node + stencil.price_cell[p]]
    rise, run = field.top[node + stencil.move[k]] - field.top[node], stencil.run[k]
    return factor, np.sqrt(run * run + rise * rise)


@lean
def _at_end(field: Field, piece: Piece, other: int, change: float) -> float:
    """The best level that the far end of a move allows; NaN where it allows none or is closed."""
    top, bottom = field.top[other], field.bottom[other]
    if piece.mode == SINKS:
        level = min(top, piece.level - change)
        return level if level >= bottom - TOLERANCE else np.nan
    level = max(bottom, piece.level + change)
    return level if level <= top + TOLERANCE else np.nan


@lean
def _leads_on(field: Field, beyond: Beyond, node: int, level: float) -> bool:
    """Whether a pipe at a cell's level, NaN for none, may still come to the far end."""
    if node < beyond.below.size:
        known = beyond.below[node]
        return bool(known > 0.0 and field.top[node] - level + 1.0 <= known + SWEEP_TOLERANCE)
    return level == level and to_come(beyond, node) < np.inf  # noqa: PLR0124


@lean
def _room(field: Field, state: int, level: float) -> float:
    """The range of levels that is left, plus one [m]."""
    if state & 1 == SINKS:
        return float(level - field.bottom[state >> 1] + 1.0)
    return float(field.top[state >> 1] - level + 1.0)


@lean
def _known(field: Field, rule: Rule, cells: Cells, state: int, level: float) -> bool:
    """Whether a settled label beats all of a level, whatever they have dug, and came here so."""
    known = cells.room[state]
    if _room(field, state, level) > known + TOLERANCE:
        return False
    if cells.seen[state >> 1] & (SUNK << (state & 1)) == 0:
        return False
    return state & 1 == SINKS or rule.dig == 0.0 or known == FULL


@lean
def _awaited(
    rule: Rule, cells: Cells, labels: Labels, state: int, cost: float, level: float
) -> bool:
    """Whether a label that waits beats all of a cost and level, whatever they have dug."""
    other = cells.waiting[state]
    if other == 0 or labels.cost[other] > cost:
        return False
    if state & 1 == SINKS:
        return bool(labels.level[other] >= level - TOLERANCE)
    return bool(rule.dig == 0.0 and labels.level[other] <= level + TOLERANCE)


@lean
def _beaten(
    field: Field, rule: Rule, cells: Cells, labels: Labels, digging: Digging, label: int
) -> bool:
    """Whether a settled label of the same cell and mode leads to nothing worse."""
    state, level = labels.state[label], labels.level[label]
    known = cells.room[state]
    if _room(field, state, level) > known + TOLERANCE:
        return False
    if state & 1 == SINKS or rule.dig == 0.0 or known == FULL:
        return True
    other = cells.settled[state]
    while other != 0:
        if _no_worse(field, rule, labels, digging, other, label):
            return True
        other = labels.next[other]
    return False


@lean
def _no_worse(field: Field, rule: Rule, labels: Labels, digging: Digging, a: int, b: int) -> bool:
    """Whether climbing label A leads to nothing worse than climbing label B of the same cell."""
    if labels.level[a] > labels.level[b] + TOLERANCE:
        return False
    if rule.loose == np.inf:
        return bool(labels.cost[a] <= labels.cost[b])
    top = field.top[labels.state[b] >> 1]
    piece, other = piece_of(labels, a), piece_of(labels, b)
    return digs_no_more(digging, top, piece, labels.cost[a], other, labels.cost[b] + rule.loose)


@lean
def _worth(
    field: Field, rule: Rule, cells: Cells, labels: Labels, digging: Digging, label: int
) -> bool:
    """Whether a new label may lead to something; if so it is the one its state waits for.

    The first label that comes to a cell in a mode may be beaten by one that turned there, and still
    be the first that can turn.
    """
    state, level = labels.state[label], labels.level[label]
    came = cells.seen[state >> 1] & (SUNK << (state & 1)) != 0
    if came and _beaten(field, rule, cells, labels, digging, label):
        return False
    other = cells.waiting[state]
    if other != 0:
        if _awaited(rule, cells, labels, state, labels.cost[label], level) or (
            rule.dig > 0.0
            and state & 1 == CLIMBS
            and labels.cost[other] <= labels.cost[label]
            and _no_worse(field, rule, labels, digging, other, label)
        ):
            return False
        settled = _room(field, state, labels.level[other]) <= cells.room[state] + TOLERANCE
        if labels.cost[other] <= labels.cost[label] and not settled:
            return True
    cells.waiting[state] = label
    return True


@njit(cache=True)
def trace(labels: Labels, label: int) -> IntArray:
    """Cells from that of a label back to the root."""
    count, here = 0, label
    while here != 0:
        count, here = count + 1, abs(labels.parent[here])
    nodes = np.empty(count, np.int64)
    for i in range(count):
        nodes[i] = labels.state[label] >> 1
        label = abs(labels.parent[label])
    return nodes
