"""A part of a terrain, to draw no more of it than is looked at."""

import math
from dataclasses import replace

from planner.terrain.place import Bounds
from planner.terrain.value import Terrain


def part_of(terrain: Terrain, box: Bounds, margin: float) -> Terrain:
    """The cells round a box, with all that is known of them.

    Parameters
    ----------
    terrain : Terrain
    box : (west, south, east, north)
        In the terrain's x, y [m]; at least a corner of it lies on the terrain.
    margin : float
        Ground kept round the box [m].

    Returns
    -------
    Terrain
        The same one where all of it lies so near.
    """
    (west, north), (wide, high) = terrain.origin, terrain.cell
    rows, cols = terrain.shape
    first_col = max(math.floor((box[0] - margin - west) / wide), 0)
    last_col = min(math.floor((box[2] + margin - west) / wide) + 1, cols)
    first_row = max(math.floor((north - box[3] - margin) / high), 0)
    last_row = min(math.floor((north - box[1] + margin) / high) + 1, rows)
    if (first_row, first_col, last_row, last_col) == (0, 0, rows, cols):
        return terrain
    cut = slice(first_row, last_row), slice(first_col, last_col)
    origin = (west + first_col * wide, north - first_row * high)
    return replace(terrain, z=terrain.z[cut], filled=terrain.filled[cut], origin=origin)
