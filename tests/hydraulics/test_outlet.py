"""One line with its valve, hose and opening: closed forms."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pipe_flow, velocity
from planner.hydraulics.outlet import Hose, Outlet, orifice_loss, outlet_flow, outlet_head
from planner.hydraulics.water import GRAVITY

TAP = Outlet("tap", 40.0, 0.0127, loss=8.0)


def test_torricelli() -> None:
    # Nothing but a sharp hole: Q = C A sqrt(2 g h).
    hole = Outlet("hole", 0.0, 0.01, loss=orifice_loss(0.62))
    exact = 0.62 * math.pi / 4.0 * 1e-4 * math.sqrt(2.0 * GRAVITY * 5.0)
    assert outlet_flow(5.0, 0.2, 0.01, hole) == pytest.approx(exact, rel=1e-4)


def test_a_hose_is_a_pipe_behind_the_valve() -> None:
    hosed = Outlet("hose", 0.0, 0.02, loss=1.0, hose=Hose(0.013, 20.0))
    flow = outlet_flow(10.0, 0.02, 50.0, hosed)
    lost = float(friction_loss(flow, 0.02, 50.0)) + float(friction_loss(flow, 0.013, 20.0))
    jet = float(velocity(flow, 0.02)) ** 2 / (2.0 * GRAVITY)
    assert lost + jet == pytest.approx(10.0, rel=1e-9)
    assert flow < outlet_flow(10.0, 0.02, 50.0, replace(hosed, hose=None))


@given(st.floats(-5.0, 60.0), st.floats(0.0, 40.0))
def test_more_head_never_less_water(head: float, more: float) -> None:
    assert outlet_flow(head + more, 0.02, 100.0, TAP) >= outlet_flow(head, 0.02, 100.0, TAP)


def test_a_tap_by_hand() -> None:
    # 0.2 l/s in 12.7 mm: 1.5788 m/s, 8 V²/2g = 1.0168 m.
    assert outlet_head(2e-4, TAP) == pytest.approx(1.0168, abs=1e-3)
    assert outlet_head(0.0, TAP) == 0.0


@given(st.floats(0.01, 100.0), st.floats(0.01, 0.05), st.floats(1.0, 20.0), st.floats(1.0, 500.0))
def test_all_the_head_is_spent_and_none_is_made(
    head: float, bore: float, loss: float, length: float
) -> None:
    tap = Outlet("tap", 0.0, bore, loss)
    flow = outlet_flow(head, 0.02, length, tap, minor=3.0)
    lost = float(friction_loss(flow, 0.02, length))
    lost += 3.0 * float(velocity(flow, 0.02)) ** 2 / (2.0 * GRAVITY)
    assert lost + outlet_head(flow, tap) == pytest.approx(head, rel=1e-6)
    assert flow < pipe_flow(head, 0.02, length, minor=3.0)


def test_nothing_from_below_or_shut() -> None:
    assert outlet_flow(-1.0, 0.02, 10.0, TAP) == outlet_flow(0.0, 0.02, 10.0, TAP) == 0.0
    assert outlet_flow(5.0, 0.02, 10.0, replace(TAP, is_open=False)) == 0.0


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="outlet loss must be 1 or more"):
        replace(TAP, loss=0.5)
    with pytest.raises(OutsideRange, match="hose length must be above 0"):
        Hose(0.013, 0.0)
    with pytest.raises(OutsideRange, match="outlet level must be"):
        replace(TAP, level=np.inf)
    with pytest.raises(OutsideRange, match="head must be"):
        outlet_flow(np.nan, 0.02, 10.0, TAP)
    with pytest.raises(OutsideRange, match="coefficient must be above 0"):
        orifice_loss(0.0)
