"""Surge by how fast a valve shuts, along the line, and in a ram's drive pipe."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.surge import (
    closing_surge,
    return_time,
    surge_along,
    surge_head,
    wave_speed,
)
from planner.hydraulics.surge_drive import drive_peak

SPEED, CHANGE, LONG = st.floats(100.0, 1480.0), st.floats(0.0, 3.0), st.floats(5.0, 5000.0)


def test_return_time_by_hand() -> None:
    assert return_time(400.0, 300.0) == 1.5
    np.testing.assert_allclose(return_time([400.0, 800.0], 300.0), [1.5, 0.75])


@given(SPEED, CHANGE, LONG, st.floats(0.0, 1e3), st.floats(0.0, 1e3))
def test_slower_closing_never_raises_the_surge(
    a: float, change: float, length: float, one: float, other: float
) -> None:
    fast = closing_surge(a, change, length, min(one, other))
    slow = closing_surge(a, change, length, max(one, other))
    assert slow.high <= fast.high * (1 + 1e-12)
    assert fast.high <= float(surge_head(a, change)) * (1 + 1e-12)
    assert slow.low <= slow.expected <= slow.high


def test_slow_closing_is_half_to_all_of_michauds() -> None:
    # 2 L V / (g t) = 2 * 500 * 1 / (9.80665 * 10) = 10.197 m; the wave is back after 2.5 s.
    got = closing_surge(400.0, 1.0, 500.0, 10.0)
    assert got.high == pytest.approx(10.197, abs=1e-3)
    assert got.low == pytest.approx(10.197 / 2, abs=1e-3)


def test_published_pvc_case_with_its_static_head() -> None:
    # W1, a PVC surge example: static 9 m and some 102 m of surge, under a limit of 150 m; 1 %.
    rise = closing_surge(float(wave_speed(0.3, 0.02, 2.6e9)), 2.5, 400.0, 0.0).high
    assert 9.0 + rise == pytest.approx(111.0, rel=0.01)


def test_fast_closing_is_felt_in_full_back_to_where_the_waves_meet() -> None:
    # a 400 m/s, shut in 1 s: full from 200 m on, even from there to the free water.
    rise = surge_along([10, 110, 210, 310, 510], 400.0, 1.0, 1.0)
    peak = 400.0 / 9.80665
    np.testing.assert_allclose(rise, [0.0, peak / 2, peak, peak, peak])
    np.testing.assert_allclose(surge_along([0, 1, 500], 400.0, 1.0, 0.0), [0.0, peak, peak])
    slow = surge_along([0, 250, 500], 400.0, 1.0, 10.0)
    np.testing.assert_allclose(slow, [0.0, 5.0986, 10.197], rtol=1e-4)


@given(SPEED, CHANGE, LONG, st.floats(0.0, 100.0))
def test_surge_never_falls_toward_the_valve(
    a: float, change: float, length: float, time: float
) -> None:
    rise = surge_along(np.linspace(0.0, length, 9), a, change, time)
    assert rise[0] == 0.0
    assert np.all(np.diff(rise) >= -1e-9)
    assert rise[-1] == pytest.approx(closing_surge(a, change, length, time).high)


def test_drive_pipe_of_the_reference_notes() -> None:
    # Notes, section 4: steel, 0.8 m/s stopped: some 110 m.
    peak = drive_peak(24.0, 1400.0, 0.8)
    assert peak.blocked == pytest.approx(110.0, rel=0.05)
    assert peak.beating == 48.0
    assert peak.design == peak.blocked
    assert drive_peak(90.0, 395.0, 0.8).design == 180.0


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="closing_time must be 0 or more"):
        closing_surge(400.0, 1.0, 100.0, -1.0)
    with pytest.raises(OutsideRange, match="length must be above 0"):
        return_time(400.0, 0.0)
    with pytest.raises(OutsideRange, match="chainage must be at least two"):
        surge_along([0.0, 0.0], 400.0, 1.0, 1.0)
    with pytest.raises(OutsideRange, match="free_velocity must be above 0"):
        drive_peak(24.0, 1400.0, 0.0)
    with pytest.raises(OutsideRange, match="delivery_head must be above 0"):
        drive_peak(float("nan"), 1400.0, 1.0)
