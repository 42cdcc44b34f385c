"""Compiled: the least cost from every cell to an end where no grade is asked for.

Cells are settled in buckets of cost no wider than the cheapest move, in any order within a bucket
(`planner.routing.queue_kernel` says why that is exact). A factor is 1 or more, so the shortest move
is the width, whatever the factors are. A move costs the mean factor of the cells it crosses times
its length in three dimensions, the same in both directions; over 8 neighbours that is the mean of
two cells, as in other geometric least-cost searches.

Nothing of the size of the grid is written but where the search comes: the arrays arrive as zeros,
and zero says "never reached". Flat indices are unsigned, offsets too (they wrap around), which
spares the test for negative ones.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import Field, FloatArray, IntArray, Links, across
from planner.routing.fetch_kernel import fetch_around
from planner.routing.queue_kernel import (
    BASE,
    LEFT,
    OPEN,
    Queue,
    advance,
    make_queue,
    pop,
    push,
    with_room,
)
from planner.routing.stencil import Stencil

LAST = 255  # in place of a move: the link to the end
AT_END = 1e-300  # m, cost of a cell in whose centre the end stands: next to nothing, yet reached
MARGIN = 1e-6  # of the width, against the rounding of keys
ByteArray = NDArray[np.uint8]
IndexArray = NDArray[np.uint64]


class Crossing(NamedTuple):
    """Moves as `spread` needs them: what is crossed between the ends, and what must be open.

    Attributes
    ----------
    move : (K,)
        Offset of the neighbour's flat index; those that cross no third cell come first.
    plain : int
        Moves that cross no cell but the two they join.
    end_share : (K,)
        Share of the length in each of the two.
    pair_from, pair_share, near, far : (K + 1,), (P,), (P,), (P,)
        The cells between, two by two as a move crosses them alike from both ends; offsets from
        the cell it leaves.
    beyond : (B,)
        Offsets of all further cells that must be open for one move or another.
    corner_from, corner : (K + 1,), (C,)
        The same for each move, the cells it joins left out.
    columns : int
        Of the grid.
    """

    move: IndexArray
    plain: int
    end_share: FloatArray
    pair_from: IntArray
    pair_share: FloatArray
    near: IndexArray
    far: IndexArray
    beyond: IndexArray
    corner_from: IntArray
    corner: IndexArray
    columns: int


@njit(cache=True)
def spread(
    field: Field,
    stencil: Stencil,
    crossing: Crossing,
    side_slope: float,
    root: Links,
    stop: Links,
    cost: FloatArray,
    onward: ByteArray,
) -> float:
    """Spread the cost out from an end until all is reached, or all that another end links to.

    Parameters
    ----------
    side_slope : float
        Steepest ground across a move; infinite: no limit.
    root, stop : Links
        Of the end, and of the other end; with no links in `stop` all is reached.
    cost, onward : (cells,), zeros
        Cost to the end [m of pipe], and the move that leads on to it plus one, or `LAST`.

    Returns
    -------
    float
        Costs up to this are final, all others at least as much; infinite when all are final.
    """
    per_width = 1.0 / (np.min(stencil.run) * (1.0 - MARGIN))
    queue = make_queue()
    for e in range(root.node.size):
        queue = with_room(queue, 1)
        node, price = root.node[e], max(root.cost[e], AT_END)
        if (cost[node] == 0.0 or price < cost[node]) and root.across[e] <= side_slope:
            cost[node], onward[node] = price, LAST
            push(queue, int(price * per_width), node)
    final = -1.0
    while final < 0.0:
        queue = with_room(queue, 2 * stencil.move.size)
        final = _spread(queue, field, stencil, crossing, per_width, side_slope, stop, cost, onward)
    return final


# One loop, kept in one piece: a call would hand over some fifteen arrays for every cell.
@njit(cache=True)
def _spread(  # noqa: C901, PLR0912, PLR0915
    queue: Queue,
    field: Field,
    stencil: Stencil,
    crossing: Crossing,
    per_width: float,
    side_slope: float,
    stop: Links,
    cost: FloatArray,
    onward: ByteArray,
) -> float:
    """Go on until the end (the cost up to which all is final) or until room is short (-1).

    Which moves improve a cell can't be foreseen, and a wrong guess costs the processor more than
    the sum: short moves are all summed up without a branch, long ones where they still may.
    A closed cell makes the sum NaN, which is less than nothing.
    """
    top, factor = field.top, field.factor
    move, run, run2, plain = crossing.move, stencil.run, stencil.run**2, crossing.plain
    end_share, pair_from, pair_share = crossing.end_share, crossing.pair_from, crossing.pair_share
    near, far, beyond = crossing.near, crossing.far, crossing.beyond
    columns = crossing.columns
    first, after, entered = queue.first, queue.onward, queue.node
    better, totals = np.empty(move.size + 1, np.uint64), np.empty(move.size + 1)
    while advance(queue):
        opened = queue.state[OPEN]
        slot = opened & (BASE - 1)
        if stop.node.size > 0 and opened / per_width >= _known(stop, side_slope, cost):
            return float(opened / per_width)
        while queue.state[LEFT] >= move.size:
            index = pop(queue)
            if index < 0:
                break
            node, soon = np.uint64(index), entered[after[first[slot]]]
            fetch_around(cost, soon, columns)
            fetch_around(top, soon, columns)
            fetch_around(factor, soon, columns)
            price = cost[node]
            if int(price * per_width) != opened:
                continue  # settled before, at less
            level, own, count, closed = top[node], factor[node], 0, False
            for k in range(plain):
                other = node - move[k]
                rise = top[other] - level
                mean = end_share[k] * (own + factor[other])
                total = price + mean * np.sqrt(run2[k] + rise * rise)
                known = cost[other]
                better[count], totals[count] = k, total
                count += total < (known if known != 0.0 else np.inf)
                closed |= np.isnan(total)
            for k in range(plain, move.size):
                other = node - move[k]
                known = cost[other]
                if known != 0.0 and known <= price + run[k] * (1.0 + end_share[k] * (own - 1.0)):
                    continue
                rise = top[other] - level
                mean = end_share[k] * (own + factor[other])
                for p in range(pair_from[k], pair_from[k + 1]):
                    mean += pair_share[p] * (factor[other + near[p]] + factor[other + far[p]])
                total = price + mean * np.sqrt(run2[k] + rise * rise)
                better[count], totals[count] = k, total
                count += total < (known if known != 0.0 else np.inf)
            if count == 0:
                continue
            doubtful = closed or side_slope < np.inf or not _all_open(top, beyond, node)
            for i in range(count):
                k, total = better[i], totals[i]
                other = node - move[k]
                if doubtful and not _passable(field, stencil, crossing, side_slope, other, k):
                    continue
                known = cost[other]
                cost[other], onward[other] = total, k + np.uint64(1)
                key = int(total * per_width)
                if known == 0.0 or int(known * per_width) != key:
                    push(queue, key, int(other))
        if queue.state[LEFT] < move.size:
            return -1.0
    return np.inf


@njit(cache=True)
def _known(stop: Links, side_slope: float, cost: FloatArray) -> float:
    """Least cost found so far from the other end; infinite while it isn't reached."""
    least = np.inf
    for e in range(stop.node.size):
        if cost[stop.node[e]] != 0.0 and stop.across[e] <= side_slope:
            least = min(least, cost[stop.node[e]] + stop.cost[e])
    return least


