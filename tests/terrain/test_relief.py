"""Slope, hillshade and contours against surfaces whose answers are known."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import TerrainError
from planner.terrain.relief import contour_interval, contours, hillshade, slope
from planner.terrain.value import FloatArray, Provenance, Terrain
from tests.terrain.conftest import hills


def plane(east: float, north: float, cell: tuple[float, float] = (2.0, 3.0)) -> Terrain:
    row, col = np.mgrid[:12, :17]
    return Terrain.from_array(50.0 + east * col * cell[0] - north * row * cell[1], cell)


@given(st.floats(-2, 2), st.floats(-2, 2))
def test_slope_of_a_plane(east: float, north: float) -> None:
    np.testing.assert_allclose(slope(plane(east, north)), math.hypot(east, north), atol=1e-9)


def test_light_falls_from_where_it_comes() -> None:
    flat = hillshade(plane(0.0, 0.0), altitude=30.0)
    np.testing.assert_allclose(flat, 0.5)  # sine of 30°
    facing = hillshade(plane(1.0, 0.0), azimuth=270.0, altitude=45.0)  # falls to the west
    np.testing.assert_allclose(facing, 1.0)
    away = hillshade(plane(-1.0, 0.0), azimuth=270.0, altitude=45.0)
    np.testing.assert_allclose(away, 0.0, atol=1e-12)
    south_light = hillshade(plane(0.0, 1.0), azimuth=180.0, altitude=45.0)  # falls to the south
    np.testing.assert_allclose(south_light, 1.0)


def test_mirrored_ground_under_mirrored_light() -> None:
    z = hills()
    one = hillshade(Terrain.from_array(z, 2.0), azimuth=300.0)
    other = hillshade(Terrain.from_array(z[:, ::-1], 2.0), azimuth=60.0)
    np.testing.assert_allclose(other[:, ::-1], one, atol=1e-12)


def test_holes_stay_holes() -> None:
    z = hills()
    z[10:13, 20:25] = np.nan
    terrain = Terrain.from_array(z, 2.0)
    for field in (slope(terrain), hillshade(terrain)):
        assert np.isnan(field[11, 22])
        assert np.isfinite(field[0, 0])
    assert slope(Terrain.from_array([[5.0]], 1.0)).tolist() == [[0.0]]


def cone(peak: float = 60.0) -> Terrain:
    row, col = np.mgrid[:101, :121]
    x, y = (col - 60) * 2.0, (50 - row) * 2.0
    return Terrain.from_array(peak - 0.5 * np.hypot(x, y), 2.0, origin=(-121.0, 101.0))


def test_contours_of_a_cone_are_circles() -> None:
    found = contours(cone(), interval=5.0)
    assert [c.level for c in found if c.level >= 15.0] == [15, 20, 25, 30, 35, 40, 45, 50, 55]
    for line in found:
        radius = np.hypot(*line.xy.T)
        np.testing.assert_allclose(radius, (60.0 - line.level) / 0.5, atol=0.3)
        assert line.index == (line.level % 25 == 0)


def test_higher_ground_lies_on_the_left() -> None:
    line = next(c for c in contours(cone(), interval=5.0) if c.level == 40.0)
    x, y = line.xy.T
    area = 0.5 * np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])
    assert area == pytest.approx(math.pi * 40.0**2, rel=0.01)  # positive: anticlockwise


def test_contours_of_a_mirrored_ground_are_mirrored() -> None:
    one = contours(Terrain.from_array(hills(), 2.0, origin=(-60.0, 40.0)), interval=2.0)
    other = contours(Terrain.from_array(hills()[:, ::-1], 2.0, origin=(-60.0, 40.0)), interval=2.0)
    length = [sum(_length(c.xy) for c in found if c.level == 300.0) for found in (one, other)]
    assert length[0] == pytest.approx(length[1])
    assert length[0] > 50.0


def _length(xy: FloatArray) -> float:
    return float(np.hypot(*np.diff(xy, axis=0).T).sum())


def test_no_contour_crosses_a_hole() -> None:
    z = np.tile(np.arange(30.0), (20, 1))
    z[8:12, 10:20] = np.nan
    for line in contours(Terrain.from_array(z, 1.0), interval=1.0):
        col, row = line.xy[:, 0] - 0.5, -line.xy[:, 1] - 0.5
        assert not np.any((row > 7.01) & (row < 11.99) & (col > 9.01) & (col < 19.99))


@pytest.mark.parametrize(
    ("relief", "error", "interval"),
    [
        (3.0, 0.3, 1.0),
        (30.0, 0.3, 2.0),
        (120.0, 0.3, 5.0),
        (2000.0, 5.7, 100.0),
        (100.0, 5.7, 20.0),
        (30.0, 5.7, 10.0),
        (0.0, 0.3, 0.5),
    ],
)
def test_interval_suits_relief_and_error(relief: float, error: float, interval: float) -> None:
    z = np.linspace(100.0, 100.0 + relief, 200).reshape(10, 20)
    terrain = Terrain(z=z, cell=(5.0, 5.0), provenance=Provenance(standard_error=error))
    assert contour_interval(terrain) == interval


def test_flat_void_and_single_cells_have_none() -> None:
    assert contours(Terrain.from_array(np.full((9, 9), 12.3), 1.0)) == []
    assert contours(Terrain.from_array(np.full((9, 9), np.nan), 1.0)) == []
    assert contours(Terrain.from_array([[1.0, 2.0]], 1.0)) == []


@pytest.mark.parametrize("interval", [0.0, -1.0, float("nan")])
def test_interval_must_be_one(interval: float) -> None:
    with pytest.raises(TerrainError):
        contours(cone(), interval=interval)
