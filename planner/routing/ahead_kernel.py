"""Compiled: sweeps from the end of a line, which tell the search what is still to come.

`highest_levels` says how high a pipe may lie at each cell if it is to reach the end under a rule
that makes it rise all the way: going back from the end, the level sinks by the least grade and is
cut off by the ground, so one level a cell is enough, the highest first. A label above it is lost,
and where the start itself lies too high there is no way at all: without this the search would
wander through every label of all the land before it knew. Upside down the same sweep serves lines
that fall, and with the start for an end it says which cells can be reached.
"""

from heapq import heappop, heappush

import numpy as np
from numba import njit

from planner.routing.edge_kernel import (
    TOLERANCE,
    Field,
    FloatArray,
    Links,
)
from planner.routing.stencil import Stencil


@njit(cache=True)
def highest_levels(
    field: Field, stencil: Stencil, leave: Links, grade: float, floor: float
) -> FloatArray:
    """Highest level at each cell from which a pipe that rises by `grade` reaches the end.

    Parameters
    ----------
    leave : Links
        From cells to the end.
    grade : float
        Least grade, 0 or more.
    floor : float
        Levels under this one don't count [m].

    Returns
    -------
    (cells,) ndarray
        Levels [m]; -inf where the end can't be reached, any level under `floor` where it can be
        reached only from there.
    """
    most = np.full(field.top.size, -np.inf)
    heap = [(0.0, -1)]
    heap.pop()
    for e in range(leave.node.size):
        level = _back_over_link(leave, e, grade)
        node = leave.node[e]
        level = min(level, field.top[node])
        if level >= field.bottom[node] - TOLERANCE and level > most[node]:
            most[node] = level
            heappush(heap, (-level, node))
    while len(heap) > 0:
        lowered, node = heappop(heap)
        if -lowered < most[node]:
            continue
        if -lowered < floor:
            break
        for k in range(stencil.move.size):
            other = node - stencil.move[k]
            # Also False where the cell is closed.
            if not min(field.top[other], -lowered - grade * stencil.run[k]) > most[other]:
                continue
            level = _back_over_edge(field, stencil, other, k, grade, -lowered)
            if level > most[other]:
                most[other] = level
                heappush(heap, (-level, other))
    return most


@njit(cache=True)
def _back_over_link(links: Links, e: int, grade: float) -> float:
    """Highest level at the cell of a link to the end; -inf where no pipe passes."""
    level = np.inf
    for s in range(links.sample_from[e + 1] - 1, links.sample_from[e] - 1, -1):
        level = min(level, links.top[s])
        if not level >= links.bottom[s] - TOLERANCE:
            return -np.inf
        level -= grade * links.step[s]
    return level


@njit(cache=True)
def _back_over_edge(
    field: Field, stencil: Stencil, node: int, k: int, grade: float, level: float
) -> float:
    """Highest level at `node` from which move k comes to no more than `level`; else -inf."""
    for s in range(stencil.sample_from[k + 1] - 1, stencil.sample_from[k] - 1, -1):
        top, bottom = 0.0, 0.0
        for c in range(stencil.corner_from[s], stencil.corner_from[s + 1]):
            at, weight = node + stencil.corner[c], stencil.weight[c]
            top += weight * field.top[at]
            bottom += weight * field.bottom[at]
        if not bottom <= top:
            return -np.inf
        level = min(level, top)
        if not level >= bottom - TOLERANCE:
            return -np.inf
        level -= grade * stencil.step[s]
    level = min(level, field.top[node])
    return level if level >= field.bottom[node] - TOLERANCE else -np.inf
