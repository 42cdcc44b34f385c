"""Figures as they stand in JSON: rounded sensibly, and null where they are not known."""

import math
from typing import Any

import numpy as np
import numpy.typing as npt

from planner.band import Band
from planner.profile.value import FloatArray
from planner.record.schema_base import BandModel
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain

METRE = 3  # decimals: a millimetre
DEGREE = 8  # decimals: about a millimetre
FLOW = 9  # decimals of m³/s: a thousandth of a litre in a thousand seconds
RATIO = 6


def number(value: float | None, decimals: int) -> float | None:
    """Rounded; None for what is not known or not finite."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), decimals) + 0.0  # no minus zero


def numbers(values: FloatArray) -> list[Any]:
    """Rounded to a millimetre; None for NaN."""
    rounded = np.round(values, METRE) + 0.0
    return [value if math.isfinite(value) else None for value in rounded.tolist()]


def band_model(band: Band, decimals: int) -> BandModel:
    """Each of the three rounded; nulls where the figure is not known."""
    low, expected, high = (
        number(float(value), decimals) for value in (band.low, band.expected, band.high)
    )
    return BandModel(low=low, expected=expected, high=high)


def degrees(terrain: Terrain, xy: npt.ArrayLike) -> list[tuple[float, float]]:
    """Longitude and latitude of points x, y."""
    lonlat = np.round(to_lonlat(terrain, xy), DEGREE)
    return [(lon, lat) for lon, lat in lonlat.tolist()]


def place(terrain: Terrain, xy: tuple[float, float] | None) -> tuple[float, float] | None:
    """Longitude and latitude of a point x, y; None of none."""
    return None if xy is None else degrees(terrain, [xy])[0]
