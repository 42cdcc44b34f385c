"""Compiled: the band along a move from cell to cell, laid out for the pieces that pass it."""

from planner.routing.edge_kernel import Field
from planner.routing.lean import lean
from planner.routing.piece_kernel import Strip
from planner.routing.stencil import Stencil


@lean
def sample_move(field: Field, stencil: Stencil, node: int, k: int, strip: Strip) -> int:
    """Lay out the band along move k from a cell; how many samples that are."""
    begin, end = stencil.sample_from[k], stencil.sample_from[k + 1]
    for s in range(begin, end):
        top, bottom = 0.0, 0.0
        for c in range(stencil.corner_from[s], stencil.corner_from[s + 1]):
            at, weight = node + stencil.corner[c], stencil.weight[c]
            top += weight * field.top[at]
            bottom += weight * field.bottom[at]
        strip.step[s - begin] = stencil.step[s]
        strip.top[s - begin], strip.bottom[s - begin] = top, bottom
    return int(end - begin)
