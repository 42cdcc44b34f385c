"""Real elevation data, with the defects it comes with."""

import json
import time
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
from affine import Affine
from matplotlib.cbook import get_sample_data
from scipy.spatial import KDTree

from planner.errors import TerrainError
from planner.terrain.accuracy import looks_like_surface_model
from planner.terrain.drainage import find_streams
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.locate import level_of
from planner.terrain.read import read_terrain
from planner.terrain.relief import slope
from planner.terrain.sample import cell_centre, grid_position, ground_at
from planner.terrain.value import FloatArray, Terrain
from tests.terrain.conftest import Raster

IntArray = npt.NDArray[np.int64]

GULLY = "+proj=tmerc +lat_0=39.5 +lon_0=-104.3 +datum=NAD83 +units=m"


def scenario(folder: Path) -> list[tuple[str, tuple[float, float], float]]:
    """(role, (lon, lat), level) of a set's points."""
    with (folder / "scenario.geojson").open() as file:
        features = json.load(file)["features"]
    return [
        (
            f["properties"]["role"],
            tuple(f["geometry"]["coordinates"]),
            f["properties"]["elevation_m"],
        )
        for f in features
        if f["geometry"]["type"] == "Point"
    ]


def test_lidar_metre_by_metre(shared_data: Path) -> None:
    started = time.perf_counter()
    terrain = read_terrain(shared_data / "gabilan_1m" / "gabilan_utm10.tif")
    assert time.perf_counter() - started < 2.0
    assert terrain.shape == (859, 921)
    assert terrain.cell == (1.0, 1.0)
    assert not terrain.provenance.warped
    assert terrain.provenance.kind == "lidar"
    assert not terrain.provenance.surface_model
    assert terrain.provenance.height_unit_assumed
    assert terrain.provenance.height_unit_doubt is None
    assert np.min(terrain.z) == pytest.approx(187.9, abs=0.01)
    assert np.max(terrain.z) == pytest.approx(307.3, abs=0.03)


def test_scenario_points_lie_at_their_levels(shared_data: Path) -> None:
    for name, files in {
        "gabilan_1m": ["gabilan_utm10.tif"],
        "auckland_1m": ["DEM_BA32_4003_2013.tif", "DEM_BA32_4103_2013.tif"],
        "sanpedro_10m": ["dem.tif"],
    }.items():
        folder = shared_data / name
        terrain = read_terrain([folder / file for file in files])
        for role, lonlat, level in scenario(folder):
            assert level_of(terrain, role, lonlat)[1] == pytest.approx(level, abs=0.02), (
                name,
                role,
            )


def test_the_same_hills_in_feet(shared_data: Path) -> None:
    folder = shared_data / "gabilan_1m"
    metric = read_terrain(folder / "gabilan_utm10.tif")
    feet = read_terrain(folder / "gabilan_derived_ftUS_5ft.tif")
    assert feet.provenance.height_unit == "us_ft"
    assert feet.provenance.warped
    assert feet.cell[0] == pytest.approx(5 * 1200 / 3937, rel=1e-3)
    xy = np.column_stack(cell_centre(metric, *np.mgrid[40:820:7, 40:880:9].reshape(2, -1)))
    local = to_local(feet, to_lonlat(metric, xy))
    off = ground_at(feet, *local.T) - ground_at(metric, *xy.T)
    assert np.isfinite(off).all()
    assert abs(off.mean()) < 0.005
    # Resampled to 1.5 m and back: only banks a metre wide are rounded off further.
    assert np.quantile(np.abs(off), 0.995) < 0.15


def test_wrong_zone_in_the_header_is_read_where_it_says(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "gabilan_1m" / "gabilan.bil")
    assert not terrain.provenance.warped
    assert to_lonlat(terrain, [terrain.origin])[0, 0] == pytest.approx(-114.8, abs=0.1)


