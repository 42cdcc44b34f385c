"""Compiled: from which levels a pipe that sinks all the way still comes to the far end.

Walked from the far end it climbs, and of its levels in a cell the lowest allows most
(`planner.routing.piece_kernel`). Levels never fall on the way, so cells are settled in the order
of their lowest level, each once (Dijkstra, Numerische Mathematik 1, 1959). A label below that level
is lost: without this a search would wander through every label of all the land before it knew.
"""

import numpy as np

from planner.routing.edge_kernel import TOLERANCE, Field, FloatArray, Links
from planner.routing.label_kernel import (
    SIZE,
    Labels,
    Queue,
    fill,
    free_label,
    from_heap,
    new_label,
    open_next,
    put,
    to_heap,
)
from planner.routing.lean import lean
from planner.routing.piece_kernel import CLIMBS, Piece, Strip, climb_over
from planner.routing.sample_kernel import sample_move
from planner.routing.stencil import Stencil


@lean
def lowest_levels(
    field: Field,
    stencil: Stencil,
    grade: float,
    entry: Links,
    most: float,
    below: FloatArray,
    labels: Labels,
    queue: Queue,
    strip: Strip,
) -> bool:
    """Lowest level at each cell from which the far end is reached.

    Parameters
    ----------
    grade : float
        Least grade, 0 or more.
    entry : Links
        From the far end to cells.
    most : float
        Levels above this one are of no use [m].
    below : (cells,), zeros, to be filled
        How far below the top the lowest level is, plus one; 0 where there is none.

    Returns
    -------
    bool
        False where there was not room for the labels.
    """
    way = Strip(entry.step, entry.top, entry.bottom)
    queue.base[0] = np.inf
    for e in range(entry.node.size):
        queue.base[0] = min(queue.base[0], entry.bottom[entry.sample_from[e]])
    for e in range(entry.node.size):
        begin, end = entry.sample_from[e], entry.sample_from[e + 1]
        level = climb_over(way, begin, end, grade, -np.inf)
        if entry.node[e] < below.size and not _wait(
            field, entry.node[e], level, most, below, labels, queue
        ):
            return False
    while True:
        label = _take(queue, labels)
        if label == 0:
            return True
        node, level = labels.state[label] >> 1, labels.level[label]
        free_label(labels, label)
        if field.top[node] - level + 1.0 < below[node]:
            continue  # it came lower since
        for k in range(stencil.move.size):
            other = node + stencil.move[k]
            best = max(field.bottom[other], level + grade * stencil.run[k])
            if not field.top[other] - best + 1.0 > max(below[other], 1.0 - TOLERANCE):
                continue
            samples = sample_move(field, stencil, node, k, strip)
            best = climb_over(strip, 0, samples, grade, level)
            if not _wait(field, other, best, most, below, labels, queue):
                return False


@lean
def _wait(
    field: Field,
    node: int,
    level: float,
    most: float,
    below: FloatArray,
    labels: Labels,
    queue: Queue,
) -> bool:
    """Let a cell wait at a level, NaN for none, if it is its lowest so far."""
    if not level <= most or not field.top[node] - level + 1.0 > below[node]:
        return True
    below[node] = field.top[node] - level + 1.0
    label = new_label(labels)
    if label == 0:
        return False
    fill(labels, label, level, node, Piece(CLIMBS, level, 0.0, 0), 0)
    put(queue, labels, label, level)
    return True


@lean
def _take(queue: Queue, labels: Labels) -> int:
    """The label of the lowest level; 0 when none waits."""
    while queue.mark[SIZE] == 0:
        label = open_next(queue)
        if label == 0:
            return 0
        while label != 0:
            following = labels.next[label]
            to_heap(queue, label, labels.cost[label])
            label = following
    return from_heap(queue)
