"""Compiled: the least-cost pipe over a grid, its levels kept in a band, by labels.

A label says: there is a pipe from the start to this cell at this cost, now rising (way 0) or
falling (way 1), and its level here may be anything in [low, high]. A step of horizontal length s
in a way with grades [a, b] gives

    low' = max(bottom', low + a s),    high' = min(top', high + b s),

and is possible while low' <= high'. These two bounds, kept apart, are the band rule of
`planner.grade.rule` exactly, for a <= b. A label that costs no less and allows no more than a
settled one of the same cell and way can't lead to anything better, so settling in the order of
cost makes the first label at the end the optimum over the stencil's paths. (Dominance as in
bi-objective search: Hernandez Ulloa et al., ICAPS 2020.)

Limits on both sides leave many labels at a cell: each a little dearer and a little freer than the
one before. Where that is too many, a label may be dropped that allows no more than `thin` beyond a
settled one (`Rule.thin`): what is found is still a pipe, but no longer proven the cheapest.

Labels are settled in the order of the cost so far plus what is left to pay at least, so the search
keeps to the land between the ends. Two things bound it (`least_left`): the cost to the end where no
grade is asked for, and the length that the rise to the end takes at the limit of the grade (on even
land steeper than the limit that is all of it). And sweeps from the end
(`planner.routing.ahead_kernel`) tell from which levels a line that only rises, or only falls, still
reaches the end: a label without such a level is dropped.
"""

from heapq import heappop, heappush
from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import (
    TOLERANCE,
    Field,
    FloatArray,
    IntArray,
    Links,
    across,
    over_edge,
    over_link,
    price_of,
)
from planner.routing.stencil import Stencil

Int32Array = NDArray[np.int32]
FOUND, BLOCKED, TOO_MANY = 0, 1, 2
SWEEP_TOLERANCE = 1e-6  # m, between levels summed up from the start and from the end


class Rule(NamedTuple):
    """Grades [rising low, rising high, falling low, falling high], and what joints cost.

    `ways` is 1 where the line may not fall, else 2; `begin` is the cost of setting out rising and
    falling, infinite where that is not allowed. `side_slope` is the steepest slope of the ground
    across the trench; `thin` what two labels must differ by to be kept apart [m], 0 for exactness.
    """

    grades: FloatArray
    ways: int
    vent_cost: float
    begin: FloatArray
    low: float
    high: float
    side_slope: float = np.inf
    thin: float = 0.0


class Beyond(NamedTuple):
    """What bounds the cost from a cell to the end.

    Attributes
    ----------
    cost : (cells,)
        Least cost to the end where no grade is asked for; 0: at least `final`.
    final : float
    columns : int
        Of the grid.
    row, col : float
        Of the end, in the grid.
    width, height : float
        Of a cell [m].
    low, high : float
        Levels the end may have [m].
    weight : float
        By which bounds are multiplied; 1 for exactness, more to search less.
    """

    cost: FloatArray
    final: float
    columns: int
    row: float
    col: float
    width: float
    height: float
    low: float
    high: float
    weight: float


class Cells(NamedTuple):
    """What the search writes at the cells; zeros at first, which say: nothing yet.

    Attributes
    ----------
    latest : (2 * (cells + 1),) int32
        The label settled last at each cell and way, the last pair for the end.
    hint : (6 * (cells + 1),)
        Cost and bounds of the cheapest label waiting there.
    leaving : (cells,) int32
        The link to the end, plus one.
    """

    latest: Int32Array
    hint: FloatArray
    leaving: Int32Array


class Reach(NamedTuple):
    """Levels from which the end can still be reached: highest and lowest of each cell.

    An array of no length sets no limit.
    """

    highest: FloatArray
    lowest: FloatArray


class Found(NamedTuple):
    """What the search came to: `nodes` from start to end, the level's bounds and way at the end."""

    status: int
    cost: float
    nodes: IntArray
    way: int
    low: float
    high: float
    nearest: int
    settled: int


@njit(cache=True)
def leads_on(reach: Reach, node: int, low: float, high: float) -> bool:
    """Whether some level in [low, high] at a cell still reaches the end."""
    if reach.highest.size > 0 and low > reach.highest[node] + SWEEP_TOLERANCE:
        return False
    return not (reach.lowest.size > 0 and high < reach.lowest[node] - SWEEP_TOLERANCE)


