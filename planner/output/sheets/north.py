"""Which way north lies: true, of the grid, and magnetic."""

import datetime
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from pygeomag import GeoMag
from pyproj import Geod

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain

EARTH = Geod(ellps="WGS84")
STEP = 100.0  # m north along the grid, to see which way that leads
MODEL = "wmm/WMM_2025.COF"
FIRST, LAST = 2025.0, 2030.0  # years for which that model is made


@dataclass(frozen=True, slots=True)
class North:
    """Angles at a place [degrees clockwise from true north].

    Attributes
    ----------
    grid : float
        The grid's own north.
    magnetic : float or None
        Where a compass points; None outside the years of the model.
    drift : float
        Of `magnetic` in a year.
    year : float
        For which it holds.
    """

    grid: float
    magnetic: float | None
    drift: float
    year: float


def north_at(terrain: Terrain, xy: tuple[float, float], date: datetime.date) -> North | None:
    """True, grid and magnetic north at a place of a terrain's grid on a day.

    Magnetic north by the World Magnetic Model (NOAA NCEI and British Geological Survey, 2025),
    left out where the day is outside the years for which the model is made.

    Returns
    -------
    North or None
        None where the terrain lies nowhere on Earth.
    """
    try:
        lonlat = to_lonlat(terrain, np.array([xy, (xy[0], xy[1] + STEP)]))
    except TerrainError:
        return None
    (lon, lat), (lon_up, lat_up) = lonlat.tolist()
    grid = float(EARTH.inv(lon, lat, lon_up, lat_up)[0])
    year = _year(date)
    if not FIRST <= year < LAST:
        return North(grid, None, 0.0, year)
    now, later = (_declination(lat, lon, when) for when in (year, min(year + 1.0, LAST)))
    span = min(year + 1.0, LAST) - year
    return North(grid, now, (later - now) / span, year)


def _declination(lat: float, lon: float, year: float) -> float:
    return float(_model().calculate(glat=lat, glon=lon, alt=0.0, time=year).d)


@lru_cache(maxsize=1)
def _model() -> GeoMag:
    return GeoMag(coefficients_file=MODEL)


def _year(date: datetime.date) -> float:
    """A day as a year with its part, 2026.9."""
    first = datetime.date(date.year, 1, 1)
    days = (datetime.date(date.year + 1, 1, 1) - first).days if date.year < 9999 else 365
    return date.year + (date - first).days / days


def north_words(north: North) -> list[str]:
    """What is said beside the arrows."""
    lines = [f"Grid north {_turned(north.grid)} of true north."]
    if north.magnetic is None:
        lines.append(
            f"Magnetic north left out: the model packed holds for {FIRST:.0f} to {LAST:.0f}."
        )
        return lines
    lines.append(f"Magnetic north {_turned(north.magnetic)} of true, in {north.year:.1f};")
    lines.append(f"it drifts {_turned(north.drift, 2)} a year: look it up anew later.")
    return lines


def _turned(degrees: float, decimals: int = 1) -> str:
    side = "east" if degrees >= 0.0 else "west"
    return f"{abs(degrees):.{decimals}f}° {side}"
