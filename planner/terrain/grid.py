"""`Grid`: the cells a terrain will have, and the choice between a file's own and new ones."""

import math
from dataclasses import dataclass, replace

import numpy as np
from pyproj import CRS, Proj

from planner.errors import TerrainError
from planner.terrain.frame import between
from planner.terrain.place import Bounds, Place, bent_box
from planner.terrain.sheet import Sheet

SCALE_OFF = 1e-3  # how far a metre on the map may be off a metre on the ground
SQUARE = 1e-4  # relative difference of a square cell's sides
TURNED = 1e-9  # of a cell, for a raster that counts as north-up
LONGEST_SIDE = 500_000.0  # m; a plane laid on the Earth is metric no farther
ROUNDING = 1e-6  # cells


@dataclass(frozen=True, slots=True)
class Grid:
    """North-up cells in a metric CRS.

    Attributes
    ----------
    cell : (float, float)
        Width and height [m].
    origin : (float, float)
        x, y of the outer north-west corner [m].
    shape : (rows, cols)
    """

    crs: CRS
    cell: tuple[float, float]
    origin: tuple[float, float]
    shape: tuple[int, int]

    def strip(self, top: int, rows: int) -> "Grid":
        """The `rows` rows from `top` on."""
        west, north = self.origin
        return replace(self, origin=(west, north - top * self.cell[1]), shape=(rows, self.shape[1]))


def grid_as_it_lies(sheets: list[Sheet], place: Place) -> tuple[Grid, tuple[int, int]] | None:
    """The cells of the data itself inside the window, if they are metric on the ground.

    Returns
    -------
    (Grid, (int, int)) or None
        The grid and the sheet's row and column at which it starts; None if there are several
        sheets or the one is not metric, square-celled and north-up.
    """
    if len(sheets) != 1 or not _metric(sheets[0], place.centre):
        return None
    sheet = sheets[0]
    west, south, east, north = place.window_in(sheet.crs) or sheet.bounds
    t, (rows, cols) = sheet.transform, sheet.shape
    left = max(0, math.floor((west - t.c) / t.a + ROUNDING))
    right = min(cols, math.ceil((east - t.c) / t.a - ROUNDING))
    top = max(0, math.floor((north - t.f) / t.e + ROUNDING))
    bottom = min(rows, math.ceil((south - t.f) / t.e - ROUNDING))
    grid = Grid(
        crs=sheet.crs,
        cell=(t.a, -t.e),
        origin=(t.c + left * t.a, t.f + top * t.e),
        shape=(max(bottom - top, 1), max(right - left, 1)),
    )
    return grid, (top, left)


def grid_to_warp_to(sheets: list[Sheet], place: Place) -> Grid:
    """New square cells in the place's own plane, as fine as the finest data there.

    Raises
    ------
    TerrainError
        The data covers more of the Earth than one plane can show.
    """
    cell = min(min(ground_cell(sheet, place)) for sheet in sheets)
    boxes = np.array([_box_at_home(sheet, place) for sheet in sheets])
    west, south = boxes[:, :2].min(axis=0)
    east, north = boxes[:, 2:].max(axis=0)
    if max(east - west, north - south) > LONGEST_SIDE:
        msg = (
            f"the elevation data covers {(east - west) / 1e3:.0f} x {(north - south) / 1e3:.0f} km"
            ", too much for one plan; cut it to the sketch's surroundings"
        )
        raise TerrainError(msg)
    left, top = math.floor(west / cell + ROUNDING), math.ceil(north / cell - ROUNDING)
    right, bottom = math.ceil(east / cell - ROUNDING), math.floor(south / cell + ROUNDING)
    return Grid(
        crs=place.home,
        cell=(cell, cell),
        origin=(left * cell, top * cell),
        shape=(max(top - bottom, 1), max(right - left, 1)),
    )


def ground_cell(sheet: Sheet, place: Place) -> tuple[float, float]:
    """Sides of a sheet's cell on the ground near the place [m]: along a row, along a column."""
    x, y = between("EPSG:4326", sheet.crs).transform(*place.centre)
    west, south, east, north = sheet.bounds
    if not (west <= x <= east and south <= y <= north):
        x, y = (west + east) / 2.0, (south + north) / 2.0
    t = sheet.transform
    gx, gy = between(sheet.crs, place.home).transform([x, x + t.a, x + t.b], [y, y + t.d, y + t.e])
    sides = math.hypot(gx[1] - gx[0], gy[1] - gy[0]), math.hypot(gx[2] - gx[0], gy[2] - gy[0])
    if not (np.all(np.isfinite(sides)) and min(sides) > 0.0):
        name = sheet.tiles[0][0].name
        msg = (
            f"{name!r} lies outside its coordinate system {sheet.crs.name!r}; is it the right one?"
        )
        raise TerrainError(msg)
    return sides


def _metric(sheet: Sheet, centre: tuple[float, float]) -> bool:
    """True if the sheet's cells are square, north-up and true ground metres at `centre`."""
    t, crs = sheet.transform, sheet.crs
    if not (t.a > 0.0 > t.e and max(abs(t.b), abs(t.d)) <= TURNED * t.a):
        return False
    if abs(t.a + t.e) > SQUARE * t.a or not crs.is_projected:
        return False
    if {axis.direction for axis in crs.axis_info} != {"east", "north"}:
        return False
    if any(axis.unit_conversion_factor != 1.0 for axis in crs.axis_info):
        return False
    factors = Proj(crs).get_factors(*centre)
    scales = factors.tissot_semimajor, factors.tissot_semiminor
    return all(abs(scale - 1.0) <= SCALE_OFF for scale in scales)


def _box_at_home(sheet: Sheet, place: Place) -> Bounds:
    """Box in the place's plane round the part of a sheet that lies in the window."""
    west, south, east, north = sheet.bounds
    window = place.window_in(sheet.crs)
    if window is None or place.window is None:
        return bent_box(sheet.crs, place.home, sheet.bounds)
    part = (
        max(west, window[0]),
        max(south, window[1]),
        min(east, window[2]),
        min(north, window[3]),
    )
    box, limit = bent_box(sheet.crs, place.home, part), place.window
    return (
        max(box[0], limit[0]),
        max(box[1], limit[1]),
        min(box[2], limit[2]),
        min(box[3], limit[3]),
    )
