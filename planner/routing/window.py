"""Windows of the ground around two ends, each twice as wide, and what they prove."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from planner.routing.ground import Ground
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray, Terrain

Place = tuple[float, float]
LEAST_MARGIN = 40.0  # cells; less than this costs more in starting over than it saves


@dataclass(frozen=True, slots=True)
class Window:
    """A part of the ground, and the least cost of any line between the ends that leaves it.

    A line found inside at no more than `outside` is the best on the whole ground; `outside` is
    infinite where the window is the whole.
    """

    ground: Ground
    outside: float


def windows(ground: Ground, here: Place, there: Place) -> Iterator[Window]:
    """Windows around the straight line between two ends, the last one the whole ground."""
    rows, cols = ground.terrain.shape
    width, height = ground.terrain.cell
    row, col = grid_position(ground.terrain, [here[0], there[0]], [here[1], there[1]])
    apart = float(np.hypot(there[0] - here[0], there[1] - here[1]))
    margin = max(apart, LEAST_MARGIN * max(width, height))
    while True:
        top, left = int(row.min() - margin / height), int(col.min() - margin / width)
        bottom, right = int(row.max() + margin / height) + 2, int(col.max() + margin / width) + 2
        if top <= 0 and left <= 0 and bottom >= rows and right >= cols:
            yield Window(ground, np.inf)
            return
        part = slice(max(top, 0), min(bottom, rows)), slice(max(left, 0), min(right, cols))
        # Out over a side and back: twice the margin across, and the distance of the ends along.
        yield Window(_part(ground, part), float(np.hypot(apart, 2.0 * margin)))
        margin *= 2.0


def _part(ground: Ground, part: tuple[slice, slice]) -> Ground:
    terrain = ground.terrain
    west = terrain.origin[0] + part[1].start * terrain.cell[0]
    north = terrain.origin[1] - part[0].start * terrain.cell[1]
    return Ground(
        terrain=Terrain(z=terrain.z[part], cell=terrain.cell, origin=(west, north)),
        slack=_part_of(ground.slack, part),
        cost=_part_of(ground.cost, part),
        side_slope=ground.side_slope,
    )


def _part_of(grid: FloatArray, part: tuple[slice, slice]) -> FloatArray:
    """A part of a grid that may have one cell for all."""
    if grid.size == 1:
        return grid
    cells = np.ascontiguousarray(grid[part])
    cells.flags.writeable = False
    return cells
