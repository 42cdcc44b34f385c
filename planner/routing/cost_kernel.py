"""Compiled: the least cost from every cell to an end where no grade is asked for.

Cells are settled in buckets of cost no wider than the cheapest move, in any order within a bucket
(`planner.routing.queue_kernel` says why that is exact). A factor is 1 or more, so the shortest move
is the width, whatever the factors are.

Nothing of the size of the grid is written but where the search comes: the arrays arrive as zeros,
and zero says "never reached".
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import Field, FloatArray, IntArray, Links, across
from planner.routing.queue_kernel import OPEN, advance, make_queue, pop, push, with_room
from planner.routing.stencil import Stencil

LAST = 255  # in place of a move: the link to the end
AT_END = 1e-300  # m, cost of a cell in whose centre the end stands: next to nothing, yet reached
MARGIN = 1e-6  # of the width, against the rounding of keys
ByteArray = NDArray[np.uint8]


class Around(NamedTuple):
    """The cells between which a move's ground is interpolated, all of which must be open.

    Attributes
    ----------
    everywhere : (A,)
        Offsets of those of all moves together.
    begin, corner : (K + 1,), (C,)
        Where each move's offsets begin, counted from the cell it leaves; ends left out.
    """

    everywhere: IntArray
    begin: IntArray
    corner: IntArray


@njit(cache=True)
def spread(
    field: Field,
    stencil: Stencil,
    around: Around,
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
        Steepest ground across a move; infinite, or the field without slopes: no limit.
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
    while advance(queue):
        opened = queue.state[OPEN]
        if opened / per_width >= _known(stop, cost):
            return float(opened / per_width)
        node = pop(queue)
        while node >= 0:
            if int(cost[node] * per_width) == opened:  # else settled before, at less
                queue = with_room(queue, stencil.move.size)
                open_round = _all_open(field.top, around.everywhere, node)
                price = cost[node]
                for k in range(stencil.move.size):
                    other = node - stencil.move[k]
                    known = cost[other]
                    if known != 0.0 and known <= price + stencil.run[k]:
                        continue
                    total = price + step_price(field, stencil, other, k)
                    # A closed cell makes the total NaN.
                    if not (total < known or (known == 0.0 and total > 0.0)):
                        continue
                    if not open_round and not _open_between(field.top, around, other, k):
                        continue
                    if side_slope < np.inf and not across(field, stencil, other, k) <= side_slope:
                        continue
                    cost[other], onward[other] = total, k + 1
                    key = int(total * per_width)
                    if known == 0.0 or int(known * per_width) != key:
                        push(queue, key, other)
            node = pop(queue)
    return np.inf


@njit(cache=True)
def step_price(field: Field, stencil: Stencil, node: int, k: int) -> float:
    """Cost of move k from a cell: mean factor of the cells crossed times the length in 3-D."""
    factor = 0.0
    for p in range(stencil.price_from[k], stencil.price_from[k + 1]):
        factor += stencil.price_share[p] * field.factor[node + stencil.price_cell[p]]
    rise, run = field.top[node + stencil.move[k]] - field.top[node], stencil.run[k]
    return float(factor * np.sqrt(run * run + rise * rise))


@njit(cache=True)
def _known(stop: Links, cost: FloatArray) -> float:
    """Least cost found so far from the other end; infinite while it isn't reached."""
    least = np.inf
    for e in range(stop.node.size):
        if cost[stop.node[e]] != 0.0:
            least = min(least, cost[stop.node[e]] + stop.cost[e])
    return least


@njit(cache=True)
def _all_open(top: FloatArray, offsets: IntArray, node: int) -> bool:
    closed = 0
    for c in range(offsets.size):
        level = top[node + offsets[c]]
        closed |= level != level  # noqa: PLR0124 - NaN
    return closed == 0


@njit(cache=True)
def _open_between(top: FloatArray, around: Around, node: int, k: int) -> bool:
    for c in range(around.begin[k], around.begin[k + 1]):
        if np.isnan(top[node + around.corner[c]]):
            return False
    return True


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
