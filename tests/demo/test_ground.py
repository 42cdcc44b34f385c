"""The demo's ground is what data/make_demo_terrain.py makes, and it is fit for what it shows."""

from pathlib import Path

import numpy as np
import pytest
import rasterio
from scipy import ndimage

import planner.demo
from data.make_demo_terrain import CRS, NORTH, WEST, make_levels, sensor_noise, stream_line, write

FILE = Path(planner.demo.__file__).with_name("larch-hollow-dem.tif")


def committed() -> np.ndarray[tuple[int, int], np.dtype[np.float32]]:
    with rasterio.open(FILE) as file:
        levels: np.ndarray[tuple[int, int], np.dtype[np.float32]] = file.read(1)
        return levels


@pytest.mark.slow
def test_the_script_makes_the_committed_file(tmp_path: Path) -> None:
    write(make_levels(), tmp_path / "again.tif")
    with rasterio.open(tmp_path / "again.tif") as again, rasterio.open(FILE) as file:
        assert again.profile == file.profile
        # Levels are rounded to 1 cm; another machine's last bit may tip one now and then.
        off = np.abs(again.read(1) - file.read(1))
    assert off.max() < 0.015
    assert np.mean(off > 0.005) < 1e-3


def test_the_file_is_small_and_lies_where_it_should() -> None:
    assert FILE.stat().st_size < 700_000
    with rasterio.open(FILE) as file:
        assert file.crs.to_string() == CRS
        assert file.bounds == (WEST, NORTH - 600.0, WEST + 600.0, NORTH)
        assert file.res == (1.0, 1.0)
        assert file.units == ("m",)


def test_the_bed_falls_all_the_way_downstream() -> None:
    levels = committed()
    line = stream_line(np.random.default_rng(20_611))
    inside = line[(line[:, 0] > 2.0) & (line[:, 0] < 598.0)]
    bed = ndimage.map_coordinates(levels, [599.5 - inside[:, 1], inside[:, 0] - 0.5], order=1)
    every_20_m = bed[::80]
    assert np.all(np.diff(every_20_m) < 0.0)
    assert 20.0 < every_20_m[0] - every_20_m[-1] < 40.0


def test_the_noise_is_like_a_scanner_s() -> None:
    noise = sensor_noise(np.random.default_rng(1))
    beside = np.mean(noise[:, 1:] * noise[:, :-1]) / noise.var()
    apart = np.mean(noise[:, 12:] * noise[:, :-12]) / noise.var()
    assert 0.05 < noise.std() < 0.06
    assert 0.5 < beside < 0.9  # even over a few metres, with a grain from cell to cell
    assert abs(apart) < 0.05


def test_the_levels_carry_that_noise_and_little_more() -> None:
    levels = committed().astype(np.float64)
    slope = levels[150:170, 250:400]
    grain = np.diff(slope, n=2, axis=1)  # an even slope leaves nothing here
    expected = np.diff(sensor_noise(np.random.default_rng(1))[:20, :150], n=2, axis=1)
    assert grain.std() == pytest.approx(expected.std(), rel=0.15)
