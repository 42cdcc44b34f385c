"""Compiled: the least-cost line that rises all the way to an end, from every cell at once.

A line that rises towards the end sinks going back from it, so cells are settled from the end's
level downwards. Every move changes the level by at least the least grade times the shortest move:
in bins of that height no cell leads to another of its own bin, and the order within a bin does not
matter (`planner.routing.queue_kernel`). A cell's bin is known before it is reached, so it is
entered once, when a line first comes there, and what no line reaches is never looked at.

Between two centres the ground is bilinear: along a move it is a parabola from one line of centres
to the next, and the grades of its equal pieces rise or fall steadily. The first and the last piece
of each parabola are the gentlest and the steepest; they stand for all pieces of a quarter cell.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.cost_kernel import AT_END, LAST, MARGIN, ByteArray, Crossing, IndexArray
from planner.routing.edge_kernel import TOLERANCE, Field, FloatArray, IntArray, Links, across
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


class Pieces(NamedTuple):
    """The pieces of each move that are tested: the first and last of each parabola.

    Attributes
    ----------
    begin : (K + 1,)
        Where each move's pieces begin; a move along a line of centres has none but itself.
    length : (P,)
        Horizontal [m].
    corner, weight : (P, 4)
        Offsets from the cell left, and weights, whose sum over the levels is the rise.
    """

    begin: IntArray
    length: FloatArray
    corner: IndexArray
    weight: FloatArray


class Climb(NamedTuple):
    """What is asked of a line.

    Attributes
    ----------
    upward : float
        1 if the line rises to the end, -1 if it falls to it: levels are multiplied by this.
    lowest, highest : float
        Grades of the rise, or fall, more than 0; `highest` may be infinite.
    side_slope : float
        Steepest ground across a move; infinite: no limit.
    """

    upward: float
    lowest: float
    highest: float
    side_slope: float


@njit(cache=True)
def climb_to(
    field: Field,
    stencil: Stencil,
    crossing: Crossing,
    pieces: Pieces,
    climb: Climb,
    node: IntArray,
    price: FloatArray,
    cost: FloatArray,
    onward: ByteArray,
) -> None:
    """Spread the cost of lines that rise, or fall, to an end over all cells they come from.

    Parameters
    ----------
    node, price : (E,)
        The cells from which a straight link comes to the end, each once, and what it costs.
    cost, onward : (cells,), zeros
        Cost to the end [m of pipe], and the move that leads on to it plus one, or `LAST`.
    """
    peak = -np.inf
    for e in range(node.size):
        peak = max(peak, climb.upward * field.top[node[e]])
    rise = climb.lowest * np.min(stencil.run) * (1.0 - MARGIN) - TOLERANCE
    queue = with_room(make_queue(), node.size)
    for e in range(node.size):
        cost[node[e]], onward[node[e]] = max(price[e], AT_END), LAST
        push(queue, int((peak - climb.upward * field.top[node[e]]) * (1.0 / rise)), node[e])
    done = False
    while not done:
        queue = with_room(queue, 2 * stencil.move.size)
        done = _climb(
            queue, field, stencil, crossing, pieces, climb, peak, 1.0 / rise, cost, onward
        )


# One loop, kept in one piece: a call would hand over some twenty arrays for every cell.
@njit(cache=True)
def _climb(  # noqa: C901, PLR0912, PLR0913, PLR0915, PLR0917
    queue: Queue,
    field: Field,
    stencil: Stencil,
    crossing: Crossing,
    pieces: Pieces,
    climb: Climb,
    peak: float,
    per_bin: float,
    cost: FloatArray,
    onward: ByteArray,
) -> bool:
    """Go on until the end (True) or until room is short (False)."""
    top, factor, move, run = field.top, field.factor, crossing.move, stencil.run
    run2, end_share, pair_from = run**2, crossing.end_share, crossing.pair_from
    pair_share, near, far = crossing.pair_share, crossing.near, crossing.far
    columns = crossing.columns
    first, after, entered = queue.first, queue.onward, queue.node
    upward, side_slope = climb.upward, climb.side_slope
    least, most = climb.lowest * run - TOLERANCE, climb.highest * run + TOLERANCE
    gentlest = climb.lowest * pieces.length - TOLERANCE
    steepest = climb.highest * pieces.length + TOLERANCE
    begin, corner, weight = pieces.begin, pieces.corner, pieces.weight
    while advance(queue):
        slot = queue.state[OPEN] & (BASE - 1)
        while queue.state[LEFT] >= move.size:
            index = pop(queue)
            if index < 0:
                break
            node, soon = np.uint64(index), entered[after[first[slot]]]
            fetch_around(cost, soon, columns)
            fetch_around(top, soon, columns)
            fetch_around(factor, soon, columns)
            price, level, own = cost[node], top[node], factor[node]
            for k in range(move.size):
                other = node - move[k]
                rise = upward * (level - top[other])
                if not least[k] <= rise <= most[k]:
                    continue  # also where the other is closed
                known, length = cost[other], np.sqrt(run2[k] + rise * rise)
                if known != 0.0 and known <= price + length:
                    continue
                mean = end_share[k] * (own + factor[other])
                for p in range(pair_from[k], pair_from[k + 1]):
                    mean += pair_share[p] * (factor[other + near[p]] + factor[other + far[p]])
                total = price + mean * length
                if known != 0.0 and known <= total:
                    continue
                legal = True
                for p in range(begin[k], begin[k + 1]):
                    rise = weight[p, 0] * top[other + corner[p, 0]]
                    for c in range(1, 4):
                        rise += weight[p, c] * top[other + corner[p, c]]
                    if not gentlest[p] <= upward * rise <= steepest[p]:
                        legal = False  # also where a corner is closed
                        break
                if not legal or (
                    side_slope < np.inf and not across(field, stencil, int(other), k) <= side_slope
                ):
                    continue
                cost[other], onward[other] = total, np.uint64(k + 1)
                if known == 0.0:
                    push(queue, int((peak - upward * top[other]) * per_bin), int(other))
        if queue.state[LEFT] < move.size:
            return False
    return True


@njit(cache=True)
def legal_links(climb: Climb, links: Links, level: FloatArray) -> NDArray[np.bool_]:
    """Which links keep the rule, each set out on from a level of its own (E,)."""
    legal = np.ones(links.node.size, np.bool_)
    for e in range(links.node.size):
        before = level[e]
        for s in range(links.sample_from[e], links.sample_from[e + 1]):
            rise, step = climb.upward * (links.top[s] - before), links.step[s]
            least, most = climb.lowest * step - TOLERANCE, climb.highest * step + TOLERANCE
            # No grade is asked of a link without length, though it may be infinite.
            if not (least <= rise <= most if step > 0.0 else abs(rise) <= TOLERANCE):
                legal[e] = False
            before = links.top[s]
        if not links.across[e] <= climb.side_slope:
            legal[e] = False
    return legal
