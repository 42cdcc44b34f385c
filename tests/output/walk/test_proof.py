"""Test pressures, against plain arithmetic."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from planner.output.walk.proof import proofs_of
from tests.checks.works import pressed
from tests.example import example_plan


def test_one_and_a_half_times_the_head_of_still_water():
    """A main that falls 40 m: at its foot 40 m of water stands with the outlet closed."""
    (line,) = pressed(40.0).lines
    (proof,) = proofs_of(line)
    assert proof.working == pytest.approx(40.0)
    assert proof.head == pytest.approx(60.0)
    assert proof.gauge_m == pytest.approx(line.profile.length)
    assert not proof.limited


def test_the_pipe_bears_no_more():
    (line,) = pressed(40.0, rating=50.0).lines
    (proof,) = proofs_of(line)
    assert line.pressure is not None
    least = float(np.min(line.pressure.heads.rating))
    assert proof.limited
    assert proof.head == pytest.approx(least)  # the lowest point bears most of the test


def test_a_pipe_weaker_than_its_work_is_not_tested_but_in_parts():
    (line,) = pressed(100.0, rating=60.0).lines
    assert line.pressure is not None
    assert line.pressure.tanks is not None
    proofs = proofs_of(line)
    assert len(proofs) == len(line.pressure.tanks.tanks) + 1
    assert all(proof.working <= 60.0 for proof in proofs)
    assert proofs[0].start_m == 0.0
    assert proofs[-1].end_m == pytest.approx(line.profile.length)
    assert all(a.end_m == b.start_m for a, b in pairwise(proofs))
    drops = [proof.working for proof in proofs]
    assert sum(drops) == pytest.approx(100.0)  # each part carries its own fall, no more


def test_no_point_of_the_line_is_tested_beyond_its_rating():
    (line,) = pressed(70.0, rating=80.0).lines
    (proof,) = proofs_of(line)
    assert line.pressure is not None
    pipe, rating = line.profile.pipe, line.pressure.heads.rating
    assert np.all(proof.head - (pipe - pipe.min()) <= rating + 1e-9)


def test_what_is_not_known_or_too_little_is_not_tested():
    assert proofs_of(example_plan().lines[0]) == ()
    assert proofs_of(pressed(2.0).lines[0]) == ()


def test_working_over_the_rating_gives_no_test():
    (line,) = pressed(100.0, rating=60.0).lines
    assert line.pressure is not None
    bare = replace(line, pressure=replace(line.pressure, tanks=None))
    (proof,) = proofs_of(bare)
    assert math.isnan(proof.head)
