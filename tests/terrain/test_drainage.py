"""Streams in planted valleys."""

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.terrain.drainage import find_streams, usual_catchment
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain


def valley(rows: int = 80, cols: int = 121, cell: tuple[float, float] = (4.0, 5.0)) -> Terrain:
    """A straight valley along x = 0 that falls to the south, oblong cells."""
    row, col = np.mgrid[:rows, :cols]
    x, y = (col - cols // 2) * cell[0], -row * cell[1]
    return Terrain.from_array(
        500.0 + 0.05 * y + 0.2 * np.abs(x), cell, origin=(-(cols // 2 + 0.5) * cell[0], 2.5)
    )


def test_the_valley_floor_is_found() -> None:
    terrain = valley()
    stream = find_streams(terrain, catchment=20_000.0)[0]
    np.testing.assert_allclose(stream.xy[:, 0], 0.0, atol=1e-9)
    assert np.all(np.diff(stream.xy[:, 1]) < 0.0)
    assert stream.xy[-1, 1] == pytest.approx(-79 * 5.0)
    levels = ground_at(terrain, *stream.xy.T)
    assert np.all(np.diff(levels) < 0.0)


def test_all_land_drains_once() -> None:
    """The floor and the two reaches that run along the southern edge of the data to it."""
    terrain = valley()
    reaches = find_streams(terrain, catchment=20_000.0)
    assert {tuple(reach.xy[-1]) for reach in reaches} == {(0.0, -395.0)}
    land = terrain.z.size * 4.0 * 5.0
    ends = sum(reach.catchment for reach in reaches)
    assert land - 121 * 20.0 <= ends <= land


def test_shifted_ground_has_shifted_streams() -> None:
    terrain = valley()
    moved = Terrain(z=terrain.z, cell=terrain.cell, origin=(1000.0, -2000.0))
    shift = np.array(moved.origin) - np.array(terrain.origin)
    for one, other in zip(find_streams(terrain), find_streams(moved), strict=True):
        np.testing.assert_allclose(other.xy, one.xy + shift)
        assert other.catchment == one.catchment


def test_a_pit_does_not_end_a_stream() -> None:
    terrain = valley()
    z = np.array(terrain.z)
    z[40, 60] -= 3.0
    z[50:53, 59:62] += 1.5  # and a dam
    stream = find_streams(
        Terrain(z=z, cell=terrain.cell, origin=terrain.origin), catchment=20_000.0
    )[0]
    assert stream.xy[-1, 1] == pytest.approx(-79 * 5.0)


def test_confluence_joins_reaches() -> None:
    row, col = np.mgrid[:100, :101]
    x = np.abs(col - 50.0)
    fork = np.where(row < 50, np.abs(x - (50 - row) * 0.6), x)  # two arms meet at row 50
    terrain = Terrain.from_array(300.0 - 0.4 * row + 0.8 * fork, 5.0)
    reaches = find_streams(terrain, catchment=10_000.0)
    main = reaches[0]
    ends = [tuple(reach.xy[-1]) for reach in reaches[1:3]]
    assert all(end in {tuple(point) for point in main.xy} for end in ends)
    assert main.catchment > reaches[1].catchment + reaches[2].catchment - 1e4
    assert [r.catchment for r in reaches] == sorted((r.catchment for r in reaches), reverse=True)


def test_holes_and_seas_carry_no_stream() -> None:
    terrain = valley()
    z = np.array(terrain.z)
    z[60:] = 0.0
    z[20:30, 50:70] = np.nan
    for stream in find_streams(
        Terrain(z=z, cell=terrain.cell, origin=terrain.origin), catchment=5_000.0
    ):
        levels = ground_at(Terrain(z=z, cell=terrain.cell, origin=terrain.origin), *stream.xy.T)
        assert np.isfinite(levels).all()
        assert (levels > 0.0).all()


def test_usual_catchment_follows_the_window() -> None:
    assert usual_catchment(Terrain.from_array(np.zeros((1000, 1000)), 1.0)) == 20_000.0
    assert usual_catchment(Terrain.from_array(np.zeros((200, 200)), 1.0)) == 0.04 * 40_000
    assert usual_catchment(Terrain.from_array(np.zeros((500, 500)), 30.0)) == 50 * 900.0
    assert find_streams(valley())  # a small window still shows its creek


@pytest.mark.parametrize("z", [np.full((8, 9), np.nan), np.zeros((20, 20)), [[1.0]]])
def test_nothing_to_find(z: object) -> None:
    assert find_streams(Terrain.from_array(z, 1.0)) == ()  # type: ignore[arg-type]


@pytest.mark.parametrize("catchment", [0.0, -5.0, float("nan")])
def test_catchment_must_be_one(catchment: float) -> None:
    with pytest.raises(TerrainError):
        find_streams(valley(), catchment=catchment)
