"""Points of the sketch on the ground, and the messages when they are not."""

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.terrain.frame import to_lonlat
from planner.terrain.locate import level_of
from planner.terrain.sea import sea_of_zeros
from planner.terrain.value import Terrain
from tests.terrain.conftest import hills

CRS = "+proj=tmerc +lat_0=47.3 +lon_0=11.2 +k=1 +datum=WGS84 +units=m"


def ground(z: object = None) -> Terrain:
    return Terrain.from_array(hills() if z is None else z, 2.0, origin=(-60.0, 40.0), crs=CRS)  # type: ignore[arg-type]


def at(terrain: Terrain, x: float, y: float) -> tuple[float, float]:
    lon, lat = to_lonlat(terrain, [[x, y]])[0]
    return float(lon), float(lat)


def test_level_at_a_cell_centre() -> None:
    terrain = ground()
    (x, y), level = level_of(terrain, "tank", at(terrain, -59.0 + 2 * 20, 39.0 - 2 * 11))
    assert (x, y) == pytest.approx((-19.0, 17.0), abs=1e-6)
    assert level == pytest.approx(hills()[11, 20], abs=1e-6)


@pytest.mark.parametrize("lonlat", [(11.3, 47.3), (-120.0, 35.0), (11.2, 89.9)])
def test_outside(lonlat: tuple[float, float]) -> None:
    with pytest.raises(TerrainError) as caught:
        level_of(ground(), "spring", lonlat)
    message = caught.value.message
    assert f"'spring' at longitude {lonlat[0]:.6f}, latitude {lonlat[1]:.6f}" in message
    assert "outside the elevation data" in message
    assert "longitude 11.199" in message
    assert "latitude 47.299" in message
    assert "move the point" in message


def test_outside_because_exchanged() -> None:
    with pytest.raises(TerrainError, match="with the two exchanged it lies inside"):
        level_of(ground(), "spring", (47.3, 11.2))


def test_on_a_hole_names_the_nearest_data() -> None:
    z = hills()
    z[5:35, 10:40] = np.nan
    terrain = ground(z)
    with pytest.raises(TerrainError) as caught:
        level_of(terrain, "ram", at(terrain, -59.0 + 2 * 12, 39.0 - 2 * 20))
    assert "'ram'" in caught.value.message
    assert "hole" in caught.value.message
    assert "nearest data is 6 m to the west" in caught.value.message


def test_all_void() -> None:
    terrain = ground(np.full((9, 9), np.nan))
    with pytest.raises(TerrainError, match="no data at all"):
        level_of(terrain, "ram", at(terrain, -50.0, 30.0))


def test_sea_of_zeros_but_not_a_level_of_zero() -> None:
    z = hills() - 298.0
    z[:, :20] = 0.0
    z[30, 50] = 0.0
    terrain = ground(z)
    with pytest.raises(TerrainError, match=r"'pier'.*level 0"):
        level_of(terrain, "pier", at(terrain, -59.0 + 2 * 5, 39.0 - 2 * 11))
    assert level_of(terrain, "beach", at(terrain, -59.0 + 2 * 50, 39.0 - 2 * 30))[1] == (
        pytest.approx(0.0, abs=1e-6)
    )
    sea = sea_of_zeros(terrain)
    assert sea[:, :20].all()
    assert not sea[30, 50]


def test_without_a_coordinate_system() -> None:
    with pytest.raises(TerrainError, match="no coordinate system"):
        level_of(Terrain.from_array(hills(), 2.0), "tank", (11.0, 47.0))


def test_names_may_hold_markup_and_are_quoted() -> None:
    with pytest.raises(TerrainError, match=r"'<b>💧\\n</b>'"):
        level_of(ground(), "<b>💧\n</b>", (0.0, 0.0))
