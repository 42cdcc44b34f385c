"""Warping: what is not metric on the ground must come out at the right place, to the millimetre.

A surface that is linear in the file's own x and y is bilinear between its cells without any
error, so what is left is the error of position. Steep planes make half a cell show at once.
"""

from pathlib import Path

import numpy as np
import pytest
from affine import Affine
from pyproj import Transformer

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.read import read_terrain
from planner.terrain.sample import cell_centre
from planner.terrain.value import FloatArray, Terrain
from tests.terrain.conftest import Raster

SHAPE = (70, 90)

CASES = {
    "degrees": ("EPSG:4326", Affine(2e-5, 0, 15.2, 0, -2e-5, 47.1)),
    "degrees south-up": ("EPSG:4326", Affine(2e-5, 0, 15.2, 0, 2e-5, 47.1)),
    "feet": ("EPSG:2228", Affine(5.0, 0, 6_021_400.0, 0, -5.0, 1_862_000.0)),
    "web mercator": ("EPSG:3857", Affine(2.0, 0, 1_690_000.0, 0, -2.0, 5_950_000.0)),
    "oblong": ("EPSG:32633", Affine(1.0, 0, 500_000.0, 0, -3.0, 5_200_000.0)),
    "south-up": ("EPSG:32633", Affine(2.0, 0, 500_000.0, 0, 2.0, 5_200_000.0)),
    "rotated": (
        "EPSG:32633",
        Affine.translation(500_000.0, 5_200_000.0) @ Affine.rotation(33.0) @ Affine.scale(2, -2),
    ),
    "far off its zone": ("EPSG:32633", Affine(2.0, 0, 950_000.0, 0, -2.0, 5_200_000.0)),
    "past the date line": ("EPSG:4326", Affine(2e-5, 0, 179.9991, 0, -2e-5, -17.5)),
    "0 to 360 degrees": ("EPSG:4326", Affine(2e-5, 0, 239.2, 0, -2e-5, 36.0)),
}


def level(crs: str, at: Affine, x: FloatArray, y: FloatArray) -> FloatArray:
    """Height [m], linear in the file's x and y, some 0.5 m/m steep."""
    unit = 90_000.0 if crs == "EPSG:4326" else 1.0  # m per unit of x
    result: FloatArray = 1000.0 + unit * (0.4 * (x - at.c) - 0.3 * (y - at.f))
    return result


def source(crs: str, at: Affine) -> FloatArray:
    row, col = np.mgrid[: SHAPE[0], : SHAPE[1]] + 0.5
    return level(crs, at, at.a * col + at.b * row + at.c, at.d * col + at.e * row + at.f)


def true_level(terrain: Terrain, crs: str, at: Affine) -> FloatArray:
    """The surface at every cell centre of a terrain, by way of its longitude and latitude."""
    x, y = cell_centre(terrain, *np.indices(terrain.shape))
    lonlat = to_lonlat(terrain, np.column_stack([x.ravel(), y.ravel()]))
    fx, fy = Transformer.from_crs("EPSG:4326", crs, always_xy=True).transform(*lonlat.T)
    if crs == "EPSG:4326":
        fx = np.where(fx < at.c - 180.0, fx + 360.0, fx)
    return level(crs, at, fx, fy).reshape(terrain.shape)


@pytest.mark.parametrize("case", CASES)
def test_every_cell_lies_where_it_should(raster: Raster, case: str) -> None:
    crs, at = CASES[case]
    terrain = read_terrain(raster("a.tif", source(crs, at), at, crs=crs), height_unit="m")
    assert terrain.provenance.warped
    assert terrain.cell[0] == terrain.cell[1]
    inner = terrain.z[4:-4, 4:-4] if case != "rotated" else terrain.z
    assert np.isfinite(inner).mean() > (0.95 if case != "rotated" else 0.4)  # corners turn away
    off = np.abs(terrain.z - true_level(terrain, crs, at))
    # Only in the outer half cell of the file may the surface be held level.
    assert np.nanquantile(off, 0.9) < 2e-4
    assert np.nanmax(off) < 0.6 * max(terrain.cell) * 3.0


@pytest.mark.parametrize("case", CASES)
def test_native_resolution_on_the_ground(raster: Raster, case: str) -> None:
    crs, at = CASES[case]
    terrain = read_terrain(raster("a.tif", source(crs, at), at, crs=crs), height_unit="m")
    lat = np.radians(to_lonlat(terrain, [[0.0, 0.0]])[0, 1])
    expected = {
        "degrees": 2e-5 * 111_320 * np.cos(lat),
        "degrees south-up": 2e-5 * 111_320 * np.cos(lat),
        "feet": 5.0 * 1200 / 3937,
        "web mercator": 2.0 * np.cos(lat),
        "oblong": 1.0,
        "past the date line": 2e-5 * 111_320 * np.cos(lat),
        "0 to 360 degrees": 2e-5 * 111_320 * np.cos(lat),
    }.get(case, 2.0)
    assert terrain.cell[0] == pytest.approx(expected, rel=5e-3)
    assert terrain.provenance.native_cell >= terrain.cell[0] * (1 - 1e-6)


