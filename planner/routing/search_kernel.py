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

Sweeps from the end (`planner.routing.ahead_kernel`) come first. They tell for each cell what is
left to pay at least, and labels are settled in the order of cost so far plus this bound: the search
keeps to the land between the ends. And they tell from which levels a line that only rises, or only
falls, still reaches the end: a label without such a level is dropped.
"""

from heapq import heappop, heappush
from typing import NamedTuple

import numpy as np
from numba import njit

from planner.routing.edge_kernel import (
    TOLERANCE,
    Field,
    FloatArray,
    IntArray,
    Links,
    over_edge,
    over_link,
    price_of,
)
from planner.routing.stencil import Stencil

FOUND, BLOCKED, TOO_MANY = 0, 1, 2
SWEEP_TOLERANCE = 1e-6  # m, between levels summed up from the start and from the end


class Rule(NamedTuple):
    """Grades [rising low, rising high, falling low, falling high], and what joints cost.

    `ways` is 1 where the line may not fall, else 2; `begin` is the cost of setting out rising and
    falling, infinite where that is not allowed.
    """

    grades: FloatArray
    ways: int
    vent_cost: float
    begin: FloatArray
    low: float
    high: float


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
    ahead: FloatArray,
    reach: Reach,
    away: FloatArray,
    most_labels: int,
) -> Found:
    """Least-cost pipe from the start (its `entry` links) to the end (its `leave` links).

    Parameters
    ----------
    ahead : (cells,) ndarray
        `cost_ahead`.
    reach : Reach
    away : (cells,) ndarray
        Distance of each cell from the end [m], for the nearest miss.
    most_labels : int
        Where to give up, a bound on memory.

    Returns
    -------
    Found
        `nodes` holds cells only, not the two ends; empty if the ends are linked directly.
    """
    cells = field.top.size
    leaving = np.full(cells, -1, np.int64)
    for e in range(leave.node.size):
        leaving[leave.node[e]] = e
    # One slot per cell and way, the last pair for the end.
    latest = np.full(2 * (cells + 1), -1, np.int64)
    hint_cost = np.full(2 * (cells + 1), np.inf)
    hint_low = np.full(2 * (cells + 1), np.inf)
    hint_high = np.full(2 * (cells + 1), -np.inf)
    room = 1 << 16
    cost, low, high = np.empty(room), np.empty(room), np.empty(room)
    state, parent, earlier = (
        np.empty(room, np.int64),
        np.empty(room, np.int64),
        np.empty(room, np.int64),
    )
    count, settled, nearest = 0, 0, -1
    single = not (np.isfinite(rule.grades[0]) and np.isfinite(rule.grades[1]))
    heap = [(0.0, -1)]
    heap.pop()
    for way in range(rule.ways):
        for e in range(entry.node.size):
            ok, lo, hi = over_link(
                entry, e, rule.low, rule.high, rule.grades[2 * way], rule.grades[2 * way + 1]
            )
            ok = ok and (entry.node[e] == cells or leads_on(reach, entry.node[e], lo, hi))
            if ok and rule.begin[way] < np.inf:
                cost[count] = rule.begin[way] + entry.cost[e]
                low[count], high[count] = lo, hi
                state[count], parent[count] = 2 * entry.node[e] + way, -1
                to_come = ahead[entry.node[e]] if entry.node[e] < cells else 0.0
                heappush(heap, (cost[count] + to_come, count))
                count += 1
    while len(heap) > 0:
        label = heappop(heap)[1]
        price, here = cost[label], state[label]
        node, way = here // 2, here % 2
        lo, hi = low[label], high[label]
        if _dominated(latest[here], earlier, low, high, lo, hi, single):
            continue
        earlier[label] = latest[here]
        latest[here] = label
        settled += 1
        if node == cells:
            return Found(FOUND, price, _trace(label, parent, state), way, lo, hi, nearest, settled)
        if nearest < 0 or away[node] < away[nearest]:
            nearest = node
        for onward in range(rule.ways):
            begun = price + (rule.vent_cost if way == 0 and onward == 1 else 0.0)
            a, b = rule.grades[2 * onward], rule.grades[2 * onward + 1]
            for k in range(-1, stencil.move.size):
                # What the far end alone allows rules most moves out, unsampled.
                if k < 0:
                    if leaving[node] < 0:
                        continue
                    there, to_come = 2 * cells + onward, 0.0
                    total = begun + leave.cost[leaving[node]]
                    ok, l2, h2 = over_link(leave, leaving[node], lo, hi, a, b)
                else:
                    other = node + stencil.move[k]
                    to_come = ahead[other]
                    if to_come == np.inf:
                        continue
                    there = 2 * other + onward
                    total = begun + price_of(field, stencil, node, k)
                    l2 = max(field.bottom[other], lo + a * stencil.run[k])
                    h2 = min(field.top[other], hi + b * stencil.run[k])
                    ok = l2 <= h2 + TOLERANCE and leads_on(reach, other, l2, h2)
                if not ok or (
                    total >= hint_cost[there] and l2 >= hint_low[there] and h2 <= hint_high[there]
                ):
                    continue
                if _dominated(latest[there], earlier, low, high, l2, h2, single):
                    continue
                if k >= 0:
                    ok, l2, h2 = over_edge(field, stencil, node, k, lo, hi, a, b)
                    ok = ok and leads_on(reach, other, l2, h2)
                    if not ok or _dominated(latest[there], earlier, low, high, l2, h2, single):
                        continue
                if total < hint_cost[there]:
                    hint_cost[there], hint_low[there], hint_high[there] = total, l2, h2
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
    single: bool,
) -> bool:
    """Whether a settled label of the same cell and way allows all that this one does.

    `single`: one bound alone counts, so that of the settled labels the latest allows most.
    """
    while label >= 0:
        if low[label] <= lo + TOLERANCE and high[label] >= hi - TOLERANCE:
            return True
        if single:
            return False
        label = earlier[label]
    return False


@njit(cache=True)
def _trace(label: int, parent: IntArray, state: IntArray) -> IntArray:
    length, k = 0, parent[label]
    while k >= 0:
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
