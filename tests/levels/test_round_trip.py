"""To the field and back, on ground whose truth is known: levelling brings the plan nearer to it."""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from planner.levels.bend import bend, ground_along
from planner.levels.survey import survey
from planner.profile.along import profile_along
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from tests.levels.ground_truth import (
    fractal_ground,
    levelled,
    line_across,
    real_ground,
    walk,
    worsened,
)

CASES = 200
ENOUGH = 0.95
COARSE_ENOUGH = 0.7  # the fall by tape and clinometer


@dataclass(frozen=True, slots=True)
class Outcome:
    """Errors of a line before and after measuring [m].

    `ground` is the standard deviation of the profile's ground from the truth, so that a common
    shift does not count; `fall` that of the fall from the first stake to the last; `surety` the
    latter over its own standard error. A `coarse` line was levelled by tape and clinometer, which
    over some hundred metres is hardly surer than elevation data may be by chance.
    """

    ground: tuple[float, float]
    fall: tuple[float, float]
    surety: float
    coarse: bool


def outcome(shared_data: Path, seed: int) -> Outcome:
    rng = np.random.default_rng(seed)
    truth = fractal_ground(rng) if seed % 3 == 0 else real_ground(shared_data, rng)
    model = worsened(truth, rng)
    way = walk(truth, line_across(rng, float(rng.choice([10.0, 20.0]))), rng)
    found = survey(levelled(way, rng), model, way.places)
    bent = bend(model, found)
    along = profile_along(bent, way.xy, 1.0).xy
    true = ground_at(Terrain.from_array(truth, 1.0), along[:, 0], along[:, 1])
    before = ground_at(model, along[:, 0], along[:, 1])
    after = ground_at(bent, along[:, 0], along[:, 1]) + ground_along(found, bent, along)
    fall = way.level[0] - way.level[-1]
    off = [float(ground[0] - ground[-1] - fall) for ground in (before, after)]
    first, last = found.stations[0], found.stations[-1]
    assert (first.name, last.name) == (way.names[0], way.names[-1])
    told = found.difference(first, last)
    assert told[0] == pytest.approx(after[0] - after[-1], abs=0.005)
    return Outcome(
        (float(np.std(before - true)), float(np.std(after - true))),
        (abs(off[0]), abs(off[1])),
        off[1] / told[1],
        any("traverse" in station.methods for station in found.stations),
    )


@pytest.mark.slow
def test_levelling_brings_the_plan_nearer_to_the_truth(
    shared_data: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = [outcome(shared_data, seed) for seed in range(CASES)]
    ground = np.array([one.ground for one in found])
    fall = np.array([one.fall for one in found])
    coarse = np.array([one.coarse for one in found])
    shares = [float(np.mean(errors[:, 1] < errors[:, 0])) for errors in (ground, fall)]
    fine = [float(np.mean(fall[mask][:, 1] < fall[mask][:, 0])) for mask in (~coarse, coarse)]
    with capsys.disabled():
        middle = [np.median(errors, axis=0) for errors in (ground, fall)]
        sys.stdout.write(
            f"\n{CASES} lines: ground nearer in {shares[0]:.1%} (median {middle[0][0]:.3f} -> "
            f"{middle[0][1]:.3f} m), fall in {shares[1]:.1%} (median {middle[1][0]:.3f} -> "
            f"{middle[1][1]:.3f} m): by level or hose in {fine[0]:.1%}, by tape and clinometer "
            f"in {fine[1]:.1%} of {coarse.sum()}\n"
        )
    assert shares[0] >= ENOUGH
    assert fine[0] >= ENOUGH
    assert fine[1] >= COARSE_ENOUGH


@pytest.mark.slow
def test_falls_are_as_sure_as_they_are_said_to_be(shared_data: Path) -> None:
    surety = np.array([outcome(shared_data, seed).surety for seed in range(1000, 1060)])
    assert 0.7 < np.sqrt(np.mean(surety**2)) < 1.4
    assert np.mean(np.abs(surety) < 2.0) > 0.85


def test_one_line_of_each_kind_of_ground(shared_data: Path) -> None:
    for seed in (0, 1):
        before, after = outcome(shared_data, seed).ground
        assert after < before
