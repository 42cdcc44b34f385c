"""Watercourses found in the terrain."""

import math
from dataclasses import dataclass

import numpy as np
from affine import Affine

from planner.errors import TerrainError
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.sea import sea_of_zeros
from planner.terrain.value import FloatArray, Terrain

# Where a hollow becomes a creek depends on climate and soil; 1 to 5 ha is common in hills with
# rain, and more line on a map is better than a creek that is not there. A small window may hold
# only the last metres of a creek whose land lies outside, so there the limit shrinks with it;
# and no fewer than some cells, or every furrow of coarse data would count.
USUAL_CATCHMENT = 20_000.0  # m²
SHARE_OF_WINDOW = 0.04
LEAST_CELLS = 50


@dataclass(frozen=True, eq=False, slots=True)
class Stream:
    """A watercourse: x, y downstream [m], and the land that drains to its lower end [m²]."""

    xy: FloatArray
    catchment: float


def usual_catchment(terrain: Terrain) -> float:
    """Land from which on a hollow is drawn as a stream here [m²].

    2 ha; in windows under 50 ha, 4 % of the land with data; at least 50 cells.
    """
    cell = terrain.cell[0] * terrain.cell[1]
    land = float(np.isfinite(terrain.z).sum()) * cell
    return max(min(USUAL_CATCHMENT, SHARE_OF_WINDOW * land), LEAST_CELLS * cell)


def find_streams(terrain: Terrain, catchment: float | None = None) -> tuple[Stream, ...]:
    """Where water gathers: each reach from its head or a confluence to the next, or to the edge.

    Hollows are filled to their outlet and each cell drains to its steepest way down (Wang and
    Liu 2006, https://doi.org/10.1080/13658810500433453); water leaves at the edge of the data
    and into seas of zeros. Land outside the window is not counted.

    Parameters
    ----------
    catchment : float, optional
        Land that must drain through a cell to make it a stream [m²], more than 0; None:
        `usual_catchment`.

    Returns
    -------
    tuple of Stream
        Largest catchment first; a reach ends on the first point of the next one down.

    Raises
    ------
    TerrainError
        The catchment is not more than 0.
    """
    least = usual_catchment(terrain) if catchment is None else catchment
    if not (math.isfinite(least) and least > 0.0):
        msg = f"the catchment of a stream must be more than 0 m², got {least}"
        raise TerrainError(msg)
    land = np.array(terrain.z)
    land[sea_of_zeros(terrain)] = np.nan
    if np.isfinite(land).sum() < 2:
        return ()
    return tuple(sorted(_reaches(terrain, land, least), key=lambda reach: -reach.catchment))


def _reaches(terrain: Terrain, land: FloatArray, least: float) -> list[Stream]:
    """Every reach between heads, confluences and the edge of `land` (rows, cols) [m]."""
    # Late, for weight: pyflwdir takes most of a second to load.
    from pyflwdir import from_dem  # noqa: PLC0415

    (west, north), (width, height) = terrain.origin, terrain.cell
    flow = from_dem(land, nodata=np.nan, transform=Affine(width, 0.0, west, 0.0, -height, north))
    area = flow.upstream_area("m2")
    x, y = cell_centre(terrain, *np.indices(terrain.shape))
    reaches = []
    for feature in flow.streams(area >= least, xs=x, ys=y):
        xy = np.array(feature["geometry"]["coordinates"])
        # Where water leaves the data the library adds a line of no length.
        if np.any(xy[0] != xy[-1]):
            # The last point is the confluence, which drains the other branch too.
            row, col = grid_position(terrain, *xy[-2])
            reaches.append(Stream(xy, float(area[round(float(row)), round(float(col))])))
    return reaches
