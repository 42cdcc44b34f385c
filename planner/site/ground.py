"""The ground as a site tells of it: its elevation files with all that is said of them."""

from planner.site.value import Elevation
from planner.terrain.place import Bounds
from planner.terrain.read import MOST_CELLS, read_terrain
from planner.terrain.value import Terrain


def read_elevation(
    data: Elevation, around: Bounds | None, *, margin: float, most: int = MOST_CELLS
) -> Terrain:
    """Read the elevation data of a site.

    Parameters
    ----------
    data : Elevation
    around : (west, south, east, north) or None
        Box round the sketch [degrees]; None: all the data.
    margin : float
        Ground read round that box [m].
    most : int
        Cells; of more the means of blocks are taken.

    Raises
    ------
    TerrainError
        A file can't be read or placed, or none reaches the sketch.
    """
    return read_terrain(
        data.files,
        around=around,
        margin=margin,
        crs=data.crs,
        height_unit=data.height_unit,
        kind=data.kind,
        standard_error=data.standard_error,
        surface_model=data.surface_model,
        band=data.band,
        max_cells=most,
    )
