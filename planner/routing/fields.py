"""What a field over the cells is asked: the line from a place to the end it is rooted at."""

import numpy as np

from planner.routing.cost_kernel import ByteArray, trace
from planner.routing.edge_kernel import Links
from planner.routing.grid import Grid
from planner.routing.stencil import Neighbours
from planner.routing.walk import Place, Walk
from planner.terrain.value import BoolArray, FloatArray

SAME = 1e-9  # m; vertices closer than this are one


def walk_over(
    grid: Grid,
    cost: FloatArray,
    onward: ByteArray,
    entry: Links,
    allowed: BoolArray,
    ends: tuple[Place, Place],
) -> Walk | None:
    """The cheapest line from a place over its links and the moves of a field to the field's end.

    Parameters
    ----------
    cost, onward : (cells,) ndarray
        Cost to the end, and the move that leads on to it; zero: never reached.
    entry : Links
        Of the place.
    allowed : (E,) ndarray
        Which of them may be taken.
    ends : ((float, float), (float, float))
        The place and the field's end.

    Returns
    -------
    Walk or None
        None where no link leads to the end.
    """
    direct = entry.node == grid.cells
    ahead = np.zeros(entry.node.size)
    ahead[~direct] = cost[entry.node[~direct]]
    total = np.where(allowed & (direct | (ahead > 0.0)), entry.cost + ahead, np.inf)
    best = int(np.argmin(total)) if total.size else -1
    if best < 0 or total[best] == np.inf:
        return None
    nodes = np.empty(0, np.int64)
    if not direct[best]:
        nodes = trace(grid.stencil, onward, int(entry.node[best]))
    xy = np.vstack([ends[0], np.column_stack(grid.centre(nodes)), ends[1]])
    inner = np.ones(len(xy), dtype=np.bool_)
    # Only the first and the last cell can coincide with an end.
    inner[1:2] = np.hypot(*(xy[1] - xy[0])) > SAME
    inner[-2:-1] &= np.hypot(*(xy[-1] - xy[-2])) > SAME
    inner[0] = inner[-1] = True
    return Walk(xy[inner], float(total[best]))


def nearest_reached(grid: Grid, onward: ByteArray, place: Place) -> Place | None:
    """The cell reached that lies nearest to a place; None if none is."""
    x, y = grid.centre(np.flatnonzero(onward))
    if x.size == 0:
        return None
    best = int(np.argmin(np.hypot(x - place[0], y - place[1])))
    return float(x[best]), float(y[best])


def neighbours_of(grid: Grid) -> Neighbours:
    """How many neighbours a cell has."""
    count: Neighbours = grid.stencil.move.size  # type: ignore[assignment] # one of them
    return count
