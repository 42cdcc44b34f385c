"""The ground for the page: levels, contours and picture lie where the terrain has them."""

import io
import json
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from PIL import Image

from planner.errors import TerrainError
from planner.live.ground_view import MOST_NODES, MOST_PIXELS, ground_png, ground_view
from planner.live.value import GroundView
from planner.output.map.ground import DARK, LIGHT
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from tests.example import CRS, example_terrain

FOOT = 0.3048  # m


def nodes(view: GroundView) -> npt.NDArray[np.float64]:
    """Levels [m] of the pointer's nodes, by row and column."""
    dm = [np.nan if level is None else level for level in view["levels"]]
    return np.array(dm, dtype=np.float64).reshape(view["rows"], view["cols"]) / 10.0


def holed(terrain: Terrain) -> Terrain:
    """Without data in its north-west."""
    z = terrain.z.copy()
    z[:60, :80] = np.nan
    return replace(terrain, z=z)


def test_json_takes_it_as_it_is() -> None:
    view = ground_view(holed(example_terrain()), "us")
    assert json.loads(json.dumps(view, allow_nan=False)) == json.loads(json.dumps(view))
    assert view["data"].startswith("Levels: hollow-dem.tif (lidar)")


def test_the_pointers_levels_are_those_of_the_ground_from_corner_to_corner() -> None:
    terrain = example_terrain()
    view = ground_view(terrain, "metric")
    west, south, east, north = view["bounds"]
    assert (west, south, east, north) == terrain.bounds
    assert view["rows"] == view["cols"] == MOST_NODES
    x, y = np.meshgrid(
        np.linspace(west, east, view["cols"]), np.linspace(north, south, view["rows"])
    )
    assert np.abs(nodes(view) - ground_at(terrain, x, y)).max() <= 0.05 + 1e-9


def test_a_small_ground_has_no_more_nodes_than_cells() -> None:
    small = Terrain.from_array(np.arange(12.0).reshape(3, 4), 2.0, origin=(10, 20), crs=CRS)
    view = ground_view(small, "metric")
    assert (view["rows"], view["cols"], len(view["levels"])) == (3, 4, 12)


def test_where_nothing_is_known_no_level_stands_and_nothing_is_drawn() -> None:
    terrain = holed(example_terrain())
    known = np.isfinite(nodes(ground_view(terrain, "metric")))
    assert not known[:40, :40].any()
    assert known[80:, 80:].all()
    picture = np.array(Image.open(io.BytesIO(ground_png(terrain))).convert("RGBA"))
    assert picture.shape[:2] == terrain.shape
    assert np.array_equal(picture[..., 3] == 0, ~_lit(terrain))


def _lit(terrain: Terrain) -> npt.NDArray[np.bool_]:
    """Cells with data on all that their slope is made of."""
    padded = np.pad(np.isfinite(terrain.z), 1, mode="edge")
    return np.asarray(
        padded[1:-1, 1:-1]
        & padded[:-2, 1:-1]
        & padded[2:, 1:-1]
        & padded[1:-1, :-2]
        & padded[1:-1, 2:]
    )


def test_the_picture_is_of_warm_greys_lit_from_the_north_west() -> None:
    x, y = np.meshgrid(np.arange(60.0), np.arange(40.0))
    picture = {}
    for name, z in (("facing", 0.4 * (x + y)), ("averted", -0.4 * (x + y))):
        png = ground_png(Terrain.from_array(z, 1.0, crs=CRS))
        picture[name] = np.array(Image.open(io.BytesIO(png)).convert("RGB")).reshape(-1, 3)
    assert (picture["facing"].mean(axis=0) > picture["averted"].mean(axis=0) + 50).all()
    every = np.concatenate(list(picture.values()))
    assert (every >= np.array(DARK)).all()
    assert (every <= np.array(LIGHT)).all()


def test_a_large_ground_is_thinned() -> None:
    long = Terrain.from_array(np.zeros((2, MOST_PIXELS * 2 + 1)), 1.0, crs=CRS)
    width, height = Image.open(io.BytesIO(ground_png(long))).size
    assert MOST_PIXELS // 2 < width <= MOST_PIXELS
    assert height == 1


@pytest.mark.parametrize(("units", "metres"), [("metric", 1.0), ("us", FOOT)])
def test_contours_stand_at_even_figures_on_ground_of_that_level(units: str, metres: float) -> None:
    terrain = example_terrain()
    view = ground_view(terrain, units)  # type: ignore[arg-type]
    assert view["per_metre"] == pytest.approx(1.0 / metres)
    assert view["contours"]
    for level, index, path in view["contours"]:
        figure = level * view["per_metre"] / view["interval"]
        assert figure == pytest.approx(round(figure), abs=0.01)
        assert index == (round(figure) % 5 == 0)
        ground = ground_at(terrain, *np.array(path).T)
        assert np.nanmax(np.abs(ground - level)) < 0.2  # simplified to a quarter of a cell


def test_contours_of_a_large_ground_are_drawn_of_means_and_lie_where_they_were() -> None:
    x, y = np.meshgrid(np.arange(2400.0), np.arange(600.0))
    terrain = Terrain.from_array(300.0 + 0.05 * x + 0.02 * y, 1.0, origin=(0, 600), crs=CRS)
    contours = ground_view(terrain, "metric")["contours"]
    assert contours
    for level, _, path in contours:
        assert np.abs(ground_at(terrain, *np.array(path).T) - level).max() < 0.05
    assert sum(len(path) for _, _, path in contours) < 20 * len(contours)


def test_ground_without_a_coordinate_system_is_refused() -> None:
    with pytest.raises(TerrainError, match="no coordinate system"):
        ground_view(Terrain.from_array(np.zeros((4, 4)), 1.0), "metric")
