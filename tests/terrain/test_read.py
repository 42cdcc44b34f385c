"""Reading: cell for cell where the data is metric, windows, mosaics, coarsening, units, voids."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
from affine import Affine
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.read import read_terrain
from tests.terrain.conftest import Raster, hills, write_raster

AT = Affine(2.0, 0.0, 500_400.0, 0.0, -2.0, 5_200_600.0)


def test_metric_file_is_used_cell_for_cell(raster: Raster) -> None:
    z = hills()
    terrain = read_terrain(raster("a.tif", z, AT))
    np.testing.assert_array_equal(terrain.z, z)
    assert terrain.cell == (2.0, 2.0)
    assert terrain.origin == (500_400.0, 5_200_600.0)
    assert terrain.crs is not None
    assert terrain.crs.to_epsg() == 32633
    about = terrain.provenance
    assert (about.files, about.native_cell, about.warped) == (("a.tif",), 2.0, False)
    assert (about.kind, about.standard_error, about.coarsened) == ("lidar", 0.3, 1)


@pytest.mark.parametrize(
    ("name", "driver"), [("a.asc", "AAIGrid"), ("a.img", "HFA"), ("a.tif", "COG")]
)
def test_other_formats(tmp_path: Path, raster: Raster, name: str, driver: str) -> None:
    rasterio = pytest.importorskip("rasterio.shutil")
    plain = raster("plain.tif", hills(), AT, dtype="float32")
    rasterio.copy(plain, tmp_path / name, driver=driver)
    terrain = read_terrain(tmp_path / name, crs="EPSG:32633")
    np.testing.assert_allclose(terrain.z, hills(), atol=1e-3)


def test_virtual_raster_of_two_tiles(tmp_path: Path, raster: Raster) -> None:
    raster("left.tif", hills()[:, :25], AT)
    vrt = tmp_path / "both.vrt"
    vrt.write_text(
        '<VRTDataset rasterXSize="25" rasterYSize="40"><SRS>EPSG:32633</SRS>'
        "<GeoTransform>500400, 2, 0, 5200600, 0, -2</GeoTransform>"
        '<VRTRasterBand dataType="Float64" band="1"><SimpleSource>'
        '<SourceFilename relativeToVRT="1">left.tif</SourceFilename><SourceBand>1</SourceBand>'
        "</SimpleSource></VRTRasterBand></VRTDataset>"
    )
    np.testing.assert_array_equal(read_terrain(vrt).z, hills()[:, :25])


def window_box(path: Path, west: float, south: float, east: float, north: float) -> Any:
    corners = to_lonlat(read_terrain(path), [[west, south], [east, north]])
    return (*corners[0], *corners[1])


def test_window_with_margin_keeps_the_cells(raster: Raster) -> None:
    path = raster("a.tif", hills(), AT)
    box = window_box(path, 500_430.0, 5_200_550.0, 500_450.0, 5_200_560.0)
    part = read_terrain(path, around=box, margin=10.0)
    west, south, east, north = part.bounds
    assert west <= 500_420.1
    assert east >= 500_459.9
    assert south <= 5_200_540.1
    assert north >= 5_200_569.9
    assert part.shape[0] < 25
    assert part.shape[1] < 30
    row, col = round((5_200_600.0 - north) / 2.0), round((west - 500_400.0) / 2.0)
    rows, cols = part.shape
    np.testing.assert_array_equal(part.z, hills()[row : row + rows, col : col + cols])


def test_adjoining_and_overlapping_tiles(raster: Raster) -> None:
    z = hills()
    files = [
        raster("ne.tif", z[:22, 28:], AT @ Affine.translation(28, 0)),
        raster("nw.tif", z[:22, :30], AT),
        raster("s.tif", z[20:], AT @ Affine.translation(0, 20)),
    ]
    terrain = read_terrain(files)
    np.testing.assert_array_equal(terrain.z, z)
    assert terrain.provenance.files == ("ne.tif", "nw.tif", "s.tif")


def test_hole_of_one_file_is_taken_from_the_next(raster: Raster) -> None:
    z = hills()
    holed = z.copy()
    holed[5:30, 5:30] = np.nan
    terrain = read_terrain([raster("holed.tif", holed, AT), raster("whole.tif", z + 1.0, AT)])
    assert terrain.z[10, 10] == z[10, 10] + 1.0
    assert terrain.z[0, 0] == z[0, 0]
    assert not terrain.filled.any()


def test_file_far_away_is_lost_and_said(raster: Raster) -> None:
    near = raster("near.tif", hills(), AT)
    far = raster("far.tif", hills(), Affine(2.0, 0.0, 540_000.0, 0.0, -2.0, 5_200_600.0))
    box = window_box(near, 500_430.0, 5_200_550.0, 500_450.0, 5_200_560.0)
    terrain = read_terrain([far, near], around=box)
    assert terrain.provenance.files == ("near.tif",)
    assert terrain.provenance.lost_files == ("far.tif",)
    assert not terrain.provenance.warped


def test_no_file_at_the_sketch_names_the_extents(raster: Raster) -> None:
    with pytest.raises(TerrainError, match=r"longitude 7\.50000.*a\.tif covers longitude 15\.00"):
        read_terrain(raster("a.tif", hills(), AT), around=(7.4, 46.9, 7.6, 47.1))


def test_fine_data_lies_over_coarse(raster: Raster) -> None:
    coarse = raster(
        "coarse.tif",
        np.full((40, 40), 100.0),
        Affine(10.0, 0.0, 500_300.0, 0.0, -10.0, 5_200_700.0),
    )
    fine = raster("fine.tif", np.full((40, 60), 200.0), AT)
    terrain = read_terrain([coarse, fine])
    assert terrain.provenance.warped
    assert terrain.cell[0] == pytest.approx(2.0, rel=1e-3)
    assert set(np.unique(np.round(terrain.z[np.isfinite(terrain.z)], 9))) == {100.0, 200.0}
    assert terrain.provenance.native_cell == pytest.approx(10.0, rel=1e-3)


def test_large_window_is_averaged(raster: Raster) -> None:
    z = hills(41, 61)
    z[0, 0] = np.nan
    terrain = read_terrain(raster("a.tif", z, AT), max_cells=300)
    assert terrain.provenance.coarsened == 3
    assert terrain.shape == (13, 20)
    assert terrain.cell == (6.0, 6.0)
    assert terrain.provenance.native_cell == 2.0
    assert terrain.z[0, 0] == pytest.approx(np.nanmean(z[:3, :3]))
    assert terrain.z[4, 7] == pytest.approx(z[12:15, 21:24].mean())


@given(row=st.integers(-300, 300), col=st.integers(-300, 300))
@settings(
    max_examples=10, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_a_shifted_file_gives_the_shifted_terrain(raster: Raster, row: int, col: int) -> None:
    one = read_terrain(raster("a.tif", hills(), AT))
    other = read_terrain(raster("b.tif", hills(), AT @ Affine.translation(col, row)))
    np.testing.assert_array_equal(one.z, other.z)
    assert other.origin == (one.origin[0] + 2.0 * col, one.origin[1] - 2.0 * row)


@pytest.mark.parametrize("void", [np.nan, np.inf, -np.inf, -9999.0, -32768.0, 3.4e38, -999.0])
def test_cells_that_are_no_height_become_void(raster: Raster, void: float) -> None:
    z = hills()
    z[10:25, 10:25] = void
    z[30, 30] = void
    terrain = read_terrain(raster("a.tif", z, AT))
    assert np.isnan(terrain.z).sum() == 15 * 15
    assert terrain.filled.sum() == 1
    assert terrain.filled[30, 30]
    assert terrain.z[30, 30] == pytest.approx(hills()[30, 30], abs=0.05)


def test_declared_void_and_scaled_heights(raster: Raster) -> None:
    z = np.round(hills() * 10.0)
    z[:20, :20] = 0
    path = raster("a.tif", z, AT, dtype="int32", nodata=0)
    import rasterio  # noqa: PLC0415

    with rasterio.open(path, "r+") as dataset:
        dataset.scales = (0.1,)
        dataset.offsets = (5.0,)
    terrain = read_terrain(path)
    assert np.isnan(terrain.z).sum() == 400
    np.testing.assert_allclose(terrain.z[20:], z[20:] * 0.1 + 5.0)


def test_second_band(raster: Raster) -> None:
    path = raster("a.tif", np.stack([hills(), hills() + 50.0]), AT)
    np.testing.assert_array_equal(read_terrain(path, band=2).z, hills() + 50.0)


# --- units ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("unit", "metres", "name"),
    [("metre", 1.0, "m"), ("ft", 0.3048, "ft"), ("US survey foot", 1200 / 3937, "us_ft")],
)
def test_unit_tag_of_the_file(raster: Raster, unit: str, metres: float, name: str) -> None:
    terrain = read_terrain(raster("a.tif", hills(), AT, unit=unit))
    np.testing.assert_allclose(terrain.z, hills() * metres, rtol=1e-12)
    assert terrain.provenance.height_unit == name
    assert not terrain.provenance.height_unit_assumed


def test_unit_of_the_vertical_system(raster: Raster) -> None:
    # EPSG:6360 is NAVD88 height (ftUS), EPSG:5703 NAVD88 height in metres.
    feet = read_terrain(raster("f.tif", hills(), AT, crs="EPSG:26910+6360"))
    assert feet.provenance.height_unit == "us_ft"
    assert feet.z[3, 4] == pytest.approx(hills()[3, 4] * 1200 / 3937)
    assert feet.crs is not None
    assert not feet.crs.is_compound
    metres = read_terrain(raster("m.tif", hills(), AT, crs="EPSG:26910+5703"))
    assert metres.provenance.height_unit == "m"
    assert not metres.provenance.height_unit_assumed


def test_unit_given_and_unit_assumed(raster: Raster) -> None:
    path = raster("a.tif", hills(), AT)
    given_feet = read_terrain(path, height_unit="ft")
    assert given_feet.z[3, 4] == pytest.approx(hills()[3, 4] * 0.3048)
    assert not given_feet.provenance.height_unit_assumed
    assumed = read_terrain(path)
    assert assumed.provenance.height_unit_assumed
    assert assumed.provenance.height_unit_doubt is None


def test_file_and_user_disagree_on_the_unit(raster: Raster) -> None:
    terrain = read_terrain(raster("a.tif", hills(), AT, unit="metre"), height_unit="ft")
    assert terrain.z[3, 4] == hills()[3, 4]
    assert "feet" in (terrain.provenance.height_unit_doubt or "")


def test_steep_heights_raise_a_doubt(raster: Raster) -> None:
    _, x = np.mgrid[:40, :60] * 2.0
    slope_in_feet = 0.5 * x / 0.3048
    doubt = read_terrain(raster("a.tif", slope_in_feet, AT)).provenance.height_unit_doubt
    assert "100% of the ground would be steeper than 50°" in (doubt or "")
    honest = read_terrain(raster("b.tif", slope_in_feet, AT), height_unit="ft")
    assert honest.provenance.height_unit_doubt is None


def test_plan_in_feet_without_height_unit_raises_a_doubt(raster: Raster) -> None:
    at = Affine(5.0, 0.0, 6_021_000.0, 0.0, -5.0, 1_862_000.0)
    path = raster("a.tif", hills(), at, crs="EPSG:2228")
    assert "plan is in feet" in (read_terrain(path).provenance.height_unit_doubt or "")
    assert read_terrain(path, height_unit="us_ft").provenance.height_unit_doubt is None


def test_said_of_the_data_goes_before_guesses(raster: Raster) -> None:
    terrain = read_terrain(
        raster("a.tif", hills(), AT), kind="photogrammetry", standard_error=0.8, surface_model=True
    )
    about = terrain.provenance
    assert (about.kind, about.standard_error, about.surface_model) == ("photogrammetry", 0.8, True)


@pytest.mark.parametrize(
    "wrong",
    [
        {"standard_error": -1.0},
        {"standard_error": float("nan")},
        {"height_unit": "cubit"},
        {"kind": "guess"},
        {"max_cells": 0},
        {"margin": -5.0},
        {"around": (15.2, 46.9, 15.1, 47.0)},
        {"around": (46.9, 150.0, 47.0, 151.0)},
        {"around": (float("nan"), 46.9, 15.1, 47.0)},
        {"crs": "EPSG:999999"},
    ],
)
def test_wrong_settings_are_refused(tmp_path: Path, wrong: dict[str, Any]) -> None:
    path = write_raster(tmp_path / "a.tif", hills(), AT, crs=None)
    with pytest.raises(TerrainError):
        read_terrain(path, **{"crs": "EPSG:32633", **wrong})


def test_all_void_is_an_error(raster: Raster) -> None:
    with pytest.raises(TerrainError, match="holds no height"):
        read_terrain(raster("a.tif", np.full((30, 40), -9999.0), AT))


def test_strip_too_thin_to_average(raster: Raster) -> None:
    with pytest.raises(TerrainError, match="too thin"):
        read_terrain(raster("a.tif", np.ones((1, 500)), AT), max_cells=10)


def test_one_cell(raster: Raster) -> None:
    terrain = read_terrain(raster("a.tif", [[7.0]], AT))
    assert terrain.shape == (1, 1)
    assert terrain.z[0, 0] == 7.0
