"""How far elevation files reach, from their headers alone."""

from collections.abc import Sequence
from pathlib import Path

from pyproj import CRS

from planner.terrain.files import local_file
from planner.terrain.layer import describe
from planner.terrain.place import LONLAT, Bounds, bent_box


def reach_of(files: Sequence[str | Path], *, crs: str | None = None, band: int = 1) -> Bounds:
    """The box round all the elevation files.

    Parameters
    ----------
    files : sequence of paths
        At least one raster GDAL reads.
    crs : str, optional
        Coordinate system of files that carry none.
    band : int
        From 1.

    Returns
    -------
    (west, south, east, north)
        Degrees, WGS 84.

    Raises
    ------
    TerrainError
        A file can't be read or placed.
    """
    layers = [describe(local_file(path), crs=crs, height_unit=None, band=band) for path in files]
    boxes = [bent_box(layer.crs, CRS(LONLAT), layer.bounds) for layer in layers]
    west, south, east, north = zip(*boxes, strict=True)
    return min(west), min(south), max(east), max(north)
