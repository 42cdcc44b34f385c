"""A powered pump on its pipe."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pump_duty

CURVE = [(0.0, 40.0), (5e-4, 30.0), (1e-3, 10.0)]


@given(st.floats(-5.0, 39.0), st.floats(0.015, 0.1), st.floats(10.0, 1000.0))
def test_duty_lies_on_both_curves(lift: float, bore: float, length: float) -> None:
    duty = pump_duty(CURVE, lift, bore, length)
    assert duty is not None
    flow, head = duty
    assert head == pytest.approx(np.interp(flow, *np.transpose(CURVE)))
    needed = lift + float(friction_loss(flow, bore, length))
    if flow < 1e-3:
        assert head == pytest.approx(needed, rel=1e-6)
    else:
        assert head >= needed


def test_straight_curve_without_friction_is_a_straight_answer() -> None:
    # Between (0, 40) and (0.5 l/s, 30), a lift of 35 m is met half way.
    duty = pump_duty(CURVE, 35.0, 1.0, 1.0)
    assert duty == pytest.approx((2.5e-4, 35.0), rel=1e-4)


def test_fittings_cost_flow() -> None:
    bare, fitted = (pump_duty(CURVE, 20.0, 0.02, 50.0, minor=m) for m in (0.0, 20.0))
    assert bare is not None
    assert fitted is not None
    assert fitted[0] < bare[0]


def test_none_where_it_can_not_lift_so_high() -> None:
    assert pump_duty(CURVE, 40.0, 0.05, 10.0) is None
    assert pump_duty(CURVE, 300.0, 0.05, 10.0) is None


def test_a_pipe_that_would_take_more_is_held_to_the_last_point() -> None:
    assert pump_duty(CURVE, 1.0, 0.2, 10.0) == (1e-3, 10.0)


@pytest.mark.parametrize(
    ("curve", "words"),
    [
        ([(0.0, 40.0)], "2 to 1000 points"),
        ([], "2 to 1000 points"),
        ([(0.0, 40.0, 1.0), (1e-3, 10.0, 1.0)], "2 to 1000 points"),
        ([(0.0, 40.0), (0.0, 30.0)], "flow rising"),
        ([(0.0, 10.0), (1e-3, 30.0)], "head falling"),
        ([(0.0, np.nan), (1e-3, 30.0)], "pump curve must be .* got nan"),
        ([(0.0, 40.0), (900.0, 30.0)], "flow of the pump curve must be .* got 900"),
        ([(k * 1e-6, 40.0) for k in range(2000)], "2 to 1000 points"),
    ],
)
def test_refuses_a_curve_out_of_order(curve: list[tuple[float, float]], words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        pump_duty(curve, 20.0, 0.02, 100.0)
