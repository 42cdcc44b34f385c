"""The ground of a site while it is sketched: read once, and again where the sketch leaves it."""

import hashlib
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from planner.site.ground import read_elevation
from planner.site.value import Elevation, Point
from planner.terrain.files import local_file
from planner.terrain.frame import to_local
from planner.terrain.place import Bounds
from planner.terrain.reach import READ_WHOLE, cells_of, reach_of, reads_whole
from planner.terrain.value import Terrain

ROOM = 25_000_000  # cells a ground may have: more than asked for, where warping makes them finer
METRES_PER_DEGREE = 111_320.0  # of latitude


@dataclass(frozen=True, slots=True)
class Reading:
    """What a ground was read from, and how much of it.

    `box` is west, south, east, north round the sketch [degrees], None: all there is; of more cells
    than `most` the means of blocks are taken. `stamps` tell whether a file has changed since.
    """

    data: Elevation
    stamps: tuple[tuple[int, int], ...]
    box: Bounds | None
    most: int


class Grounds:
    """The ground last read.

    Of data with no more than 6 million cells all is read. Of more, all of it thinned to so many
    cells while points are still missing, then the ground round the sketch, as far as so many cells
    go, and it stays as it is until a point leaves it: a page would be hard to use whose ground
    changed with every move.

    Parameters
    ----------
    say : function
        Told when data is read.
    """

    def __init__(self, say: Callable[[str], None]) -> None:
        self._say = say
        self.reading: Reading | None = None
        self._ground: Terrain | None = None

    def of(self, data: Elevation, points: Sequence[Point], *, complete: bool) -> Terrain:
        """The ground for a sketch.

        Parameters
        ----------
        data : Elevation
        points : sequence of Point
            Of the sketch.
        complete : bool
            Whether a plan can be made of it; False: all the data is wanted, to place more.

        Raises
        ------
        TerrainError
            The data can't be read.
        """
        small = reads_whole(data.files, crs=data.crs, band=data.band)
        whole = small or not complete
        wanted = Reading(
            data,
            tuple(_stamps(data)),
            None if whole else _box(points),
            READ_WHOLE if whole and not small else ROOM,
        )
        there = self.reading
        if there is not None and self._serves(there, wanted, points):
            wanted = there
        return self.read(wanted)

    def read(self, wanted: Reading) -> Terrain:
        """The ground of a reading, as another desk may have made it.

        Raises
        ------
        TerrainError
            The data can't be read.
        """
        if self._ground is None or wanted != self.reading:
            self._say("reading the elevation data")
            self._ground = self.reading = None  # two of them need not be held at once
            self._ground = _read(wanted)
            self.reading = wanted
        return self._ground

    def _serves(self, there: Reading, wanted: Reading, points: Sequence[Point]) -> bool:
        """Whether the ground there is lies round the sketch too."""
        if self._ground is None or None in (there.box, wanted.box):
            return False
        return replace(wanted, box=there.box) == there and _on(self._ground, points)


def ground_name(ground: Terrain) -> str:
    """By which a ground is known again: the same name, the same grid in the same plane."""
    plane = "" if ground.crs is None else ground.crs.to_wkt()
    grid = repr((plane, ground.bounds, ground.shape))
    return hashlib.sha256(grid.encode()).hexdigest()[:16]


def _read(wanted: Reading) -> Terrain:
    data, box = wanted.data, wanted.box
    margin = data.margin if box is None else max(data.margin, _margin(data, box))
    return read_elevation(data, box, margin=margin, most=wanted.most)


def _margin(data: Elevation, box: Bounds) -> float:
    """How far round a box [m] the cells that may be read go."""
    reach = reach_of(data.files, crs=data.crs, band=data.band)
    (width, height), (all_wide, all_high) = _sides(box), _sides(reach)
    cells = cells_of(data.files, crs=data.crs, band=data.band)
    area = READ_WHOLE * all_wide * all_high / cells  # (width + 2 m)(height + 2 m)
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