@njit(cache=True)
def _all_open(top: FloatArray, cells: IndexArray, node: np.uint64) -> bool:
    closed = 0
    for c in range(cells.size):
        level = top[node + cells[c]]
        closed |= level != level  # noqa: PLR0124 - NaN
    return closed == 0


@njit(cache=True)
def _passable(
    field: Field,
    stencil: Stencil,
    crossing: Crossing,
    side_slope: float,
    node: np.uint64,
    k: np.uint64,
) -> bool:
    """Whether all ground of move k from a cell is open, and not too steep across."""
    for c in range(crossing.corner_from[k], crossing.corner_from[k + 1]):
        if np.isnan(field.top[node + crossing.corner[c]]):
            return False
    if side_slope == np.inf:
        return True
    steepest: float = across(field, stencil, int(node), int(k))
    return steepest <= side_slope


@njit(cache=True)
def trace(stencil: Stencil, onward: ByteArray, node: int) -> IntArray:
    """Cells from one that is reached to the last before the end."""
    count, here = 1, node
    while onward[here] != LAST:
        here += stencil.move[onward[here] - 1]
        count += 1
    nodes = np.empty(count, np.int64)
    nodes[0] = node
    for i in range(1, count):
        nodes[i] = nodes[i - 1] + stencil.move[onward[nodes[i - 1]] - 1]
    return nodes
