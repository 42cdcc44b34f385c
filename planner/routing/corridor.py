"""Corridors: parts of the ground where a line is likely to run, and what is proven of the rest.

Least costs over blocks of cells, from both ends, say which blocks the cheapest lines cross: those
where the two costs add up to little more than the optimum. A line is searched in these alone.

What is proven. Let a line leave the corridor, x be its last cell before it first leaves and y its
first cell after it last comes back. Up to x and from y on it runs inside, and in between it is at
least as long as the straight line from x to y, at the least price there is. So it costs at least

    min over x, y at the border:  D_start(x) + least |x, y| + D_end(y),

D being the costs inside the corridor without any rule of grades, which only adds to them. The
straight detour from end to end by way of the border is a weaker bound that costs next to nothing.
A line found inside at no more than one of them is the best of all. D is taken block by block, its
least in each, and the distance between blocks is the least there can be.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.ndimage import maximum_filter

from planner.routing.border_kernel import border_blocks, border_costs, leaving_bound
from planner.routing.coarse import SIDE, Coarse, Passing, make_coarse
from planner.routing.grid import Grid, corridor_grid, make_grid
from planner.routing.ground import Ground
from planner.routing.plain import CostField, cost_field
from planner.routing.stencil import REACH, Neighbours
from planner.terrain.sample import grid_position
from planner.terrain.value import BoolArray, FloatArray, Terrain

Place = tuple[float, float]
SMALL = 300_000  # cells; so many are searched as they are
LARGE = 1_500_000  # cells; up to so many all are searched, beyond only corridors at first
WIDTH = 96.0  # cells, mean width of the first corridor
WIDER = 4.0  # times as wide is the second; the third is the whole
LEAST_MARGIN = 40.0  # cells; less than this around two ends costs more in starting over


@dataclass(frozen=True, eq=False)
class Part:
    """A part of the ground to search, and what it proves of lines that leave it.

    Attributes
    ----------
    kind : {"near", "corridor", "whole"}
        The ground around both ends, where a line is likely to run, or all of it.
    grid : Grid
    here, there : (float, float)
        x, y of the ends [m].
    blocks : (rows, cols) ndarray
        Which blocks of the ground it holds; a single one where it is the whole.
    side : int
        Of a block, in cells.
    """

    kind: Literal["near", "corridor", "whole"]
    grid: Grid
    here: Place
    there: Place
    blocks: BoolArray
    side: int

    def proves(self, cost: float) -> bool:
        """Whether no line over the grid's moves that leaves the part can be cheaper than this."""
        return cost <= self.straight_outside or cost <= self.outside

    @cached_property
    def from_start(self) -> CostField:
        """Costs from the start, inside, without a rule of grades."""
        return cost_field(self.grid, self.here)

    @cached_property
    def to_end(self) -> CostField:
        """Costs to the end, inside, without a rule of grades."""
        return cost_field(self.grid, self.there)

    @cached_property
    def straight_outside(self) -> float:
        """Bound on the cost of all lines that leave [m], by straight lines; it costs no search."""
        rows, cols = np.nonzero(border_blocks(self.blocks, self.side, self.grid.pad))
        terrain = self.grid.ground.terrain
        apart = [_apart(terrain, end, rows, cols, self.side) for end in (self.here, self.there)]
        return self._least * float(np.min(sum(apart), initial=np.inf))

    @cached_property
    def outside(self) -> float:
        """Bound on the cost of all lines that leave [m], by the costs inside."""
        costs = [self._at_border(field) for field in (self.from_start, self.to_end)]
        rows, cols = np.nonzero(np.isfinite(costs[0]) | np.isfinite(costs[1]))
        first, last = (cost[rows, cols] for cost in costs)
        cell = self.grid.ground.terrain.cell
        bound = leaving_bound(rows, cols, first, last, self.side, cell, self._least)
        return max(float(bound), self.straight_outside)

    @property
    def _least(self) -> float:
        return float(self.grid.ground.cost.min())

    def _at_border(self, field: CostField) -> FloatArray:
        grid = self.grid
        shape = grid.ground.terrain.shape
        costs: FloatArray = border_costs(
            field.cost, grid.first, grid.columns, shape, self.blocks, self.side, grid.pad
        )
        return costs


def _apart(
    terrain: Terrain,
    end: Place,
    rows: npt.NDArray[np.int64],
    cols: npt.NDArray[np.int64],
    side: int,
) -> FloatArray:
    """(n,) distance [m] of a place from the nearest cell centre of each block."""
    row, col = grid_position(terrain, *end)
    down = np.maximum(np.maximum(rows * side - row, row - (rows + 1) * side + 1), 0.0)
    along = np.maximum(np.maximum(cols * side - col, col - (cols + 1) * side + 1), 0.0)
    return np.hypot(down * terrain.cell[1], along * terrain.cell[0])


