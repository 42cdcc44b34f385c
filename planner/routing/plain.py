"""The cheapest line where no grade is asked for, and the cost from every cell to an end."""

from dataclasses import dataclass

import numpy as np

from planner.routing.cost_kernel import ByteArray, spread
from planner.routing.edge_kernel import Links
from planner.routing.fields import nearest_reached, neighbours_of, walk_over
from planner.routing.grid import Grid
from planner.routing.links import links
from planner.routing.sweep import crossing_of
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.value import FloatArray

NO_LINKS = Links(
    node=np.empty(0, np.int64),
    cost=np.empty(0),
    factor=np.empty(0),
    across=np.empty(0),
    sample_from=np.zeros(1, np.int64),
    step=np.empty(0),
    top=np.empty(0),
    bottom=np.empty(0),
)


@dataclass(frozen=True, eq=False, slots=True)
class CostField:
    """Least cost from the cells to one end, over the moves of the grid's stencil.

    Attributes
    ----------
    grid : Grid
    root : (float, float)
        x, y of the end [m].
    cost : (cells,) ndarray
        Cost to the end [m of pipe], the same in both directions; **zero: never reached**.
    onward : (cells,) ndarray of uint8
        Index of the stencil's move that leads on towards the end, plus one; 255: straight to the
        end itself; zero: never reached.
    final : float
        Costs up to this are final, all others (never reached among them) are at least as much;
        infinite where the whole field was searched.
    """

    grid: Grid
    root: Place
    cost: FloatArray
    onward: ByteArray
    final: float

    def route_from(self, place: Place) -> Walk | Miss:
        """The cheapest line from a place to the field's end."""
        entry = links(self.grid, place, "from", self.root)
        allowed = entry.across <= self.grid.ground.side_slope
        ends = place, self.root
        walk = walk_over(self.grid, self.cost, self.onward, entry, allowed, ends)
        return self._miss(place) if walk is None else walk

    def _miss(self, place: Place) -> Miss:
        """How near lines from the place come."""
        return Miss(nearest_reached(self.grid, cost_field(self.grid, place).onward, self.root))


def cost_field(grid: Grid, root: Place, stop: Place | None = None) -> CostField:
    """Least cost from every cell to an end.

    Parameters
    ----------
    grid : Grid
    root : (float, float)
        x, y of the end [m].
    stop : (float, float), optional
        The search ends when the cheapest line from this place is known.
    """
    cost, onward = grid.zeros(np.float64), grid.zeros(np.uint8)
    final = spread(
        grid.field,
        grid.stencil,
        crossing_of(neighbours_of(grid), grid.columns),
        float(grid.ground.side_slope),
        links(grid, root, "to", None),
        NO_LINKS if stop is None else links(grid, stop, "from", None),
        cost,
        onward,
    )
    return CostField(grid, root, cost, onward, float(final))


def find_plain(grid: Grid, start: Place, end: Place) -> Walk | Miss:
    """The cheapest line between two places where no grade is asked for."""
    return cost_field(grid, end, start).route_from(start)
