"""The ground of a site while it is sketched: read once, and again where the sketch leaves it."""

import math
from collections.abc import Callable, Hashable, Iterable, Sequence

import numpy as np

from planner.site.value import Elevation, Point
from planner.terrain.files import local_file
from planner.terrain.frame import to_local
from planner.terrain.layer import describe
from planner.terrain.place import Bounds
from planner.terrain.reach import reach_of
from planner.terrain.read import read_terrain
from planner.terrain.value import Terrain

MOST_CELLS = 6_000_000  # what is read whole; of more, so much round the sketch
ROOM = 25_000_000  # cells a ground may have: more than asked for, where warping makes them finer
METRES_PER_DEGREE = 111_320.0  # of latitude


class Grounds:
    """The ground last read, and what it was read from.

    Of data with no more than 6 million cells all is read. Of more, all of it thinned to so many
    cells while points are still missing, then the ground round the sketch, as far as so many cells
    go, and it stays as it is until a point leaves it: a page would be hard to use whose ground
    changed with every move.
    """

    def __init__(self) -> None:
        self._key: Hashable = None
        self._ground: Terrain | None = None

    def of(
        self,
        data: Elevation,
        points: Sequence[Point],
        *,
        complete: bool,
        say: Callable[[str], None],
    ) -> Terrain:
        """The ground for a sketch.

        Parameters
        ----------
        data : Elevation
        points : sequence of Point
            Of the sketch.
        complete : bool
            Whether a plan can be made of it; False: all the data is wanted, to place more.
        say : function
            Told when the data is read.

        Raises
        ------
        TerrainError
            The data can't be read.
        """
        small = cells_of(data) <= MOST_CELLS
        whole = small or not complete
        key = (data, tuple(_stamps(data)), whole)
        if self._ground is None or key != self._key or not (whole or _on(self._ground, points)):
            say("reading the elevation data")
            self._ground = None  # two of them need not be held at once
            box = None if whole else _box(points)
            self._ground = _read(data, box, MOST_CELLS if whole and not small else ROOM)
            self._key = key
        return self._ground


def cells_of(data: Elevation) -> int:
    """How many cells the elevation files have together, from their headers.

    Raises
    ------
    TerrainError
        A file can't be read.
    """
    layers = (
        describe(local_file(path), crs=data.crs, height_unit=data.height_unit, band=data.band)
        for path in data.files
    )
    return sum(rows * cols for rows, cols in (layer.shape for layer in layers))


def _read(data: Elevation, box: Bounds | None, most: int) -> Terrain:
    return read_terrain(
        data.files,
        around=box,
        margin=data.margin if box is None else max(data.margin, _margin(data, box)),
        crs=data.crs,
        height_unit=data.height_unit,
        kind=data.kind,
        standard_error=data.standard_error,
        surface_model=data.surface_model,
        band=data.band,
        max_cells=most,
    )


def _margin(data: Elevation, box: Bounds) -> float:
    """How far round a box [m] the cells that may be read go."""
    reach = reach_of(data.files, crs=data.crs, band=data.band)
    (width, height), (all_wide, all_high) = _sides(box), _sides(reach)
    area = MOST_CELLS * all_wide * all_high / cells_of(data)  # (width + 2 m)(height + 2 m)
    half = (width + height) / 2.0
    return max(0.0, (math.sqrt(max(half**2 - width * height + area, 0.0)) - half) / 2.0)


def _sides(box: Bounds) -> tuple[float, float]:
    west, south, east, north = box
    wide = (east - west) * math.cos(math.radians((south + north) / 2.0))
    return wide * METRES_PER_DEGREE, (north - south) * METRES_PER_DEGREE


def _box(points: Iterable[Point]) -> Bounds:
    lon, lat = zip(*(point.at for point in points), strict=True)
    return min(lon), min(lat), max(lon), max(lat)


def _on(ground: Terrain, points: Iterable[Point]) -> bool:
    """Whether every point lies inside the ground's edge."""
    x, y = to_local(ground, [point.at for point in points]).T
    west, south, east, north = ground.bounds
    inside = (west <= x) & (x <= east) & (south <= y) & (y <= north)
    return bool(np.all(inside))


def _stamps(data: Elevation) -> Iterable[tuple[int, int]]:
    """By which a file is known to have been changed: when, and how long it is."""
    for path in data.files:
        status = local_file(path).stat()
        yield status.st_mtime_ns, status.st_size
