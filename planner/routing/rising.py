"""Lines on the ground that rise, or fall, all the way to an end: one sweep for all starts."""

from dataclasses import dataclass

import numpy as np

from planner.errors import OutsideRange
from planner.routing.cost_kernel import ByteArray
from planner.routing.edge_kernel import TOLERANCE
from planner.routing.fields import nearest_reached, neighbours_of, walk_over
from planner.routing.grid import Grid
from planner.routing.ground import band_at
from planner.routing.links import links
from planner.routing.rising_kernel import Climb, climb_to, legal_links
from planner.routing.sweep import crossing_of, pieces_of
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.value import FloatArray

LEAST_RISE = 1e3 * TOLERANCE  # m over the shortest move; less can't be told from rounding


@dataclass(frozen=True, eq=False, slots=True)
class RisingField:
    """Least cost from the cells to one end by lines that rise, or fall, to it all the way.

    Attributes
    ----------
    grid : Grid
    root : (float, float)
        x, y of the end [m].
    climb : Climb
        What is asked of the lines.
    cost, onward : (cells,) ndarray
        As in `planner.routing.plain.CostField`; zero: no such line from there.
    """

    grid: Grid
    root: Place
    climb: Climb
    cost: FloatArray
    onward: ByteArray

    def route_from(self, place: Place) -> Walk | Miss:
        """The cheapest line from a place to the field's end."""
        entry = links(self.grid, place, "from", self.root)
        level = np.full(entry.node.size, self._level(place))
        allowed = legal_links(self.climb, entry, level)
        ends = place, self.root
        walk = walk_over(self.grid, self.cost, self.onward, entry, allowed, ends)
        return self._miss(place) if walk is None else walk

    def _level(self, place: Place) -> float:
        return float(band_at(self.grid.ground, np.array([place], dtype=np.float64))[0][0])

    def _miss(self, place: Place) -> Miss:
        """How near lines from the place come: they are swept the other way round."""
        back = self.climb._replace(upward=-self.climb.upward)
        near = nearest_reached(self.grid, _swept(self.grid, place, back).onward, self.root)
        here = place if near is None else near
        away = float(np.hypot(self.root[0] - here[0], self.root[1] - here[1]))
        rise = self.climb.upward * (self._level(self.root) - self._level(here))
        short = self.climb.lowest * away - rise
        return Miss(near, short if short > TOLERANCE else None)


def rising_field(grid: Grid, end: Place, lowest: float, highest: float = np.inf) -> RisingField:
    """Least cost from every cell to an end by lines that rise all the way to it on the ground.

    Every piece of a quarter cell rises by a grade between the two: a closed form stands for the
    pieces, see `planner.routing.rising_kernel`. Depths and slack play no part.

    Parameters
    ----------
    grid : Grid
    end : (float, float)
        x, y [m].
    lowest, highest : float
        Grades, rise over run, `lowest` more than 0; `highest` may be infinite.

    Raises
    ------
    OutsideRange
        `lowest` is so small that over the shortest move a rise can't be told from rounding.
    """
    return _field(grid, end, 1.0, lowest, highest)


def falling_field(grid: Grid, end: Place, lowest: float, highest: float = np.inf) -> RisingField:
    """Least cost from every cell to an end by lines that fall all the way to it on the ground.

    The mirror of `rising_field`: `lowest` and `highest` are the least and greatest fall over run,
    as positive figures.
    """
    return _field(grid, end, -1.0, lowest, highest)


def _field(grid: Grid, end: Place, upward: float, lowest: float, highest: float) -> RisingField:
    if not lowest * float(np.min(grid.stencil.run)) >= LEAST_RISE:
        msg = f"the least grade of a strict line is {lowest}; it must be more than 0, as 0.001"
        raise OutsideRange(msg)
    return _swept(grid, end, Climb(upward, lowest, highest, float(grid.ground.side_slope)))


def _swept(grid: Grid, end: Place, climb: Climb) -> RisingField:
    cost, onward = grid.zeros(np.float64), grid.zeros(np.uint8)
    leave = links(grid, end, "to", None)
    neighbours = neighbours_of(grid)
    legal = legal_links(climb, leave, grid.field.top[leave.node])
    climb_to(
        grid.field,
        grid.stencil,
        crossing_of(neighbours, grid.columns),
        pieces_of(neighbours, grid.columns, grid.ground.terrain.cell),
        climb,
        leave.node[legal],
        leave.cost[legal],
        cost,
        onward,
    )
    return RisingField(grid, end, climb, cost, onward)
