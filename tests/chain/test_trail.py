"""A trail of GPS fixes: what the handheld added is gone, where the walk bent stays."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString

from planner.chain.trail import WOBBLE, is_trail, without_spikes, without_wobble
from tests.chain.walks import WAY, along, trail


@pytest.mark.parametrize("seed", range(20))
def test_a_walk_comes_back_without_leaps_stops_and_wobble(seed: int) -> None:
    fixes, truth = trail(WAY, seed), LineString(WAY)
    assert is_trail(fixes)
    line = LineString(without_wobble(without_spikes(fixes)))
    # The trail strays by 1.2 m in each direction; three times that, and the wobble left alone.
    assert line.hausdorff_distance(truth) < 3.0 * 1.2 * np.sqrt(2.0) + WOBBLE
    assert line.length == pytest.approx(truth.length, rel=0.08)
    assert LineString(fixes).length > 2.5 * truth.length
    assert len(line.coords) < 20


def test_a_leap_out_and_back_is_left_out_and_nothing_else() -> None:
    clean = along(WAY, 1.0)
    leapt = clean.copy()
    leapt[30] += (25.0, 5.0)
    leapt[50:54] += (-30.0, 12.0)
    kept = without_spikes(leapt)
    gone = {30, 50, 51, 52, 53}
    expected = [k for k in range(len(clean)) if k not in gone]
    np.testing.assert_array_equal(kept, clean[expected])


def test_a_gap_without_fixes_is_no_leap() -> None:
    clean = along(WAY, 1.0)
    gap = np.delete(clean, range(20, 45), axis=0)
    np.testing.assert_array_equal(without_spikes(gap), gap)


def test_a_stop_is_one_place() -> None:
    rng = np.random.default_rng(3)
    there = along(np.array([[0.0, 0.0], [40.0, 0.0]]), 1.0)
    here = there[-1] + rng.uniform(-2.5, 2.5, (300, 2))
    on = along(np.array([[40.0, 0.0], [40.0, 40.0]]), 1.0)
    line = LineString(without_wobble(np.concatenate([there, here, on])))
    assert line.length == pytest.approx(80.0, abs=8.0)
    assert line.hausdorff_distance(LineString([(0, 0), (40, 0), (40, 40)])) < 5.0


def test_bends_of_the_way_stay_where_they_are() -> None:
    zigzag = np.array([[0.0, 0.0], [30.0, 0.0], [30.0, 20.0], [55.0, 20.0], [60.0, 60.0]])
    line = LineString(without_wobble(along(zigzag, 1.0)))
    assert line.hausdorff_distance(LineString(zigzag)) <= 2.0 * WOBBLE


@pytest.mark.parametrize("step", [0.5, 1.0, 5.5, 10.0, 25.0])
def test_pegs_and_samples_of_straight_legs_are_no_trail(step: float) -> None:
    assert not is_trail(along(WAY, step))


def test_a_route_along_a_winding_creek_is_no_trail() -> None:
    x = np.arange(0.0, 60.0, 2.0)
    assert not is_trail(np.column_stack([x, 0.5 * np.sin(x)]))


def test_two_points_are_no_trail() -> None:
    assert not is_trail(np.array([[0.0, 0.0], [1.0, 0.0]]))


COORDINATE = st.floats(-100.0, 100.0)
POINTS = st.lists(st.tuples(COORDINATE, COORDINATE), min_size=2, max_size=60, unique=True)


@settings(deadline=None)
@given(POINTS)
def test_ends_stay_and_nothing_is_made_up(points: list[tuple[float, float]]) -> None:
    xy = np.array(points)
    for thin in (without_spikes, without_wobble):
        kept = thin(xy)
        np.testing.assert_array_equal(kept[0], xy[0])
        np.testing.assert_array_equal(kept[-1], xy[-1])
        assert {tuple(point) for point in kept.tolist()} <= set(points)
        assert len(kept) >= 2
