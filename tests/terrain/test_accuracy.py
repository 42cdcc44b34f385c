"""Default errors and the recognition of surface models."""

from typing import get_args

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.terrain.accuracy import guess_kind, looks_like_surface_model, standard_error_of
from planner.terrain.value import DataKind, Terrain
from tests.terrain.conftest import hills


@pytest.mark.parametrize(
    ("kind", "cell", "error"),
    [
        ("lidar", 1.0, 0.30),  # Reutebuch et al. 2003, uncut conifer: SD 0.29 m
        ("lidar", 10.0, 0.82),  # USGS 3DEP accuracy statement 2022, 1/3 arc-second
        ("satellite", 30.0, 5.7),  # SRTM, Int. J. Geoinformatics 2979
        ("photogrammetry", 30.0, 7.0),  # USGS 30 m metadata, desired RMSE
        ("levelled", 1.0, 0.02),
    ],
)
def test_published_errors(kind: DataKind, cell: float, error: float) -> None:
    assert standard_error_of(kind, cell) == error


@pytest.mark.parametrize("kind", get_args(DataKind))
def test_coarser_data_is_never_better(kind: DataKind) -> None:
    errors = [standard_error_of(kind, cell) for cell in (0.25, 1, 3, 5, 10, 30, 90, 1000)]
    assert errors == sorted(errors)


def test_what_nobody_said_is_no_better_than_what_it_looks_like() -> None:
    for cell in (0.5, 2.0, 5.0, 10.0, 30.0, 90.0):
        assert standard_error_of("unknown", cell) >= standard_error_of(guess_kind(cell), cell)


@pytest.mark.parametrize("cell", [0.0, -1.0, float("nan")])
def test_cell_size_must_be_one(cell: float) -> None:
    with pytest.raises(TerrainError):
        standard_error_of("lidar", cell)


def test_planted_trees_are_found() -> None:
    z = hills(80, 90, side=1.0)
    assert not looks_like_surface_model(Terrain.from_array(z, 1.0))
    random = np.random.default_rng(7)
    for row, col in random.integers(3, 75, (40, 2)):
        z[row : row + 4, col : col + 4] += random.uniform(4.0, 20.0)
    assert looks_like_surface_model(Terrain.from_array(z, 1.0))


def test_steep_even_ground_is_no_forest() -> None:
    row, col = np.mgrid[:50, :60]
    assert not looks_like_surface_model(Terrain.from_array(3.0 * row + 2.0 * col, 1.0))


def test_coarse_and_tiny_and_void_data_show_no_trees() -> None:
    z = hills(30, 30)
    z[::2, ::2] += 20.0
    assert not looks_like_surface_model(Terrain.from_array(z, 10.0))
    assert not looks_like_surface_model(Terrain.from_array(z[:2], 1.0))
    assert not looks_like_surface_model(Terrain.from_array(np.full((9, 9), np.nan), 1.0))
