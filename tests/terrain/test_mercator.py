"""Pictures brought to the browser's projection."""

import math

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.mercator import to_web_mercator
from planner.terrain.sample import cell_centre
from planner.terrain.value import Terrain

CRS = "+proj=tmerc +lat_0=47.3 +lon_0=11.2 +k=1 +datum=WGS84 +units=m"
RADIUS = 6378137.0  # of the sphere that Web Mercator is drawn on, m


def ground(rows: int = 60, cols: int = 90) -> Terrain:
    return Terrain.from_array(np.zeros((rows, cols)), 10.0, origin=(150_000.0, -2000.0), crs=CRS)


def northing(lat: float) -> float:
    return RADIUS * math.asinh(math.tan(math.radians(lat)))


def pixel(
    bounds: tuple[float, ...], shape: tuple[int, ...], lonlat: tuple[float, float]
) -> tuple[float, float]:
    """Fractional (row, col) of a place in a Web Mercator picture."""
    south, west, north, east = bounds
    col = (lonlat[0] - west) / (east - west) * shape[1] - 0.5
    top, bottom = northing(north), northing(south)
    row = (top - northing(lonlat[1])) / (top - bottom) * shape[0] - 0.5
    return row, col


@pytest.mark.parametrize(("row", "col"), [(30, 45), (5, 80), (50, 7)])
def test_a_marked_place_stays_in_place(row: int, col: int) -> None:
    terrain = ground()
    picture = np.zeros(terrain.shape, dtype=np.uint8)
    picture[row - 1 : row + 2, col - 1 : col + 2] = 255
    image, bounds = to_web_mercator(picture, terrain)
    x, y = cell_centre(terrain, row, col)
    lon, lat = to_lonlat(terrain, [[float(x), float(y)]])[0]
    expected = pixel(bounds, image.shape, (float(lon), float(lat)))
    weight = image[..., 0].astype(float)
    rows, cols = np.indices(weight.shape)
    centre = (rows * weight).sum() / weight.sum(), (cols * weight).sum() / weight.sum()
    assert centre == pytest.approx(expected, abs=0.1)


def test_bounds_hold_all_corners() -> None:
    terrain = ground()
    image, (south, west, north, east) = to_web_mercator(
        np.full(terrain.shape, 200, dtype=np.uint8), terrain
    )
    w, s, e, n = terrain.bounds
    lonlat = to_lonlat(terrain, [[w, s], [w, n], [e, s], [e, n]])
    assert (lonlat.min(axis=0) >= np.array([west, south]) - 1e-9).all()
    assert (lonlat.max(axis=0) <= np.array([east, north]) + 1e-9).all()
    assert image.dtype == np.uint8
    assert image.shape[2] == 4
    opaque = image[..., 3] == 255
    assert 0.95 < opaque.mean() < 1.0
    assert (image[opaque][:, :3] == 200).all()
    assert (image[..., 3][~opaque] == 0).all()


def test_holes_are_clear_and_colours_do_not_bleed() -> None:
    terrain = ground()
    z = np.zeros(terrain.shape)
    z[20:30, 20:40] = np.nan
    holed = Terrain(z=z, cell=terrain.cell, origin=terrain.origin, crs=terrain.crs)
    image, _ = to_web_mercator(np.full(terrain.shape, 90, dtype=np.uint8), holed)
    assert (image[22:27, 25:35, 3] == 0).all()
    shown = image[..., 3] > 0
    assert (np.abs(image[shown][:, 0].astype(int) - 90) <= 1).all()


def test_four_channels_keep_their_colours() -> None:
    terrain = ground()
    picture = np.zeros((*terrain.shape, 4), dtype=np.uint8)
    picture[...] = (10, 120, 230, 128)
    image, _ = to_web_mercator(picture, terrain)
    middle = image[20:40, 30:60]
    assert (middle == np.array([10, 120, 230, 128])).all()


def test_pictures_that_do_not_fit() -> None:
    terrain = ground()
    with pytest.raises(TerrainError, match="uint8"):
        to_web_mercator(np.zeros((3, 4), dtype=np.uint8), terrain)
    with pytest.raises(TerrainError, match="uint8"):
        to_web_mercator(np.zeros(terrain.shape), terrain)  # type: ignore[arg-type]
    plain = Terrain.from_array(np.zeros((3, 4)), 1.0)
    with pytest.raises(TerrainError, match="no coordinate system"):
        to_web_mercator(np.zeros((3, 4), dtype=np.uint8), plain)
