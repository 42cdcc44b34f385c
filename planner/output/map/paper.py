"""The drawing's own pixels: Web Mercator, north up, scaled to a sheet."""

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.profile.value import FloatArray

EARTH = 6378137.0  # m, radius of the Web Mercator sphere
MARGIN = 0.12  # of the longer side, left free round what matters
LEAST_SIDE = 40.0  # m of ground that a drawing shows at least
NARROWEST, WIDEST = 0.72, 1.25  # height over width of the sheet


@dataclass(frozen=True, slots=True)
class Paper:
    """A sheet of `width` by `height` pixels centred on a place; `metre` is px per m of ground."""

    width: float
    height: float
    metre: float
    centre: tuple[float, float]  # lon, lat

    def place(self, lonlat: npt.ArrayLike) -> FloatArray:
        """(n, 2) pixels from the upper left corner of (n, 2) longitude, latitude."""
        x, y = _mercator(lonlat)
        cx, cy = _mercator([self.centre])
        scale = self.metre * EARTH * math.cos(math.radians(self.centre[1]))
        return np.column_stack(
            [self.width / 2 + (x - cx) * scale, self.height / 2 - (y - cy) * scale]
        )

    def lonlat(self, x: float, y: float) -> tuple[float, float]:
        """Longitude, latitude of a place on the sheet; the inverse of `place`."""
        cx, cy = _mercator([self.centre])
        scale = self.metre * EARTH * math.cos(math.radians(self.centre[1]))
        lon = float(cx[0]) + (x - self.width / 2) / scale
        lat = math.atan(math.sinh(float(cy[0]) - (y - self.height / 2) / scale))
        return math.degrees(lon), math.degrees(lat)


def fit_paper(bounds: tuple[float, float, float, float], width: float) -> Paper:
    """The sheet that shows a box (west, south, east, north) [degrees] as large as it can."""
    west, south, east, north = bounds
    centre = (west + east) / 2, (south + north) / 2
    bare = Paper(0.0, 0.0, 1.0, centre)
    (left, bottom), (right, top) = bare.place([(west, south), (east, north)])
    across, down = max(right - left, LEAST_SIDE), max(bottom - top, LEAST_SIDE)
    room = 2 * MARGIN * max(across, down)
    across, down = across + room, down + room
    ratio = min(max(down / across, NARROWEST), WIDEST)
    height = width * ratio
    return Paper(width, height, min(width / across, height / down), centre)


def _mercator(lonlat: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    """x, y on the unit sphere."""
    lon, lat = np.radians(np.asarray(lonlat, dtype=np.float64).reshape(-1, 2)).T
    return lon, np.arcsinh(np.tan(lat))
