"""The same ground in smaller cells."""

import numpy as np

from planner.routing.ground import Ground
from planner.routing.walk import Place
from planner.terrain.sample import bilinear, grid_position
from planner.terrain.value import FloatArray, Terrain


def refine(ground: Ground, parts: int, ends: tuple[Place, Place], most: int) -> Ground:
    """The ground around two places with each cell cut into `parts` x `parts`.

    An odd number puts centres of small cells on all lines between centres of large ones, so that
    the surface between the small ones, bilinear as well, is the very same: what is found on it is
    true of the ground itself. A small cell is closed where the surface is.

    Parameters
    ----------
    parts : int
        Odd.
    ends : ((float, float), (float, float))
        x, y of the places [m].
    most : int
        Small cells at most, unless the rectangle around the places holds more.
    """
    terrain = ground.terrain
    rows, cols = _around(terrain, ends, most // parts**2)
    row = (np.arange(rows.start * parts, rows.stop * parts) + 0.5) / parts - 0.5
    col = (np.arange(cols.start * parts, cols.stop * parts) + 0.5) / parts - 0.5
    down, along = np.meshgrid(row, col, indexing="ij")
    west = terrain.origin[0] + cols.start * terrain.cell[0]
    north = terrain.origin[1] - rows.start * terrain.cell[1]
    cell = terrain.cell[0] / parts, terrain.cell[1] / parts
    # A closed cell is so by its level; its price must not close what is open beside it.
    return Ground(
        Terrain(z=bilinear(ground.top, down, along), cell=cell, origin=(west, north)),
        ground.slack if ground.slack.size == 1 else bilinear(ground.slack, down, along),
        ground.cost if ground.cost.size == 1 else _repeated(ground.factor[rows, cols], parts),
        ground.side_slope,
    )


def _around(terrain: Terrain, ends: tuple[Place, Place], most: int) -> tuple[slice, slice]:
    """The widest rectangle of so many cells around two places, as rows and columns."""
    row, col = grid_position(terrain, *np.transpose(ends))
    height, width = np.ptp(row) + 2.0, np.ptp(col) + 2.0
    # (height + 2 m) (width + 2 m) = most
    half = 0.5 * (height + width)
    spare = max(most - height * width, 0.0)
    margin = 0.5 * (np.sqrt(half**2 + spare) - half)
    first = int(max(row.min() - margin, 0.0)), int(max(col.min() - margin, 0.0))
    last = int(row.max() + margin) + 2, int(col.max() + margin) + 2
    return slice(first[0], min(last[0], terrain.shape[0])), slice(
        first[1], min(last[1], terrain.shape[1])
    )


def _repeated(grid: FloatArray, parts: int) -> FloatArray:
    return np.repeat(np.repeat(grid, parts, axis=0), parts, axis=1)
