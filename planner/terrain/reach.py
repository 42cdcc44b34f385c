"""How far elevation files reach and how much they hold, from their headers alone."""

from collections.abc import Sequence
from pathlib import Path

from pyproj import CRS

from planner.terrain.files import local_file
from planner.terrain.layer import Layer, describe
from planner.terrain.place import LONLAT, Bounds, bent_box

READ_WHOLE = 6_000_000  # cells; data with no more is read whole, of more a window round the sketch
GAPS = 1.5  # times the ground that the files cover: so much may the box round all of them hold


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
    return _around([_box(layer) for layer in _layers(files, crs, band)])


def cells_of(files: Sequence[str | Path], *, crs: str | None = None, band: int = 1) -> int:
    """How many cells the files have together.

    Raises
    ------
    TerrainError
        A file can't be read or placed.
    """
    return sum(rows * cols for rows, cols in (x.shape for x in _layers(files, crs, band)))


def reads_whole(
    files: Sequence[str | Path],
    *,
    around: Bounds | None = None,
    crs: str | None = None,
    band: int = 1,
) -> bool:
    """Whether all the data is read, so that its streams have their whole catchments.

    Few enough cells, in files that lie side by side; and the sketch, if there is a box `around` it
    [degrees], reaches the data at all.

    Raises
    ------
    TerrainError
        A file can't be read or placed.
    """
    boxes = [_box(layer) for layer in _layers(files, crs, band)]
    reach = _around(boxes)
    if around is not None and not _touch(reach, around):
        return False
    beside = _area(reach) <= GAPS * sum(map(_area, boxes))
    return beside and cells_of(files, crs=crs, band=band) <= READ_WHOLE


def _layers(files: Sequence[str | Path], crs: str | None, band: int) -> list[Layer]:
    return [describe(local_file(path), crs=crs, height_unit=None, band=band) for path in files]


def _box(layer: Layer) -> Bounds:
    return bent_box(layer.crs, CRS(LONLAT), layer.bounds)


def _around(boxes: Sequence[Bounds]) -> Bounds:
    west, south, east, north = zip(*boxes, strict=True)
    return min(west), min(south), max(east), max(north)


def _area(box: Bounds) -> float:
    return (box[2] - box[0]) * (box[3] - box[1])


def _touch(one: Bounds, other: Bounds) -> bool:
    across = one[0] <= other[2] and other[0] <= one[2]
    return across and one[1] <= other[3] and other[1] <= one[3]