def test_window_of_a_file_in_degrees(raster: Raster) -> None:
    crs, at = CASES["degrees"]
    path = raster("a.tif", source(crs, at), at, crs=crs)
    terrain = read_terrain(path, around=(15.2006, 47.0993, 15.2009, 47.0995), margin=20.0)
    west, south, east, north = terrain.bounds
    width = 0.0003 * 111_320 * np.cos(np.radians(47.1))
    assert east - west == pytest.approx(width + 40.0, abs=2 * terrain.cell[0] + 0.2)
    assert north - south == pytest.approx(0.0002 * 111_170 + 40.0, abs=2 * terrain.cell[0] + 0.2)
    assert np.isfinite(terrain.z).all()
    assert np.nanmax(np.abs(terrain.z - true_level(terrain, crs, at))) < 2e-4


def test_window_past_the_date_line(raster: Raster) -> None:
    crs, at = CASES["past the date line"]
    path = raster("a.tif", source(crs, at), at, crs=crs)
    box = (-179.9997, -17.5007, -179.9996, -17.5006)
    terrain = read_terrain(path, around=box, margin=5.0)
    assert np.isfinite(terrain.z).all()
    assert np.nanmax(np.abs(terrain.z - true_level(terrain, crs, at))) < 2e-4


def test_no_seam_at_a_zone_border(raster: Raster) -> None:
    """Two files that meet at 12° E, one in UTM 32, the other in UTM 33, show one even slope."""
    lonlat_slope = 60_000.0  # m per degree of longitude
    files = []
    for zone, west in ((32, -150.0), (33, -10.0)):
        crs = f"EPSG:326{zone}"
        to_zone = Transformer.from_crs("EPSG:4326", crs, always_xy=True)
        x0, y0 = to_zone.transform(12.0, 47.0)
        at = Affine(1.0, 0, round(x0) + west, 0, -1.0, round(y0) + 40.0)
        row, col = np.mgrid[:80, :160] + 0.5
        lon, _ = to_zone.transform(at.c + col, at.f - row, direction="INVERSE")
        files.append(raster(f"{zone}.tif", 500.0 + lonlat_slope * (lon - 12.0), at, crs=crs))
    terrain = read_terrain(files)
    assert terrain.provenance.warped
    x, y = cell_centre(terrain, *np.indices(terrain.shape))
    lon = to_lonlat(terrain, np.column_stack([x.ravel(), y.ravel()]))[:, 0]
    off = np.abs(terrain.z - (500.0 + lonlat_slope * (lon - 12.0)).reshape(terrain.shape))
    middle = off[:, 120:-120]
    assert np.isfinite(middle[20:-20]).all()
    assert np.nanquantile(off, 0.97) < 1e-3
    assert np.nanmax(middle) < 0.5  # the held half cell at a file's edge, 0.8 m/m steep


def test_tiles_in_degrees_join_without_a_seam(raster: Raster) -> None:
    crs, at = CASES["degrees"]
    z = source(crs, at)
    whole = read_terrain(raster("whole.tif", z, at, crs=crs))
    parts = read_terrain(
        [
            raster("east.tif", z[:, 40:], at @ Affine.translation(40, 0), crs=crs),
            raster("west.tif", z[:, :40], at, crs=crs),
        ],
    )
    known = np.isfinite(whole.z)
    assert parts.shape == whole.shape
    assert np.abs(parts.z - whole.z)[known].max() < 0.02  # the plane's centre may move a little


def test_holes_keep_their_place(raster: Raster) -> None:
    crs, at = CASES["degrees"]
    z = source(crs, at)
    z[20:50, 30:70] = np.nan
    terrain = read_terrain(raster("a.tif", z, at, crs=crs))
    x, y = cell_centre(terrain, *np.indices(terrain.shape))
    lonlat = to_lonlat(terrain, np.column_stack([x.ravel(), y.ravel()]))
    col = ((lonlat[:, 0] - at.c) / at.a).reshape(terrain.shape)
    row = ((lonlat[:, 1] - at.f) / at.e).reshape(terrain.shape)
    inside = (row > 20) & (row < 50) & (col > 30) & (col < 70)
    near = (row > 19) & (row < 51) & (col > 29) & (col < 71)
    on_grid = (row > 1) & (row < SHAPE[0] - 1) & (col > 1) & (col < SHAPE[1] - 1)
    assert np.isnan(terrain.z[inside]).all()
    assert np.isfinite(terrain.z[on_grid & ~near]).all()
    off = np.abs(terrain.z - true_level(terrain, crs, at))
    assert np.nanmax(off[on_grid]) < 2e-4


def test_averaged_after_warping(raster: Raster) -> None:
    crs, at = CASES["feet"]
    path = raster("a.tif", source(crs, at), at, crs=crs)
    terrain = read_terrain(path, height_unit="m", max_cells=800)
    assert terrain.provenance.coarsened == 3
    off = np.abs(terrain.z - true_level(terrain, crs, at))
    assert np.nanmedian(off) < 1e-3


def test_the_whole_globe_is_too_much(raster: Raster) -> None:
    path = raster("a.tif", np.ones((90, 180)), Affine(2, 0, -180, 0, -2, 90), crs="EPSG:4326")
    with pytest.raises(TerrainError, match=r"too much|does not fit"):
        read_terrain(path)
    part = read_terrain(path, around=(15.0, 47.0, 15.1, 47.1))
    assert np.all(part.z == 1.0)


def test_wrong_coordinate_system_is_said(raster: Raster, tmp_path: Path) -> None:
    """Metres called degrees."""
    at = Affine(2.0, 0, 500_000.0, 0, -2.0, 5_200_000.0)
    with pytest.raises(TerrainError, match="outside its coordinate system"):
        read_terrain(raster("a.tif", np.ones((30, 40)), at, crs=None), crs="EPSG:4326")
