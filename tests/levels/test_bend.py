"""The bent ground: through the levels, untouched beyond the reach, and as sure as it is said."""

import time
from dataclasses import replace

import numpy as np
import pytest

from planner.levels.bend import bend, doubt_at, ground_along
from planner.levels.ground import before, ground_of, stations_of
from planner.levels.survey import survey
from planner.levels.value import Survey
from planner.profile.along import profile_along
from planner.terrain.error_model import error_model
from planner.terrain.sample import cell_centre, ground_at
from planner.terrain.value import Provenance, Terrain
from tests.levels.levelling import PLACES, hillside, run_of

OFF = dict(zip(PLACES, (0.0, 0.35, -0.2, 0.4, 0.1), strict=True))


def surveyed(terrain: Terrain, *, reach: float | None = None) -> Survey:
    true = {name: float(ground_at(terrain, *at)) + OFF[name] for name, at in PLACES.items()}
    return survey(run_of(true), terrain, PLACES, reach=reach)


def at_stations(found: Survey) -> tuple[np.ndarray, np.ndarray]:
    return (
        np.array([one.xy for one in found.stations]),
        np.array([one.level for one in found.stations]),
    )


@pytest.mark.parametrize("cell", [1.0, 2.0, 10.0])
def test_ground_and_profile_pass_through_the_levels(cell: float) -> None:
    terrain = hillside(cell=cell, error=0.3 if cell < 5.0 else 0.8)
    found = surveyed(terrain)
    bent = bend(terrain, found)
    xy, level = at_stations(found)
    near = ground_at(bent, xy[:, 0], xy[:, 1])
    before_bending = ground_at(terrain, xy[:, 0], xy[:, 1])
    assert np.abs(near - level).max() < 0.2 * np.abs(before_bending - level).max()
    assert near + ground_along(found, bent, xy) == pytest.approx(level, abs=0.002)


def test_a_line_between_stakes_has_no_spikes() -> None:
    """Between stakes a line is raised by no more than at them."""
    terrain = hillside(cell=10.0, error=0.8)
    found = surveyed(terrain)
    bent = bend(terrain, found)
    xy, _ = at_stations(found)
    at = np.abs(ground_along(found, bent, xy))
    between = ground_along(found, bent, profile_along(bent, xy, 0.5).xy)
    assert np.abs(between).max() <= at.max() + 1e-9
    assert np.abs(np.diff(between)).max() < 0.5 * at.max()  # in half a metre


def test_away_from_stakes_a_line_is_left_alone() -> None:
    found = surveyed(hillside())
    bent = bend(hillside(), found)
    assert np.all(ground_along(found, bent, [(20.0, -60.0), (140.0, -5.0)]) == 0.0)


@pytest.mark.parametrize("reach", [8.0, 25.0, 60.0])
def test_nothing_changes_beyond_the_reach(reach: float) -> None:
    terrain = hillside()
    found = surveyed(terrain, reach=reach)
    bent = bend(terrain, found)
    assert found.reach == reach
    row, col = np.mgrid[0 : terrain.shape[0], 0 : terrain.shape[1]]
    x, y = cell_centre(terrain, row, col)
    near = np.min([np.hypot(x - a, y - b) for a, b in PLACES.values()], axis=0)
    beyond = near >= reach
    assert np.array_equal(bent.z[beyond], terrain.z[beyond])
    assert np.any(bent.z[~beyond] != terrain.z[~beyond])
    assert beyond.any()


def test_the_reach_of_the_data_is_stated() -> None:
    assert surveyed(hillside()).reach == 500.0


def test_holes_and_provenance_stay() -> None:
    whole = hillside()
    z = np.array(whole.z)
    z[80:90, 100:110] = np.nan
    holed = replace(whole, z=z)
    bent = bend(holed, surveyed(holed))
    assert np.array_equal(np.isnan(bent.z), np.isnan(z))
    assert bent.provenance == holed.provenance
    assert bent.crs == holed.crs
    assert np.array_equal(bent.filled, holed.filled)


def test_without_stations_the_ground_is_the_same() -> None:
    nothing = Survey((), np.zeros((0, 0)), 0.0, 100.0, np.nan, np.nan)
    terrain = hillside()
    assert bend(terrain, nothing) is terrain
    assert np.all(ground_along(nothing, terrain, [(20.0, -30.0)]) == 0.0)
    assert doubt_at(nothing, terrain, [(20.0, -30.0)]) == pytest.approx(0.3)


