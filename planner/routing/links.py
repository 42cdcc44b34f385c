"""Links: how an end of a line, which may lie anywhere, joins the cells around it."""

from typing import Literal

import numpy as np

from planner.routing.edge_kernel import Links
from planner.routing.grid import Grid
from planner.routing.links_kernel import link_all
from planner.routing.stencil import QUARTER
from planner.terrain.sample import grid_position

Place = tuple[float, float]


def links(grid: Grid, place: Place, direction: Literal["from", "to"], other: Place | None) -> Links:
    """Edges between an end and the cells around it, and the other end where that is near.

    An edge is straight, to a cell within the stencil's reach, and tested every quarter cell; those
    over closed or void ground are left out. An edge of no length has one sample.

    Parameters
    ----------
    place : (float, float)
        x, y of the end [m].
    direction : {"from", "to"}
        Whether the edges leave the end or come to it.
    other : (float, float) or None
        The other end, which is linked directly if it lies within the stencil's reach; its node is
        the number of cells.
    """
    terrain, reach = grid.ground.terrain, grid.pad
    (rows, cols), cell = terrain.shape, terrain.cell
    here = np.array(grid_position(terrain, *place))
    r0, c0 = np.floor(here + 0.5).astype(np.int64)
    row, col = np.mgrid[r0 - reach : r0 + reach + 1, c0 - reach : c0 + reach + 1].reshape(2, -1)
    inside = (row >= 0) & (row < rows) & (col >= 0) & (col < cols)
    row, col = row[inside], col[inside]
    node = grid.node(row, col)
    there = np.column_stack([row, col]).astype(np.float64)
    if other is not None and np.hypot(*np.subtract(other, place)) <= reach * max(cell):
        node = np.append(node, grid.cells)
        there = np.vstack([there, grid_position(terrain, *other)])
    ends = np.tile(here, (node.size, 1)), there
    start, stop = ends if direction == "from" else ends[::-1]
    sloped, part = bool(np.isfinite(grid.ground.side_slope)), QUARTER * min(cell)
    made: Links = link_all(grid.ground.soil, cell, sloped, part, start, stop, node)
    return made