def parts(
    ground: Ground,
    here: Place,
    there: Place,
    neighbours: Neighbours = 16,
    *,
    coarse: Coarse | None = None,
    vent_cost: float = 0.0,
    width: float = WIDTH,
    whole: int = LARGE,
) -> Iterator[Part]:
    """Parts of the ground to search for a line one after the other, the last one the whole.

    Ends that lie close together are searched first in the ground around them; of large ground then
    a corridor, and a wider one.

    Parameters
    ----------
    here, there : (float, float)
        x, y of the ends [m].
    coarse : Coarse, optional
        `make_coarse(ground, vent_cost=vent_cost)`, made once for many lines.
    vent_cost : float
        Of a high point [m of pipe], 0 where there may be none.
    width : float
        Mean width of the first corridor, in cells.
    whole : int
        Ground of so many cells is searched as a whole.
    """
    cells = ground.terrain.z.size
    if cells > SMALL:
        near = _around(ground.terrain, here, there)
        if np.count_nonzero(near) * SIDE**2 <= SMALL:
            grid = corridor_grid(ground, neighbours, near, SIDE)
            yield Part("near", grid, here, there, near, SIDE)
    if cells > whole:
        coarse = make_coarse(ground, vent_cost=vent_cost) if coarse is None else coarse
        yield from corridors(ground, coarse, here, there, neighbours, width=width)
    blocks = np.ones((1, 1), dtype=np.bool_)
    yield Part("whole", make_grid(ground, neighbours), here, there, blocks, max(cells, 1))


def corridors(
    ground: Ground,
    coarse: Coarse,
    here: Place,
    there: Place,
    neighbours: Neighbours = 16,
    *,
    width: float = WIDTH,
) -> Iterator[Part]:
    """A corridor of some mean width, in cells, and a wider one; none where the ends are cut off."""
    passing = coarse.passing(here, there)
    if passing is None:
        return
    for wide in (width, WIDER * width):
        blocks = _crossed(ground.terrain, coarse.side, passing, (here, there), wide)
        grid = corridor_grid(ground, neighbours, blocks, coarse.side)
        yield Part("corridor", grid, here, there, blocks, coarse.side)


def corridor_with_room(
    ground: Ground,
    coarse: Coarse,
    here: Place,
    there: Place,
    *,
    room: float,
    width: float = WIDTH,
) -> Part | None:
    """A corridor with open ground around its second end; None where the ends are cut off.

    Parameters
    ----------
    room : float
        How far around the end, in cells.
    width : float
        Mean width of the corridor, in cells.
    """
    passing = coarse.passing(here, there)
    if passing is None:
        return None
    blocks = _crossed(ground.terrain, coarse.side, passing, (here, there), width)
    blocks |= _rectangle(ground.terrain, coarse.side, (there,), room)
    grid = corridor_grid(ground, 16, blocks, coarse.side)
    return Part("corridor", grid, here, there, blocks, coarse.side)


def _crossed(
    terrain: Terrain, side: int, passing: Passing, ends: tuple[Place, Place], width: float
) -> BoolArray:
    """Blocks that the cheapest lines cross, to a mean width in cells, and those around the ends."""
    core = max(width - 2 * side, side)  # the blocks around it are added
    blocks = _cheapest(passing.cost, int(passing.length * core) // side**2)
    for end in ends:
        blocks |= _rectangle(terrain, side, (end,), max(REACH.values()) + 1.0)
    return blocks


def _around(terrain: Terrain, here: Place, there: Place) -> BoolArray:
    """Blocks around two ends, as far away as they are from one another."""
    apart = float(np.hypot(here[0] - there[0], here[1] - there[1]))
    margin = max(apart / min(terrain.cell), LEAST_MARGIN)
    return _rectangle(terrain, SIDE, (here, there), margin)


def _rectangle(terrain: Terrain, side: int, places: tuple[Place, ...], margin: float) -> BoolArray:
    """Blocks that come within a margin, in cells, of the rectangle around some places."""
    inside = np.zeros([-(-length // side) for length in terrain.shape], dtype=np.bool_)
    rows, cols = (
        slice(max(int(at.min() - margin) // side, 0), int(at.max() + margin + 1.0) // side + 1)
        for at in grid_position(terrain, *np.transpose(places))
    )
    inside[rows, cols] = True
    return inside


def _cheapest(cost: FloatArray, count: int) -> BoolArray:
    """About so many blocks, those lines cross at the least cost, and the ones around them."""
    count = min(max(count, 1), cost.size)
    most = np.partition(cost, count - 1, axis=None)[count - 1]
    chosen: BoolArray = maximum_filter(np.isfinite(cost) & (cost <= most), size=3)
    return chosen