def test_two_touching_tiles(shared_data: Path) -> None:
    folder = shared_data / "auckland_1m"
    north, south = (folder / f"DEM_BA32_4{n}03_2013.tif" for n in (0, 1))
    both = read_terrain([south, north])
    assert both.shape == (720 + 259, 480)
    assert not both.provenance.warped
    np.testing.assert_array_equal(both.z[:720], read_terrain(north).z)
    np.testing.assert_array_equal(both.z[720:], read_terrain(south).z)
    steps = np.median(np.abs(np.diff(both.z, axis=0)), axis=1)
    assert steps[719] == pytest.approx(steps[718], rel=0.1)  # across the seam as beside it


@pytest.mark.parametrize(
    ("file", "trees"),
    [
        ("muscatatuck_1m_dsm/dem.tif", True),
        ("gabilan_1m/gabilan_utm10.tif", False),
        ("gabilan_1m/gabilan_derived_ftUS_5ft.tif", False),
        ("auckland_1m/DEM_BA32_4003_2013.tif", False),
        ("auckland_1m/DEM_BA32_4103_2013.tif", False),
    ],
)
def test_trees_and_roofs_are_recognised(shared_data: Path, file: str, *, trees: bool) -> None:
    terrain = read_terrain(shared_data / file)
    assert looks_like_surface_model(terrain) is trees
    assert terrain.provenance.surface_model is trees


def test_compound_system_states_metres(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "muscatatuck_1m_dsm" / "dem.tif")
    assert not terrain.provenance.height_unit_assumed
    assert np.isnan(terrain.z).mean() == pytest.approx(0.032, abs=0.001)
    assert terrain.crs is not None
    assert terrain.crs.to_epsg() == 32616


def test_unlabelled_feet_raise_a_doubt(shared_data: Path) -> None:
    path = shared_data / "inl_100m_feet" / "inl_dem_crop_feet.tif"
    doubt = read_terrain(path).provenance.height_unit_doubt
    assert "feet" in (doubt or "")
    told = read_terrain(path, height_unit="ft")
    assert told.provenance.height_unit_doubt is None
    assert np.max(told.z) == pytest.approx(11704 * 0.3048)


@pytest.mark.parametrize(
    "file",
    [
        "gabilan_1m/gabilan_utm10.tif",
        "auckland_1m/DEM_BA32_4003_2013.tif",
        "sanpedro_10m/dem.tif",
        "bigtujunga_30m/bigtujunga.tif",
    ],
)
def test_hilly_data_read_in_the_wrong_unit_raises_a_doubt(
    shared_data: Path, raster: Raster, file: str
) -> None:
    """The true heights, written as unlabelled feet."""
    terrain = read_terrain(shared_data / file)
    assert terrain.provenance.height_unit_doubt is None
    at = Affine(terrain.cell[0], 0, terrain.origin[0], 0, -terrain.cell[1], terrain.origin[1])
    assert terrain.crs is not None
    path = raster("feet.tif", terrain.z / 0.3048, at, crs=terrain.crs.to_wkt())
    assert "may be in feet" in (read_terrain(path).provenance.height_unit_doubt or "")


def test_whole_metre_mountains(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "bigtujunga_30m" / "bigtujunga.tif")
    assert terrain.shape == (643, 1197)
    assert (np.min(terrain.z), np.max(terrain.z)) == (315.0, 2295.0)
    assert terrain.provenance.kind == "satellite"
    assert terrain.provenance.standard_error == 5.7
    largest = find_streams(terrain)[0]
    levels = ground_at(terrain, *largest.xy.T)
    assert levels[0] > levels[-1]
    assert largest.catchment > 2e8


def test_sea_of_zeros(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "sanpedro_10m" / "dem.tif")
    west, _, _, north = terrain.bounds
    at_sea = to_lonlat(terrain, [[west + 500.0, north - 2000.0]])[0]
    assert ground_at(terrain, west + 500.0, north - 2000.0) == 0.0
    with pytest.raises(TerrainError, match=r"'pier'.*flat area of level 0"):
        level_of(terrain, "pier", (float(at_sea[0]), float(at_sea[1])))
    for stream in find_streams(terrain):
        assert (terrain.z[_cells(terrain, stream.xy[:-1])] != 0.0).mean() > 0.9


def _cells(terrain: Terrain, xy: FloatArray) -> tuple[IntArray, IntArray]:
    row, col = grid_position(terrain, *xy.T)
    return np.round(row).astype(int), np.round(col).astype(int)


