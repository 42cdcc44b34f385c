"""The cheapest line where no grade is asked for, and the cost from every cell to an end."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from planner.routing.cost_kernel import ByteArray, Crossing, IndexArray, spread, trace
from planner.routing.edge_kernel import IntArray, Links
from planner.routing.grid import Grid
from planner.routing.links import links
from planner.routing.stencil import Stencil
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.value import FloatArray

SAME = 1e-9  # m; vertices closer than this are one
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
        return follow_field(self, entry, place) or Miss(nearest=self._nearest(entry))

    def _nearest(self, entry: Links) -> Place | None:
        """The cell nearest to the field's end that a line from the place reaches."""
        cells = entry.node[entry.node < self.grid.cells]
        if cells.size == 0:
            return None
        from_place = _searched(self.grid, self.root, entry, NO_LINKS)
        x, y = self.grid.centre(np.flatnonzero(from_place.onward))
        best = int(np.argmin(np.hypot(x - self.root[0], y - self.root[1])))
        return float(x[best]), float(y[best])


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
    leave = NO_LINKS if stop is None else links(grid, stop, "from", None)
    return _searched(grid, root, links(grid, root, "to", None), leave)


def find_plain(grid: Grid, start: Place, end: Place) -> Walk | Miss:
    """The cheapest line between two places where no grade is asked for."""
    return cost_field(grid, end, start).route_from(start)


def follow_field(field: CostField, entry: Links, place: Place) -> Walk | None:
    """The cheapest line over the links of a place; None where they lead nowhere."""
    direct = entry.node == field.grid.cells
    onward = field.cost[np.where(direct, 0, entry.node)]
    total = np.where(direct | (onward > 0.0), entry.cost + onward, np.inf)
    total[entry.across > field.grid.ground.side_slope] = np.inf
    if not np.any(np.isfinite(total)):
        return None
    best = int(np.argmin(total))
    nodes = np.empty(0, np.int64)
    if not direct[best]:
        nodes = trace(field.grid.stencil, field.onward, int(entry.node[best]))
    x, y = field.grid.centre(nodes)
    xy = np.vstack([place, np.column_stack([x, y]), field.root])
    moved = np.hypot(*np.diff(xy, axis=0).T) > SAME
    xy = np.vstack([place, xy[1:-1][moved[:-1]], field.root])
    return Walk(xy, float(total[best]))


def _searched(grid: Grid, root: Place, leave: Links, stop: Links) -> CostField:
    cost, onward = grid.zeros(np.float64), grid.zeros(np.uint8)
    final = spread(
        grid.field,
        grid.stencil,
        crossing_of(grid.stencil),
        grid.ground.side_slope,
        leave,
        stop,
        cost,
        onward,
    )
    return CostField(grid, root, cost, onward, float(final))


def crossing_of(stencil: Stencil) -> Crossing:
    """What the moves of a stencil cross, and what must be open for each."""
    pairs: list[tuple[float, int, int]] = []
    corners: list[IntArray] = []
    pair_from = [0]
    for k, move in enumerate(stencil.move):
        first, last = stencil.price_from[k : k + 2]
        cells, shares = stencil.price_cell[first:last], stencil.price_share[first:last]
        pairs += [(shares[p], cells[p], cells[-1 - p]) for p in range(1, cells.size // 2)]
        pair_from.append(len(pairs))
        first, last = stencil.corner_from[stencil.sample_from[k : k + 2]]
        touched = np.unique(stencil.corner[first:last])
        corners.append(touched[(touched != 0) & (touched != move)])
    share, near, far = np.array(pairs).reshape(-1, 3).T
    return Crossing(
        move=_index(stencil.move),
        plain=int(np.sum(np.diff(pair_from) == 0)),
        end_share=stencil.price_share[stencil.price_from[:-1]],
        pair_from=np.array(pair_from),
        pair_share=share.copy(),
        near=_index(near),
        far=_index(far),
        around=_index(np.unique(np.concatenate([stencil.move, *corners]))),
        corner_from=np.cumsum([0, *(cells.size for cells in corners)], dtype=np.int64),
        corner=_index(np.concatenate(corners)),
    )


def _index(offsets: npt.NDArray[Any]) -> IndexArray:
    """Offsets as unsigned numbers that wrap around."""
    return np.ascontiguousarray(offsets.astype(np.int64)).view(np.uint64)
