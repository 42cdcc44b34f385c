"""The part of the ground around two ends."""

import numpy as np

from planner.routing.ground import Ground
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray, Terrain

Place = tuple[float, float]
LEAST_MARGIN = 40.0  # cells


def window(ground: Ground, here: Place, there: Place) -> Ground:
    """The ground around two ends, as far again on each side as they lie apart."""
    shape, (width, height) = ground.terrain.shape, ground.terrain.cell
    row, col = grid_position(ground.terrain, [here[0], there[0]], [here[1], there[1]])
    apart = float(np.hypot(there[0] - here[0], there[1] - here[1]))
    margin = max(apart, LEAST_MARGIN * max(width, height))
    rows, cols = (
        slice(max(int(at.min() - margin / side), 0), min(int(at.max() + margin / side) + 2, count))
        for at, side, count in zip((row, col), (height, width), shape, strict=True)
    )
    if (rows, cols) == (slice(0, shape[0]), slice(0, shape[1])):
        return ground
    west = ground.terrain.origin[0] + cols.start * width
    north = ground.terrain.origin[1] - rows.start * height
    return Ground(
        terrain=Terrain(ground.terrain.z[rows, cols], (width, height), (west, north)),
        slack=_part_of(ground.slack, (rows, cols)),
        cost=_part_of(ground.cost, (rows, cols)),
        side_slope=ground.side_slope,
    )


def _part_of(grid: FloatArray, part: tuple[slice, slice]) -> FloatArray:
    """A part of a grid that may have one cell for all."""
    if grid.size == 1:
        return grid
    cells = np.ascontiguousarray(grid[part])
    cells.flags.writeable = False
    return cells
