"""Writing and reading back."""

from pathlib import Path

import numpy as np
import pytest

from planner.errors import OutputError
from planner.terrain.read import read_terrain
from planner.terrain.value import Terrain
from planner.terrain.write import write_geotiff
from tests.terrain.conftest import hills


def test_what_is_written_is_read_back(tmp_path: Path) -> None:
    z = hills()
    z[:15, :20] = np.nan
    terrain = Terrain.from_array(z, 2.0, origin=(500_000.0, 5_200_000.0), crs="EPSG:32633")
    write_geotiff(terrain, tmp_path / "a.tif")
    back = read_terrain(tmp_path / "a.tif")
    np.testing.assert_array_equal(back.z, z.astype(np.float32))
    assert (back.cell, back.origin, back.crs) == (terrain.cell, terrain.origin, terrain.crs)
    assert not back.provenance.height_unit_assumed
    assert [path.name for path in tmp_path.iterdir()] == ["a.tif"]


def test_local_plane_survives(tmp_path: Path) -> None:
    crs = "+proj=tmerc +lat_0=47.3 +lon_0=11.2 +k=1 +datum=WGS84 +units=m"
    terrain = Terrain.from_array(hills(), 2.0, origin=(-60.0, 40.0), crs=crs)
    write_geotiff(terrain, tmp_path / "a.tif")
    back = read_terrain(tmp_path / "a.tif")
    assert not back.provenance.warped
    assert back.origin == terrain.origin


def test_no_folder_to_write_to(tmp_path: Path) -> None:
    terrain = Terrain.from_array(hills(), 2.0)
    with pytest.raises(OutputError, match=r"a\.tif"):
        write_geotiff(terrain, tmp_path / "nowhere" / "a.tif")
    (tmp_path / "taken.tif").mkdir()
    with pytest.raises(OutputError):
        write_geotiff(terrain, tmp_path / "taken.tif")
    assert [path.name for path in tmp_path.iterdir()] == ["taken.tif"]