@njit(cache=True)
def distance(beyond: Beyond, node: int) -> float:
    """From a cell to the end, on the map [m]."""
    down = (node // beyond.columns - beyond.row) * beyond.height
    return float(np.hypot(down, (node % beyond.columns - beyond.col) * beyond.width))


@njit(cache=True)
def least_left(field: Field, rule: Rule, beyond: Beyond, node: int) -> float:
    """What is left to pay at least from a cell to the end; infinite where it is closed.

    The line is as long as the way to the end, and, where it may go one way alone, as long as the
    rise to the end takes at the limit of the grade; and it covers the rise of the ground.
    """
    top, bottom = field.top[node], field.bottom[node]
    if not bottom <= top:
        return np.inf
    run = distance(beyond, node)
    if rule.ways == 1:
        if beyond.low > top:
            run = max(run, (beyond.low - top) / rule.grades[1]) if rule.grades[1] > 0.0 else np.inf
        if bottom > beyond.high:
            run = (
                max(run, (bottom - beyond.high) / -rule.grades[0])
                if rule.grades[0] < 0.0
                else np.inf
            )
    plain = beyond.cost[node]
    if not 0.0 < plain <= beyond.final:
        plain = beyond.final
    return float(beyond.weight * max(np.hypot(run, beyond.high - top), plain))


@njit(cache=True)
def too_steep(field: Field, stencil: Stencil, rule: Rule, node: int, k: int) -> bool:
    """Whether the ground across a move is steeper than allowed."""
    return rule.side_slope < np.inf and not across(field, stencil, node, k) <= rule.side_slope


@njit(cache=True)
def _doubled(array):  # type: ignore[no-untyped-def]
    more = np.empty(2 * array.size, array.dtype)
    more[: array.size] = array
    return more


# One loop, kept in one piece: numba copies what is handed to a function that grows arrays.
@njit(cache=True)
def search(  # noqa: C901, PLR0912, PLR0915
    field: Field,
    stencil: Stencil,
    rule: Rule,
    entry: Links,
    leave: Links,
    beyond: Beyond,
    reach: Reach,
    cells: Cells,
    most_labels: int,
) -> Found:
    """Least-cost pipe from the start (its `entry` links) to the end (its `leave` links).

    Parameters
    ----------
    beyond, reach : Beyond, Reach
    cells : Cells
        Zeros.
    most_labels : int
        Where to give up, a bound on memory and time.

    Returns
    -------
    Found
        `nodes` holds cells only, not the two ends; empty if the ends are linked directly.
    """
    last = field.top.size
    latest, hint, leaving = cells.latest, cells.hint, cells.leaving
    for e in range(leave.node.size):
        if leave.across[e] <= rule.side_slope:
            leaving[leave.node[e]] = e + 1
    # Labels are numbered from 1: 0 is none.
    room = min(1 << 16, most_labels)
    cost, low, high = np.empty(room), np.empty(room), np.empty(room)
    state, parent, earlier = (
        np.empty(room, np.int64),
        np.zeros(room, np.int64),
        np.zeros(room, np.int64),
    )
    count, settled, nearest, near = 1, 0, -1, np.inf
    one_sided = not (np.isfinite(rule.grades[0]) and np.isfinite(rule.grades[1]))
    heap = [(0.0, -1)]
    heap.pop()
    for way in range(rule.ways):
        for e in range(entry.node.size):
            there = entry.node[e]
            ok, lo, hi = over_link(
                entry, e, rule.low, rule.high, rule.grades[2 * way], rule.grades[2 * way + 1]
            )
            ok = ok and (there == last or leads_on(reach, there, lo, hi))
            if ok and rule.begin[way] < np.inf and entry.across[e] <= rule.side_slope:
                cost[count] = rule.begin[way] + entry.cost[e]
                low[count], high[count] = lo, hi
                state[count], parent[count] = 2 * there + way, 0
                to_come = least_left(field, rule, beyond, there) if there < last else 0.0
                heappush(heap, (cost[count] + to_come, count))
                count += 1
    while len(heap) > 0:
        label = heappop(heap)[1]
        price, here = cost[label], state[label]
        node, way = here // 2, here % 2
        lo, hi = low[label], high[label]
        if _dominated(latest[here], earlier, low, high, lo, hi, one_sided, rule.thin):
            continue
        earlier[label] = latest[here]
        latest[here] = label
        settled += 1
        if node == last:
            return Found(FOUND, price, _trace(label, parent, state), way, lo, hi, nearest, settled)
        away = distance(beyond, node)
        if away < near:
            nearest, near = node, away
        for onward in range(rule.ways):
            begun = price + (rule.vent_cost if way == 0 and onward == 1 else 0.0)
            a, b = rule.grades[2 * onward], rule.grades[2 * onward + 1]
            for k in range(-1, stencil.move.size):
                # What the far end alone allows rules most moves out, unsampled.
                to_come = 0.0
                if k < 0:
                    if leaving[node] == 0:
                        continue
                    there = 2 * last + onward
                    total = begun + leave.cost[leaving[node] - 1]
                    ok, l2, h2 = over_link(leave, leaving[node] - 1, lo, hi, a, b)
                else:
                    other = node + stencil.move[k]
                    l2 = max(field.bottom[other], lo + a * stencil.run[k])
                    h2 = min(field.top[other], hi + b * stencil.run[k])
                    ok = l2 <= h2 + TOLERANCE and leads_on(reach, other, l2, h2)
                    if ok:
                        to_come = least_left(field, rule, beyond, other)
                        there = 2 * other + onward
                        total = begun + price_of(field, stencil, node, k)
                if not ok or to_come == np.inf:
                    continue
                waiting = hint[3 * there]
                if (
                    0.0 < waiting <= total
                    and l2 >= hint[3 * there + 1]
                    and h2 <= hint[3 * there + 2]
                ):
                    continue
                if _dominated(latest[there], earlier, low, high, l2, h2, one_sided, rule.thin):
                    continue
                if k >= 0:
                    ok, l2, h2 = over_edge(field, stencil, node, k, lo, hi, a, b)
                    ok = ok and leads_on(reach, other, l2, h2)
                    ok = ok and not too_steep(field, stencil, rule, node, k)
                    if not ok or _dominated(
                        latest[there], earlier, low, high, l2, h2, one_sided, rule.thin
                    ):
                        continue
                if waiting == 0.0 or total < waiting:
                    hint[3 * there], hint[3 * there + 1], hint[3 * there + 2] = total, l2, h2
                if count == cost.size:
                    if count >= most_labels:
                        return Found(TOO_MANY, np.inf, _none(), 0, 0.0, 0.0, nearest, settled)
                    cost, low, high = _doubled(cost), _doubled(low), _doubled(high)
                    state, parent, earlier = _doubled(state), _doubled(parent), _doubled(earlier)
                cost[count], low[count], high[count] = total, l2, h2
                state[count], parent[count] = there, label
                heappush(heap, (total + to_come, count))
                count += 1
    return Found(BLOCKED, np.inf, _none(), 0, 0.0, 0.0, nearest, settled)


@njit(cache=True)
def _dominated(
    label: int,
    earlier: IntArray,
    low: FloatArray,
    high: FloatArray,
    lo: float,
    hi: float,
    one_sided: bool,
    thin: float,
) -> bool:
    """Whether a settled label of the same cell and way allows all that this one does.

    `one_sided`: one bound alone counts, so that of the settled labels the latest allows most.
    """
    miss = max(thin, TOLERANCE)
    while label > 0:
        if low[label] <= lo + miss and high[label] >= hi - miss:
            return True
        if one_sided:
            return False
        label = earlier[label]
    return False


@njit(cache=True)
def _trace(label: int, parent: IntArray, state: IntArray) -> IntArray:
    length, k = 0, parent[label]
    while k > 0:
        length += 1
        k = parent[k]
    nodes = np.empty(length, np.int64)
    k = parent[label]
    for i in range(length - 1, -1, -1):
        nodes[i] = state[k] // 2
        k = parent[k]
    return nodes


@njit(cache=True)
def _none() -> IntArray:
    return np.empty(0, np.int64)
