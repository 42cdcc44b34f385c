"""How far elevation files reach, told from their headers."""

import numpy as np
import pytest
from affine import Affine

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.reach import reach_of
from planner.terrain.read import read_terrain
from tests.terrain.conftest import Raster, hills


def test_the_reach_of_one_file_holds_its_corners_closely(raster: Raster) -> None:
    path = raster("a.tif", hills(), Affine(2.0, 0.0, 500_400.0, 0.0, -2.0, 5_200_600.0))
    terrain = read_terrain(path)
    west, south, east, north = terrain.bounds
    lonlat = to_lonlat(terrain, [(west, south), (west, north), (east, south), (east, north)])
    assert reach_of([path]) == pytest.approx((*lonlat.min(axis=0), *lonlat.max(axis=0)), abs=1e-7)


def test_several_files_reach_as_far_as_all_together(raster: Raster) -> None:
    west, east = Affine(0.5, 0.0, 11.0, 0.0, -0.5, 47.0), Affine(0.5, 0.0, 14.0, 0.0, -0.5, 49.0)
    one = raster("one.tif", np.ones((2, 2)), west, crs="EPSG:4326")
    two = raster("two.tif", np.ones((2, 2)), east, crs="EPSG:4326")
    assert reach_of([one, two]) == pytest.approx((11.0, 46.0, 15.0, 49.0))


def test_a_file_without_a_coordinate_system_needs_one_named(raster: Raster) -> None:
    path = raster("a.tif", np.ones((2, 2)), Affine(1.0, 0.0, 5.0, 0.0, -1.0, 47.0), crs=None)
    with pytest.raises(TerrainError, match="no coordinate system"):
        reach_of([path])
    assert reach_of([path], crs="EPSG:4326") == pytest.approx((5.0, 45.0, 7.0, 47.0))
