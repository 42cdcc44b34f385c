"""Grains that sink: two published tables, and chambers checked by hand."""

import numpy as np
import pytest
from fluids.drag import v_terminal
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.settling import (
    air_separation_area,
    drive_tank_volume,
    finest_kept,
    settling_chamber,
    settling_velocity,
)
from planner.hydraulics.water import density, viscosity

MILLIMETRES = [1.0, 0.5, 0.3, 0.2, 0.15, 0.1, 0.06, 0.04, 0.02, 0.01]
# Ferguson and Church, quartz at 10 °C, mm/s, to the digits given there.
FERGUSON_CHURCH = [121, 65, 35, 19.4, 12.2, 6.0, 2.3, 1.06, 0.27, 0.068]
# Hazen's old table, quartz at 10 °C, mm/s; medium confidence.
HAZEN = [100, 53, 32, 21, 15, 8, 3.8, 2.1, 0.62, 0.154]


@pytest.mark.parametrize(("d", "w"), list(zip(MILLIMETRES, FERGUSON_CHURCH, strict=True)))
def test_reproduces_the_table(d: float, w: float) -> None:
    assert settling_velocity(d * 1e-3) * 1e3 == pytest.approx(w, rel=0.02)


@pytest.mark.parametrize(("d", "w"), list(zip(MILLIMETRES, HAZEN, strict=True))[:6])
def test_hazen_agrees_from_a_tenth_of_a_millimetre_up(d: float, w: float) -> None:
    assert settling_velocity(d * 1e-3) * 1e3 == pytest.approx(w, rel=0.26)


@pytest.mark.parametrize(("d", "w"), list(zip(MILLIMETRES, HAZEN, strict=True))[6:])
def test_below_that_hazen_promises_too_much(d: float, w: float) -> None:
    assert settling_velocity(d * 1e-3) * 1e3 < 0.65 * w


def test_fine_silt_sinks_as_stokes_says() -> None:
    # Independent: the terminal velocity of a sphere from the library's drag correlations.
    rho, nu = float(density(10.0)), float(viscosity(10.0))
    sphere = v_terminal(D=1e-5, rhop=2.65 * rho, rho=rho, mu=nu * rho)
    assert settling_velocity(1e-5, c2=0.4) == pytest.approx(sphere, rel=0.02)


@given(st.floats(1e-6, 0.05), st.floats(1.0, 2.0), st.floats(0.0, 30.0), st.floats(0.0, 30.0))
def test_larger_and_warmer_sinks_faster(d: float, more: float, cold: float, warmer: float) -> None:
    assert settling_velocity(d * more, cold) >= settling_velocity(d, cold)
    assert settling_velocity(d, cold + warmer) >= settling_velocity(d, cold)


def test_takes_arrays() -> None:
    got = settling_velocity(np.array([1e-4, 1e-3]), np.array([[10.0], [20.0]]))
    assert np.shape(got) == (2, 2)


@given(st.floats(1e-5, 1e-2), st.floats(1e-6, 5e-3))
def test_a_chamber_keeps_just_the_grain_it_was_made_for(flow: float, d: float) -> None:
    made = settling_chamber(flow, d, safety=1.0, detention=0.0, sinking=1.0)
    assert finest_kept(flow, made.surface) == pytest.approx(d, rel=1e-4)


def test_a_third_of_a_square_metre_for_each_litre_a_second() -> None:
    # 0.1 mm kept at safety 2: 2 x 0.001 / 0.0060 = 0.33 m².
    got = settling_chamber(1e-3, 1e-4, detention=0.0)
    assert got.surface == pytest.approx(0.33, abs=0.005)
    assert got.ruled_by == "grit"


def test_a_chamber_by_hand() -> None:
    # 1 l/s for 15 min is 0.9 m³; at 0.9 m depth 1 m², four times as long as wide: 2 m by 0.5 m.
    got = settling_chamber(1e-3)
    size = (got.volume, got.surface, got.length, got.width, got.detention)
    assert size == pytest.approx((0.9, 1.0, 2.0, 0.5, 900.0))
    assert got.ruled_by == "detention"


def test_gravel_alone_leaves_air_to_rule() -> None:
    got = settling_chamber(1e-3, 5e-3, detention=0.0)
    assert got.ruled_by == "air"
    assert got.surface == air_separation_area(1e-3) == pytest.approx(0.02)


@given(st.floats(1e-5, 1e-2), st.floats(2e-5, 1e-3), st.floats(0.0, 4000.0))
def test_no_rule_is_broken(flow: float, d: float, detention: float) -> None:
    got = settling_chamber(flow, d, detention=detention)
    assert flow / got.surface <= float(settling_velocity(d)) / 2.0 * (1 + 1e-9)
    assert got.detention >= detention * (1 - 1e-9)
    assert flow / got.surface <= 0.05 * (1 + 1e-9)
    assert got.length == pytest.approx(4.0 * got.width)
    assert got.volume == pytest.approx(got.length * got.width * got.depth)


def test_a_minute_of_drive_water() -> None:
    assert drive_tank_volume(1e-3) == pytest.approx(0.06)
    assert drive_tank_volume(1e-3, seconds=30.0) == pytest.approx(0.03)


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match=r"diameter must be above 0 and at most 0\.1, got 1"):
        settling_velocity(1.0)
    with pytest.raises(OutsideRange, match="temperature must be"):
        settling_velocity(1e-3, 80.0)
    with pytest.raises(OutsideRange, match="surface must be larger"):
        finest_kept(1.0, 0.1)
    with pytest.raises(OutsideRange, match="safety must be 1 or more"):
        settling_chamber(1e-3, safety=0.5)
    with pytest.raises(OutsideRange, match="detention must be 0 or more"):
        settling_chamber(1e-3, detention=np.nan)
    with pytest.raises(OutsideRange, match="drive_flow must be above 0"):
        drive_tank_volume(-1.0)
