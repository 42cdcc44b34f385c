"""Laying a pipe: planted humps and dips come back with their figures."""

import numpy as np
import pytest

from planner.errors import TerrainError
from planner.profile.along import profile_along
from planner.profile.lay import high_points, lay, lay_falling, lay_straight
from planner.terrain.value import Terrain


def ridge(bump=1.5, grade=0.1, rows=21, cols=121):
    """Land that rises east, with a bump at x = 60 m."""
    x = np.arange(cols) + 0.5
    z = grade * x + bump * np.exp(-(((x - 60.0) / 5.0) ** 2))
    return Terrain.from_array(np.tile(z, (rows, 1)), 1.0)


def across(terrain):
    return profile_along(terrain, [(10.0, -10.0), (110.0, -10.0)])


def test_the_rise_of_a_high_point_is_above_the_higher_neighbour():
    profile = across(ridge())
    (high,) = high_points(profile, 0.005, 0.1, start="closed")
    after = profile.ground[high.index :]
    assert high.rise_m == pytest.approx(high.level_m - np.min(after), abs=0.15)
    assert 0.0 < high.deeper_m < high.rise_m


def test_digging_by_the_stated_depth_removes_it():
    profile = across(ridge())
    (high,) = high_points(profile, 0.005, 0.1, start="closed")
    assert not high_points(profile, 0.005, 0.1 + high.deeper_m + 1e-6, start="closed")


def test_the_pipe_keeps_its_cover_and_its_deepest_trench():
    laid = lay(across(ridge()), cover=0.5, slack=0.7, least=0.005, start="closed")
    assert np.min(laid.profile.depth) >= 0.5 - 1e-9
    assert np.max(laid.profile.depth) <= 1.2 + 1e-9


def test_a_shallower_trench_on_rock_is_kept_to():
    profile = across(ridge(bump=0.8))
    slack = np.where(np.abs(profile.run - 50.0) < 20.0, 0.05, 0.9)
    laid = lay(profile, cover=0.4, slack=slack, least=0.005, start="closed")
    assert np.all(laid.profile.depth <= 0.4 + slack + 1e-9)


def test_a_falling_line_has_no_sag_or_is_none():
    terrain = ridge(bump=-0.6, grade=-0.05)
    assert lay_falling(across(terrain), cover=0.3, slack=0.05, least=0.005) is None
    laid = lay_falling(across(terrain), cover=0.3, slack=1.0, least=0.005)
    assert laid is not None
    assert np.all(np.diff(laid.profile.pipe) < 0.0)


def test_a_straight_pipe_is_straight():
    laid = lay_straight(across(ridge()))
    assert np.ptp(np.diff(laid.profile.pipe) / np.diff(laid.profile.run)) < 1e-9


def test_flat_stretches_are_named_where_they_lie():
    z = np.concatenate([np.linspace(0, 3, 40), np.full(30, 3.0), np.linspace(3, 6, 40)])
    terrain = Terrain.from_array(np.tile(z, (11, 1)), 1.0)
    profile = profile_along(terrain, [(1.0, -5.0), (109.0, -5.0)])
    laid = lay(profile, cover=0.0, slack=0.0, least=0.01)
    (flat,) = laid.flats
    assert flat.start_m == pytest.approx(39.0, abs=1.5)
    assert flat.end_m == pytest.approx(69.0, abs=1.5)


def test_a_hole_under_the_line_is_named_by_its_chainage():
    z = np.ones((21, 60))
    z[:, 20:25] = np.nan
    profile = profile_along(Terrain.from_array(z, 1.0), [(1.0, -10.0), (59.0, -10.0)])
    with pytest.raises(TerrainError, match=r"between 19\.0 m and 24\.0 m"):
        high_points(profile, 0.005, 0.1)
