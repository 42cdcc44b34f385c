"""Falling legs of a laid line, the relations side by side, and what a pocket takes."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.air import clears_above, stays_below
from planner.hydraulics.air_leg import FallingLeg, clearing_speeds, falling_legs, pocket_loss


@pytest.mark.parametrize(
    ("slope", "words", "froude"),
    [
        # By hand from the formulas; sin(atan 0.3) = 0.28735, its root 0.53605.
        (0.3, "smallest", 0.45 + 0.56 * 0.53605),
        (0.3, "largest", 0.61 + 0.56 * 0.53605),
        (0.3, "Wisner", 0.825 + 0.25 * 0.53605),
        (0.3, "Kent", 0.55 + 0.5 * 0.53605),
        (0.3, "Kalinske", 1.07 * 0.54772),
        (0.3, "Gonz", 1.27 * 0.54772),
        (0.3, "Lubbers", 0.9),
    ],
)
def test_relations_by_hand(slope: float, words: str, froude: float) -> None:
    speeds = clearing_speeds(0.04, slope)
    (speed,) = (value for name, value in speeds.items() if words in name)
    assert speed == pytest.approx(froude * np.sqrt(9.80665 * 0.04), rel=1e-4)


@given(st.floats(0.01, 0.2), st.floats(0.0, 0.41))
def test_no_relation_of_pockets_says_less_than_the_verdicts_band(bore: float, slope: float) -> None:
    speeds = {k: v for k, v in clearing_speeds(bore, slope).items() if "bubbles" not in k}
    assert min(speeds.values()) >= float(stays_below(bore, slope)) * (1 - 1e-12)
    assert max(speeds.values()) <= 1.1 * float(clears_above(bore, slope))


def test_relations_end_where_their_tests_ended() -> None:
    assert not any("Lubbers" in name for name in clearing_speeds(0.04, 0.05))
    assert clearing_speeds(0.04, 0.5) == {}


def test_legs_of_a_line() -> None:
    run = [0.0, 50.0, 100.0, 120.0, 160.0, 200.0, 260.0]
    pipe = [90.0, 95.0, 92.0, 91.0, 88.0, 93.0, 80.0]
    first, last = falling_legs(run, pipe, [1, 5], [4])
    assert (first.crest, first.foot, first.height) == (1, 4, 7.0)
    assert first.steepest == pytest.approx(0.075)  # 3 m in 40, the steepest of three pieces
    assert (last.foot, last.height) == (6, 13.0)
    assert falling_legs(run, pipe, [], [4]) == ()


def test_the_steepest_piece_decides() -> None:
    # Mean 6 %, one piece 20 %: 0.40 m/s in 35 mm passes the mean slope's least speed alone.
    (leg,) = falling_legs([0, 10, 60, 70, 110], [1, 5, 4.0, 2.0, -1.0], [1], [])
    assert leg.steepest == pytest.approx(0.2)
    assert float(stays_below(0.035, 0.06)) < 0.40
    assert leg.clears(0.40, 0.035) is False


def test_steeper_than_any_test_can_not_be_said() -> None:
    leg = FallingLeg(0, 1, 3.0, 0.6)
    assert [leg.clears(v, 0.035) for v in (0.1, 0.5, 5.0)] == [None] * 3


@given(st.floats(0.0, 2.0), st.floats(0.0, 2.0), st.floats(0.01, 0.2), st.floats(0.0, 0.41))
def test_a_faster_flow_never_clears_less(
    one: float, other: float, bore: float, slope: float
) -> None:
    leg, order = FallingLeg(0, 1, 1.0, slope), [False, None, True]
    slow, fast = leg.clears(min(one, other), bore), leg.clears(max(one, other), bore)
    assert order.index(slow) <= order.index(fast)


@given(st.sampled_from([True, False, None]), st.floats(-8.0, 100.0), st.floats(5.0, 10.4))
def test_a_pocket_takes_no_more_than_the_leg_is_high(
    cleared: bool | None, pressure: float, air: float
) -> None:
    lost = pocket_loss(FallingLeg(0, 1, 4.0, 0.1), cleared, pressure, air)
    assert 0.0 <= lost.low <= lost.expected <= lost.high <= 4.0
    assert (lost.high == 0.0) is (cleared is True)
    assert (lost.low > 0.0) is (cleared is False)


@pytest.mark.parametrize(
    ("run", "pipe", "crests", "words"),
    [
        ([0, 1, 1], [1, 3, 2], [1], "must rise from sample to sample"),
        ([0, 1], [1, 3, 2], [1], "as many levels as distances"),
        ([0, 1, 2], [1, np.nan, 2], [1], "pipe level must be .* got nan at index 1"),
        ([0, 1, 2], [1, 3, 2], [5], "crest must be a sample of the line, 0 to 2, got 5"),
        ([0, 1, 2], [1, 2, 3], [1], "crest at sample 1 must stand above its foot at sample 2"),
    ],
)
def test_refuses_by_name(
    run: list[float], pipe: list[float], crests: list[int], words: str
) -> None:
    with pytest.raises(OutsideRange, match=words):
        falling_legs(run, pipe, crests, [])


@given(st.floats(0.01, 500.0), st.floats(5.0, 10.4))
def test_air_at_no_pressure_fills_the_leg_and_no_more(height: float, air: float) -> None:
    assert pocket_loss(FallingLeg(0, 1, height, 0.1), False, -1.0, air).expected == height
