"""Compiled: what the labels of a whole field (`planner.routing.band_kernel`) say of each place."""

import numpy as np
from numba import njit

from planner.routing.band_kernel import Cells, Rule
from planner.routing.edge_kernel import Field, FloatArray, Links
from planner.routing.label_kernel import Labels, piece_of
from planner.routing.piece_kernel import CLIMBS, SINKS, Digging, Piece, Strip, pass_over


@njit(cache=True)
def least_costs(cells: Cells, labels: Labels, closing: float, cost: FloatArray) -> None:
    """Cost of the cheapest pipe to each cell, where to come climbing has a price of its own.

    Parameters
    ----------
    cost : (cells,), to be filled
        Infinite where no pipe comes.
    """
    for node in range(cost.size):
        cost[node] = np.inf
        for mode in range(2):
            label, least = cells.settled[2 * node + mode], np.inf
            while label != 0:  # the first one settled is the cheapest, and the last of its list
                least = labels.cost[label]
                label = labels.next[label]
            cost[node] = min(cost[node], least + (closing if mode == CLIMBS else 0.0))


@njit(cache=True)
def come_to(
    field: Field, rule: Rule, leave: Links, cells: Cells, labels: Labels, digging: Digging
) -> tuple[float, int, Piece]:
    """The cheapest pipe over the links from cells to a place.

    Returns
    -------
    (cost, label, piece)
        The label it comes from and how it stands at the place; infinite cost where none comes.
    """
    best, origin, found = np.inf, 0, Piece(SINKS, np.nan, 0.0, 0)
    way = Strip(leave.step, leave.top, leave.bottom)
    for e in range(leave.node.size):
        node = leave.node[e]
        if not leave.across[e] <= rule.side_slope or node == field.top.size:
            continue
        begin, end = leave.sample_from[e], leave.sample_from[e + 1]
        price = rule.dig * leave.factor[e]
        for state in range(2 * node, 2 * node + 2):
            label = cells.settled[state]
            while label != 0:
                for onward in range(2 if rule.vented else 1):
                    piece = piece_of(labels, label)
                    if onward != piece.mode:
                        turned = labels.parent[label] < 0
                        if onward == SINKS or turned:
                            continue  # the first has a label of its own, the other no length
                        piece = Piece(CLIMBS, field.bottom[node], 0.0, 0)
                    made = digging.made[0]
                    there, more = pass_over(
                        digging, way, begin, end, field.top[node], piece, rule.grade, price
                    )
                    digging.made[0] = made
                    total = labels.cost[label] + leave.cost[e] + more
                    if onward == CLIMBS:
                        total += rule.closing
                    if there.level == there.level and total < best:
                        best, origin, found = total, label, there
                label = labels.next[label]
    return best, origin, found
