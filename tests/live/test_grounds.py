"""The ground under a sketch: read once, and again where it must be."""

import os
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.live.grounds import Grounds, ground_name
from planner.site.value import Elevation, Point
from planner.terrain.frame import to_local
from planner.terrain.reach import cells_of
from planner.terrain.value import Terrain
from tests.command import COLS, ROWS, lonlat, slope, write_dem
from tests.live.drafts import read_whole


def spot(name: str, east: float, south: float) -> Point:
    lon, lat = lonlat(east, south)
    return Point(name, "way", (lon, lat))


NEAR = (spot("a", 40, 50), spot("b", 60, 70))


@pytest.fixture
def data(tmp_path: Path) -> Elevation:
    return Elevation(files=(write_dem(tmp_path / "dem.tif"),), margin=2.0)


def silent(_: str) -> None:
    """Nobody listens."""


def read(grounds: Grounds, data: Elevation, *points: Point) -> Terrain:
    return grounds.of(data, points, complete=True)


def test_small_data_is_read_whole_and_once(data: Elevation) -> None:
    said: list[str] = []
    grounds = Grounds(said.append)
    ground = grounds.of(data, (), complete=False)
    assert ground.shape == (ROWS, COLS)
    assert read(grounds, data, *NEAR) is ground
    assert said == ["reading the elevation data"]


def test_other_words_on_the_data_and_a_changed_file_are_read_anew(data: Elevation) -> None:
    grounds = Grounds(silent)
    ground = read(grounds, data, *NEAR)
    assert read(grounds, replace(data, standard_error=0.4), *NEAR) is not ground
    ground = read(grounds, data, *NEAR)
    write_dem(data.files[0], slope() + 1.0)
    os.utime(data.files[0], ns=(1, 1))
    again = read(grounds, data, *NEAR)
    assert again is not ground
    np.testing.assert_allclose(again.z, slope() + 1.0, atol=1e-4)


def test_a_file_that_is_gone_is_told(data: Elevation) -> None:
    data.files[0].unlink()
    with pytest.raises(TerrainError, match="there is no elevation file"):
        read(Grounds(silent), data, *NEAR)


def test_cells_are_counted_from_the_headers(data: Elevation) -> None:
    assert cells_of(data.files) == ROWS * COLS


def test_of_large_data_the_ground_round_the_sketch_is_read_and_kept_while_it_lies_there(
    data: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    read_whole(monkeypatch, 3600)
    grounds = Grounds(silent)
    thin = grounds.of(data, (), complete=False)
    assert thin.bounds[2] - thin.bounds[0] == pytest.approx(COLS, abs=thin.cell[0])
    assert thin.cell[0] > 1.0
    ground = grounds.of(data, NEAR, complete=True)
    assert ground.cell == (1.0, 1.0)
    assert ground.z.size == pytest.approx(3600, rel=0.1)
    west, south, east, north = ground.bounds
    x, y = to_local(ground, [point.at for point in NEAR]).T
    assert x.min() - west == pytest.approx(east - x.max(), abs=1.5)
    assert y.min() - south == pytest.approx(north - y.max(), abs=1.5)
    assert read(grounds, data, spot("a", 35, 45), NEAR[1]) is ground
    kept = grounds.reading
    other = read(grounds, data, spot("a", 2, 2), NEAR[1])
    assert ground_name(other) != ground_name(ground)
    assert kept is not None
    assert ground_name(Grounds(silent).read(kept)) == ground_name(ground)


def test_a_sketch_wider_than_the_cells_go_still_has_the_margin_asked_for(
    data: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    read_whole(monkeypatch, 300)
    points = spot("a", 30, 40), spot("b", 70, 80)
    ground = Grounds(silent).of(data, points, complete=True)
    assert ground.shape == pytest.approx((44, 44), abs=1)
