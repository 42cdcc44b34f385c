"""Norths: the grid's by its projection, a compass's by what was observed."""

import datetime

import numpy as np
import pytest
from pyproj import CRS, Transformer

from planner.output.sheets.north import North, north_at, north_words
from planner.terrain.value import Terrain

DAY = datetime.date(2025, 9, 1)


def _terrain(epsg: int) -> Terrain:
    return Terrain.from_array(np.zeros((2, 2)), 1.0, crs=CRS.from_epsg(epsg).to_wkt())


def _place(epsg: int, lon: float, lat: float) -> tuple[float, float]:
    x, y = Transformer.from_crs(4326, epsg, always_xy=True).transform(lon, lat)
    return float(x), float(y)


def test_grid_north_is_off_by_the_convergence_of_the_projection() -> None:
    # Of a transverse Mercator grid: tan(convergence) = tan(lon - lon0) * sin(lat), on the sphere
    # (Snyder, Map Projections, USGS Professional Paper 1395, eq. 8-9 rearranged).
    north = north_at(_terrain(32633), _place(32633, 18.0, 60.0), DAY)
    assert north is not None
    wanted = np.degrees(np.arctan(np.tan(np.radians(3.0)) * np.sin(np.radians(60.0))))
    assert north.grid == pytest.approx(wanted, abs=0.02)


def test_a_compass_at_greenwich_points_a_degree_east_six_years_after_it_pointed_true() -> None:
    # British Geological Survey, August 2019: at Greenwich compasses point true north "at some
    # point in September 2019" and needles move east by roughly 0.2 degrees a year.
    north = north_at(_terrain(27700), _place(27700, 0.0, 51.4779), DAY)
    assert north is not None
    assert north.magnetic is not None
    assert north.magnetic == pytest.approx(6.0 * 0.18, abs=0.2)
    assert north.drift == pytest.approx(0.2, abs=0.06)


@pytest.mark.parametrize("day", [datetime.date(2024, 12, 31), datetime.date(2030, 1, 1)])
def test_magnetic_north_is_left_out_beyond_the_models_years(day: datetime.date) -> None:
    north = north_at(_terrain(32633), _place(32633, 15.0, 47.0), day)
    assert north is not None
    assert north.magnetic is None
    assert any("left out" in line and "2025 to 2030" in line for line in north_words(north))


def test_words_say_side_year_and_drift() -> None:
    words = " ".join(north_words(North(-0.12, 3.4, -0.08, 2026.9)))
    for said in ("0.1° west of true", "3.4° east of true, in 2026.9", "0.08° west a year"):
        assert said in words


def test_ground_without_a_place_on_earth_has_no_north() -> None:
    assert north_at(Terrain.from_array(np.zeros((2, 2)), 1.0), (0.0, 0.0), DAY) is None