@pytest.mark.parametrize("cell", [(1.0, 2.0), (3.0, 3.0)])
def test_bending_equals_plain_kriging(cell: tuple[float, float]) -> None:
    """The slow twin: every cell's mean given the stations, from dense matrices."""
    rng = np.random.default_rng(3)
    terrain = Terrain.from_array(rng.normal(0.0, 0.1, (40, 60)).cumsum(axis=1), cell)
    terrain = replace(terrain, provenance=Provenance(kind="lidar", standard_error=0.3))
    places = {
        f"S{n}": (float(x), float(y))
        for n, (x, y) in enumerate(np.column_stack([rng.uniform(5, 50, 7), -rng.uniform(5, 70, 7)]))
    }
    levels = {
        name: float(rng.normal(0.0, 0.5)) + float(ground_at(terrain, *at))
        for name, at in places.items()
    }
    found = survey(run_of(levels), terrain, places, reach=30.0)
    model = error_model(terrain, reach=30.0)
    stations = stations_of(terrain, found)
    row, col = np.mgrid[0:40, 0:60].reshape(2, -1)
    cross = np.zeros((row.size, 7))
    for corner in range(4):
        down = (row[:, None] - stations.at.row[None, :, corner]) * cell[1]
        right = (col[:, None] - stations.at.col[None, :, corner]) * cell[0]
        cross += stations.at.weight[None, :, corner] * model.covariance(np.hypot(down, right))
    off = np.array([one.level - one.model for one in found.stations])
    plain = cross @ np.linalg.solve(before(terrain, stations), off)
    assert bend(terrain, found).z - terrain.z == pytest.approx(plain.reshape(40, 60), abs=1e-8)


def test_doubt_is_that_of_the_levels_at_stations_and_of_the_data_far_off() -> None:
    terrain = hillside()
    found = surveyed(terrain, reach=20.0)
    bent = bend(terrain, found)
    xy, _ = at_stations(found)
    assert doubt_at(found, bent, xy) == pytest.approx(
        [one.error for one in found.stations], abs=0.02
    )
    assert doubt_at(found, bent, [(140.0, -10.0)]) == pytest.approx(0.3, abs=0.02)
    beside = doubt_at(found, bent, xy + np.array([4.0, 0.0]))
    assert np.all((beside > 0.03) & (beside < 0.3))


@pytest.mark.slow
def test_doubt_is_the_size_of_what_is_left_of_errors() -> None:
    """Errors drawn from the model itself, levelled at five stakes, looked at beside them."""
    rng = np.random.default_rng(12)
    terrain = hillside(cell=5.0, error=0.5)
    points = np.array([(33.0, -37.0), (60.0, -20.0), (84.0, -55.0), (100.0, -100.0)])
    xy = np.concatenate([np.array(list(PLACES.values())), points])
    cov = before(terrain, ground_of(terrain, xy, 2000.0))
    ground = ground_at(terrain, xy[:, 0], xy[:, 1])
    missed, doubt = [], np.zeros(len(points))
    for error in (np.linalg.cholesky(cov) @ rng.normal(size=(len(xy), 150))).T:
        true = ground + error
        read = run_of(dict(zip(PLACES, true.tolist(), strict=False)))
        found = survey(read, terrain, PLACES)
        bent = bend(terrain, found)
        made = ground_at(bent, points[:, 0], points[:, 1]) + ground_along(found, bent, points)
        shift = np.mean(true[:5] - [one.level for one in found.stations])
        missed.append(made + shift - true[5:])
        doubt = doubt_at(found, bent, points)
    assert np.sqrt(np.mean(np.square(missed), axis=0)) == pytest.approx(doubt, rel=0.25)


@pytest.mark.slow
def test_hundreds_of_stations_bend_four_million_cells_in_seconds() -> None:
    rng = np.random.default_rng(1)
    row, col = np.mgrid[0.0:2000.0, 0.0:2000.0]
    terrain = Terrain.from_array(100.0 + 0.05 * row + 0.02 * col + np.sin(col / 40.0), 1.0)
    terrain = replace(terrain, provenance=Provenance(kind="lidar", standard_error=0.3))
    xy = np.column_stack([np.linspace(300.0, 1700.0, 300), np.linspace(-400.0, -1500.0, 300)])
    levels = ground_at(terrain, xy[:, 0], xy[:, 1]) + rng.normal(0.0, 0.3, 300)
    names = [f"S{number}" for number in range(300)]
    places = {name: (float(x), float(y)) for name, (x, y) in zip(names, xy, strict=True)}
    began = time.perf_counter()
    found = survey(run_of(dict(zip(names, levels.tolist(), strict=True))), terrain, places)
    bent = bend(terrain, found)
    took = time.perf_counter() - began
    assert took < 6.0  # 1.3 s on one core alone
    near = ground_at(bent, xy[:, 0], xy[:, 1])
    assert np.std(near - levels) < 0.1 * np.std(levels - ground_at(terrain, xy[:, 0], xy[:, 1]))
