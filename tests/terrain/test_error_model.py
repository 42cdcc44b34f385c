"""The field of errors: as wide as the data are said to be wrong, ending at its reach."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.terrain.error_model import (
    LIDAR,
    PLACE_ERROR,
    ROUGH_SHARE,
    departure,
    error_model,
    spherical,
)
from planner.terrain.value import DataKind, Provenance, Terrain


def terrain(cell: float, kind: DataKind = "unknown", error: float = float("nan")) -> Terrain:
    flat = Terrain.from_array(np.zeros((9, 12)), cell)
    return replace(flat, provenance=Provenance(kind=kind, standard_error=error))


@pytest.mark.parametrize(
    ("cell", "kind", "reach"),
    [
        (1.0, "lidar", 500.0),
        (1.0, "unknown", 500.0),
        (10.0, "lidar", 2000.0),
        (1.0, "photogrammetry", 2000.0),
        (30.0, "satellite", 5000.0),
    ],
)
def test_each_kind_of_data_has_its_reach(cell: float, kind: DataKind, reach: float) -> None:
    model = error_model(terrain(cell, kind))
    assert model.reach == reach
    assert sum(part.share for part in model.parts) == pytest.approx(1.0)
    assert model.covariance(reach) == 0.0
    assert model.covariance(0.99 * reach) > 0.0


def test_the_standard_error_of_the_data_is_taken() -> None:
    assert error_model(terrain(1.0, "lidar", 0.12)).covariance(0.0) == pytest.approx(0.12**2)
    assert error_model(terrain(1.0, "lidar")).sigma == 0.30


def test_fine_cells_resampled_from_coarse_data_are_as_wrong_as_those() -> None:
    fine = terrain(1.0)
    warped = replace(fine, provenance=replace(fine.provenance, native_cell=30.0))
    assert error_model(warped).reach == 5000.0
    assert error_model(warped).sigma == 5.7


def test_a_reach_of_the_user_cuts_all_ranges_to_it() -> None:
    model = error_model(terrain(1.0, "lidar"), reach=20.0)
    assert model.reach == pytest.approx(20.0 - np.sqrt(2.0))
    assert max(part.reach for part in model.parts) == model.reach
    assert error_model(terrain(1.0, "lidar"), reach=900.0).parts[0].reach == 40.0


@pytest.mark.parametrize("reach", [0.0, 2.0, -5.0, float("nan")])
def test_a_reach_of_less_than_two_cells_is_refused(reach: float) -> None:
    with pytest.raises(OutsideRange, match=r"too short.*at least 3 m"):
        error_model(terrain(1.0), reach=reach)


def test_the_short_part_of_lidar_has_the_area_of_the_exponential_it_stands_for() -> None:
    lag = np.linspace(0.0, LIDAR[0].reach, 20_001)
    area = np.trapezoid(spherical(lag / LIDAR[0].reach), lag)
    assert area == pytest.approx(15.0, rel=1e-6)  # the integral of exp(-d / 15 m)


@given(st.integers(0, 500))
def test_any_points_have_a_covariance_that_can_be(seed: int) -> None:
    rng = np.random.default_rng(seed)
    xy = rng.uniform(0.0, 60.0, (25, 2))
    apart = np.hypot(*(xy[:, None, :] - xy[None, :, :]).transpose(2, 0, 1))
    assert np.linalg.eigvalsh(error_model(terrain(1.0)).covariance(apart)).min() > -1e-12


def test_a_plane_departs_only_by_the_staff_beside_its_stake() -> None:
    row, col = np.mgrid[0.0:30.0, 0.0:40.0]
    plane = Terrain.from_array(0.3 * col * 2.0 - 0.4 * row * 5.0, (2.0, 5.0))
    found = departure(plane, [(40.0, -70.0), (1.0, -1.0)])
    assert found == pytest.approx(PLACE_ERROR * 0.5)


def test_missing_data_is_left_out_of_the_roughness() -> None:
    z = np.zeros((20, 20))
    z[:, 12:] = np.nan
    assert departure(Terrain.from_array(z, 1.0), [(11.0, -10.0)]) == pytest.approx(0.0)
    assert departure(Terrain.from_array(z * np.nan, 1.0), [(11.0, -10.0)]) == pytest.approx(0.0)


def test_self_similar_ground_departs_between_cells_by_the_share_taken() -> None:
    """Cuts through ground of Hurst exponent .75, made exactly by its covariance."""
    n, hurst = 201, 0.75
    s = np.arange(1.0, n + 1)
    cov = 0.5 * (
        s[:, None] ** (2 * hurst)
        + s[None, :] ** (2 * hurst)
        - np.abs(s[:, None] - s[None, :]) ** (2 * hurst)
    )
    draws = np.linalg.cholesky(cov) @ np.random.default_rng(5).normal(size=(n, 400))
    cells, middles = draws[::2], draws[1::2]
    between = middles - 0.5 * (cells[:-1] + cells[1:])
    share = np.sqrt(np.mean(between**2) / np.mean(np.diff(cells, 2, axis=0) ** 2))
    assert share == pytest.approx(ROUGH_SHARE, rel=0.03)
