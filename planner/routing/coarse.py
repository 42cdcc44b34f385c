"""`Coarse`: the ground in blocks of cells, to see where a line is likely to run."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from planner.routing.coarse_kernel import block_means, crests, walled_blocks
from planner.routing.grid import Grid, make_grid
from planner.routing.ground import Ground, make_ground
from planner.routing.plain import cost_field
from planner.routing.walk import Place, Walk
from planner.terrain.sample import cell_centre, cell_of
from planner.terrain.value import FloatArray, Terrain

SIDE = 8  # cells; blocks of 16 hide more of the ground, of 4 take four times as long
WALLED = 1000.0  # times the price of open ground: crossed only where nothing else leads on
EACH = 4  # of so many rows and columns of cells one is followed to count high points
REMAIN = 0.25  # of the high points of straight lines on a line that avoids them, about
DETOUR = 1e-3  # m of cost a metre; of lines that cost the same the straightest counts


class Passing(NamedTuple):
    """Lines between two places by way of each block.

    Attributes
    ----------
    cost : (rows, cols) ndarray
        Of the cheapest line by way of each block [m of pipe]; infinite where there is none.
    length : float
        Of the cheapest line of all, in cells of the ground.
    """

    cost: FloatArray
    length: float


@dataclass(frozen=True, eq=False, slots=True)
class Coarse:
    """The ground in blocks; it serves all lines over the same ground at the same price of vents.

    Attributes
    ----------
    side : int
        Of a block, in cells.
    grid : Grid
        One cell a block: mean level and mean price, walls and uneven land dear
        (`planner.routing.coarse_kernel`).
    """

    side: int
    grid: Grid

    def passing(self, here: Place, there: Place) -> Passing | None:
        """Lines between two places by way of each block; None where they are cut off."""
        terrain = self.grid.ground.terrain
        ends = [self._middle(place) for place in (here, there)]
        if ends[0] is None or ends[1] is None:
            return None
        first, last = (cost_field(self.grid, end) for end in ends if end is not None)
        line = last.route_from(ends[0])
        if not isinstance(line, Walk):
            return None
        rows, cols = np.ogrid[: terrain.shape[0], : terrain.shape[1]]
        x, y = cell_centre(terrain, rows, cols)
        cost = np.zeros(terrain.shape)
        for field, end in ((first, here), (last, there)):
            reached = field.cost[self.grid.node(rows, cols)]
            cost += np.where(reached > 0.0, reached, np.inf)
            cost += DETOUR * np.hypot(x - end[0], y - end[1])
        length = float(np.sum(np.hypot(*np.diff(line.xy, axis=0).T)))
        return Passing(cost, length / min(terrain.cell) * self.side)

    def _middle(self, place: Place) -> Place | None:
        """The middle of a place's block, where closed blocks beside it do not count."""
        block = cell_of(self.grid.ground.terrain, *place)
        if block is None:
            return None
        x, y = cell_centre(self.grid.ground.terrain, *block)
        return float(x), float(y)


def make_coarse(ground: Ground, side: int = SIDE, *, vent_cost: float = 0.0) -> Coarse:
    """Blocks of `side` x `side` cells of the ground, from its north-west corner on.

    Parameters
    ----------
    vent_cost : float
        Of a high point [m of pipe]: land where a straight line has many is dear.
    """
    level, price, count = block_means(ground.soil, side)
    walled = walled_blocks(ground.soil, side, count)
    width, height = ground.terrain.cell
    if vent_cost > 0.0:
        run = np.maximum(count, 1) * (width + height) / EACH
        price += REMAIN * vent_cost * crests(ground.soil, side, EACH) / run
    price = np.where(count > 0, np.where(walled, WALLED * price, price), np.inf)
    terrain = Terrain(z=level, cell=(side * width, side * height), origin=ground.terrain.origin)
    return Coarse(side, make_grid(make_ground(terrain, 0.0, price), 16))
