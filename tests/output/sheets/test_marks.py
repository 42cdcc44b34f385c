"""Chainage marks, level grid and grades stand apart and say what the line is."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis.strategies import floats, lists

from planner.output.sheets.marks import (
    ARROW,
    STRETCH,
    chainage_marks,
    grades,
    grid_levels,
    mark_step,
)
from planner.output.sheets.measure import METRIC, US, Measure
from planner.output.sheets.reach import Reach, whole
from planner.profile.value import FloatArray, Profile


def _profile(run: FloatArray, pipe: FloatArray) -> Profile:
    chainage = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(run), np.diff(pipe)))])
    xy = np.column_stack([run, np.zeros(run.size)])
    return Profile(xy, run, chainage, pipe + 0.5, pipe, np.zeros(run.size, dtype=bool))


FLAT = _profile(np.linspace(0.0, 205.0, 411), np.full(411, 10.0))
ALL = whole(FLAT)
APART = 13.0


def test_marks_are_the_ends_the_wanted_and_the_round_ones() -> None:
    marks = chainage_marks(FLAT, ALL, (87.3,), 1000, APART, METRIC)
    assert marks.tolist() == [0.0, 20.0, 40.0, 60.0, 87.3, 120.0, 140.0, 160.0, 180.0, 205.0]


def test_marks_in_feet_are_round_stations() -> None:
    marks = chainage_marks(FLAT, ALL, (), 1200, APART, US)
    np.testing.assert_allclose(marks[1:-1] / 0.3048, [100, 200, 300, 400, 500, 600])


def test_marks_of_a_part_begin_and_end_with_it() -> None:
    marks = chainage_marks(FLAT, Reach(60.0, 140.0), (71.5, 20.0), 500, 12.0, METRIC)
    assert marks.tolist() == [60.0, 71.5, 80.0, 90.0, 100.0, 110.0, 120.0, 130.0, 140.0]


@pytest.mark.parametrize(
    ("scale", "units", "step"), [(500, METRIC, 10.0), (1000, METRIC, 20.0), (480, US, 25 * 0.3048)]
)
def test_marks_are_ten_metres_or_25_ft_apart_where_figures_fit(
    scale: int, units: Measure, step: float
) -> None:
    assert mark_step(scale, 12.0, units) == pytest.approx(step)


@given(lists(floats(0, 205), max_size=6), floats(100, 3000))
def test_marks_stand_apart_on_paper(wanted: list[float], scale: float) -> None:
    marks = chainage_marks(FLAT, ALL, tuple(wanted), int(scale), APART, METRIC)
    assert (marks[0], marks[-1]) == (0.0, FLAT.length)
    assert marks.size == 2 or np.diff(marks).min() * 1000.0 / int(scale) >= APART - 1e-6


def test_the_level_grid_is_round_and_inside() -> None:
    assert grid_levels(497.3, 521.0, 500, METRIC).tolist() == [500.0, 505.0, 510.0, 515.0, 520.0]


def test_grades_find_the_bends_of_a_line() -> None:
    run = np.linspace(0.0, 200.0, 401)
    pipe = np.interp(run, [0, 60, 100, 200], [10, 13, 12, 16])
    found = grades(_profile(run, pipe), Reach(0.0, 200.0), (120, 200), 1000)
    assert [(g.start, g.end) for g in found] == [(0, 60), (60, 100), (100, 200)]
    assert [g.grade for g in found] == pytest.approx([0.05, -0.025, 0.04])


@settings(deadline=None)
@given(lists(floats(-3, 3), min_size=12, max_size=12), floats(200, 5000))
def test_stretches_join_end_to_end_and_keep_the_line_s_fall(
    levels: list[float], scale: float
) -> None:
    run = np.linspace(0.0, 110.0, 12)
    profile = _profile(run, np.array(levels))
    found = grades(profile, Reach(0.0, 110.0), (3, 7), int(scale))
    assert (found[0].start, found[-1].end) == (0.0, 110.0)
    assert all(a.end == b.start for a, b in pairwise(found))
    fall = sum(g.grade * (g.end - g.start) for g in found)
    assert fall == pytest.approx(levels[-1] - levels[0], abs=1e-9)
    whole = {0.0, 30.0, 70.0, 110.0}  # from end or turn to turn or end, however short
    for one in found:
        least = ARROW if {one.start, one.end} <= whole else STRETCH
        width = (one.end - one.start) * 1000.0 / int(scale)
        assert len(found) == 1 or width >= least - 1e-6


def test_a_short_fall_in_a_rise_is_not_hidden() -> None:
    run = np.linspace(0.0, 200.0, 401)
    pipe = np.interp(run, [0, 90, 100, 200], [10, 13, 12, 16])
    found = grades(
        _profile(run, pipe), Reach(0.0, 200.0), (180, 200), 1000
    )  # the fall is 10 mm long on paper
    assert [g.grade > 0 for g in found] == [True, False, True]


def test_a_pipe_without_levels_has_no_grades() -> None:
    assert grades(_profile(np.arange(3.0), np.full(3, np.nan)), Reach(0.0, 2.0), (), 100) == ()