def test_found_streams_follow_the_mapped_ones(shared_data: Path) -> None:
    """The mapped stream lines of the same package, drawn independently of this elevation data."""
    geopandas = pytest.importorskip("geopandas")
    folder = shared_data / "sanpedro_10m"
    terrain = read_terrain(folder / "dem.tif")
    mapped = geopandas.read_file(folder / "streams.shp").to_crs(terrain.crs)
    lines = mapped.geometry.explode().dropna()
    dots = np.vstack([np.array(line.segmentize(50.0).coords)[:, :2] for line in lines])
    west, south, east, north = terrain.bounds
    inside = (dots[:, 0] > west) & (dots[:, 0] < east) & (dots[:, 1] > south) & (dots[:, 1] < north)
    found = np.vstack([s.xy for s in find_streams(terrain, catchment=100_000.0)])
    away, _ = KDTree(found).query(dots[inside])
    assert np.median(away) < 30.0


def test_grids_without_a_coordinate_system(shared_data: Path) -> None:
    folder = shared_data / "landlab_small"
    path = folder / "bijou_gully_subset_5m_edit_dx_filled.asc"
    with pytest.raises(TerrainError, match="no coordinate system"):
        read_terrain(path)
    terrain = read_terrain(path, crs=GULLY)
    assert terrain.shape == (77, 105)
    assert terrain.cell == pytest.approx((4.988744589, 4.988744589))
    assert not terrain.provenance.warped
    assert (np.min(terrain.z), np.max(terrain.z)) == pytest.approx((1673.1, 1729.9), abs=0.1)
    # At easting 0 of a UTM zone a metre is 1.003 m long.
    assert read_terrain(path, crs="EPSG:26913").provenance.warped


def test_void_that_is_not_declared(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "landlab_small" / "hugo_site_filled.asc", crs=GULLY)
    assert np.nanmin(terrain.z) > 1600.0
    assert np.isnan(terrain.z).any()


def test_void_declared_as_zero(shared_data: Path) -> None:
    terrain = read_terrain(shared_data / "landlab_small" / "west_bijou_gully.asc", crs="EPSG:26913")
    assert np.isnan(terrain.z).mean() == pytest.approx(0.716, abs=0.002)
    assert np.nanmin(terrain.z) > 1600.0


def test_arc_seconds(shared_data: Path) -> None:
    path = shared_data / "landlab_small" / "west_bijou_escarpment_snippet.asc"
    terrain = read_terrain(path, crs="EPSG:4269")
    assert terrain.provenance.native_cell == pytest.approx(30.84, abs=0.1)
    assert (np.nanmin(terrain.z), np.nanmax(terrain.z)) == pytest.approx((1690, 1807), abs=2.0)
    assert np.nanquantile(slope(terrain), 0.99) < 1.0


def test_sample_that_matplotlib_installs(raster: Raster) -> None:
    """Geographic, coarse, and its ymin is larger than its ymax."""
    sample: Any = get_sample_data("jacksboro_fault_dem.npz")
    with sample as dem:
        z, dx, dy = dem["elevation"], float(dem["dx"]), float(dem["dy"])
        west, north = float(dem["xmin"]), max(float(dem["ymin"]), float(dem["ymax"]))
    at = Affine(dx, 0, west, 0, -dy, north)
    path = raster("jacksboro.tif", z, at, crs="EPSG:4326", dtype="int16")
    terrain = read_terrain(path)
    assert terrain.provenance.warped
    assert terrain.provenance.kind == "satellite"
    assert np.isfinite(terrain.z).mean() > 0.95
    row, col = np.mgrid[20 : z.shape[0] - 20 : 9, 20 : z.shape[1] - 20 : 7].reshape(2, -1)
    lonlat = np.column_stack([west + (col + 0.5) * dx, north - (row + 0.5) * dy])
    off = ground_at(terrain, *to_local(terrain, lonlat).T) - z[row, col]
    assert abs(off.mean()) < 0.5
    assert np.sqrt(np.mean(off**2)) < 4.0  # once more bilinear between 76 m cells
