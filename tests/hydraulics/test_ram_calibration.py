"""A ram's measured efficiency: its spread, its bound, and what it does to the yield."""

import math
import warnings

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange, OutsideRangeWarning
from planner.hydraulics import delivered_flow, ram_yield
from planner.hydraulics.ram_calibration import Reading, measured_efficiency

LITRE_A_MINUTE = 1e-3 / 60.0
EFFICIENCIES = st.floats(0.01, 1.0)
MEASURED = st.lists(EFFICIENCIES, min_size=3, max_size=3).map(lambda x: Band(*sorted(x)))


def reading(efficiency: float, ratio: float = 10.0) -> Reading:
    return Reading(1e-3, 2.4, 2.4 * ratio, 1e-3 * efficiency / ratio)


def test_textbook_ram() -> None:
    # Hydraulics textbook: Q 30, q 3, H 4, h 18: d'Aubuisson 45 %.
    assert Reading(0.030, 4.0, 18.0, 0.003).efficiency == pytest.approx(0.45)


def test_a_student_ram_that_gave_7_percent_where_33_were_foretold() -> None:
    band = measured_efficiency([Reading(1e-3, 1.0, 5.75, 1e-3 * 0.07 / 5.75)])
    assert (band.low, band.expected, band.high) == pytest.approx((0.063, 0.07, 0.077))


@given(st.lists(EFFICIENCIES, min_size=1, max_size=20), st.floats(0.0, 0.5))
def test_the_band_holds_every_reading_and_the_bound(found: list[float], error: float) -> None:
    band = measured_efficiency([reading(eta) for eta in found], reading_error=error)
    assert 0.0 < float(band.low) <= min(found) * (1 + 1e-12)
    assert max(found) * (1 - 1e-12) <= float(band.high) <= 1.0
    assert float(band.expected) == pytest.approx(np.mean(found))


def test_more_scatter_a_wider_band_about_the_same_middle() -> None:
    near, far = (measured_efficiency([reading(0.6 - d), reading(0.6 + d)]) for d in (0.01, 0.1))
    assert near.expected == pytest.approx(far.expected)
    assert far.low < near.low < near.high < far.high


@given(MEASURED, st.floats(1e-5, 0.05), st.floats(0.2, 50.0), st.floats(1.001, 41.0))
def test_a_measured_ram_never_above_the_energy_there_is(
    measured: Band, flow: float, fall: float, ratio: float
) -> None:
    got = ram_yield(flow, fall, fall * ratio, efficiency=measured)
    assert 0 < float(got.low) <= float(got.expected) <= float(got.high) <= flow / ratio * (1 + 1e-9)


@given(MEASURED, st.floats(0.5, 20.0), st.floats(1.0, 3.0), st.floats(4.0, 40.0))
def test_a_measured_ram_gives_more_for_more_fall(
    measured: Band, fall: float, more: float, ratio: float
) -> None:
    lift = fall * ratio
    less, greater = (ram_yield(1e-3, h, lift, efficiency=measured) for h in (fall, fall * more))
    assert greater.expected >= less.expected


def test_what_was_measured_comes_back() -> None:
    # Plant a delivery, calibrate on it, ask for the same ram.
    seen = Reading(40 * LITRE_A_MINUTE, 2.4, 24.0, 2.2 * LITRE_A_MINUTE)
    got = ram_yield(40 * LITRE_A_MINUTE, 2.4, 24.0, efficiency=measured_efficiency([seen]))
    assert got.expected == pytest.approx(2.2 * LITRE_A_MINUTE)
    made = ram_yield(40 * LITRE_A_MINUTE, 2.4, 24.0, "home-made", efficiency=Band(0.5, 0.55, 0.6))
    assert made.expected == pytest.approx(2.2 * LITRE_A_MINUTE)


def test_a_measured_ram_below_the_published_falls_and_not_beyond_the_ratios() -> None:
    measured = Band(0.4, 0.5, 0.6)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        low_fall = ram_yield(1e-3, 0.6, 6.0, efficiency=measured)
        low_ratio = ram_yield(1e-3, 5.0, 7.0, efficiency=measured)
    assert low_fall.expected == pytest.approx(0.05e-3)
    assert low_ratio.expected == pytest.approx(1e-3 * 0.5 / 1.4)
    with pytest.warns(OutsideRangeWarning, match=r"covers 3 of 4 cases: lift must be above the"):
        got = ram_yield(1e-3, 2.0, [2.0, 1.0, 100.0, 20.0], efficiency=measured)
    assert np.isnan(got.low).tolist() == [True, True, True, False]


def test_delivered_flow_takes_it_too() -> None:
    fall, lift = Band.exact(3.0), Band.exact(30.0)
    measured = measured_efficiency([reading(0.5)])
    got = delivered_flow(5e-4, fall, lift, 0.0204, 300.0, efficiency=measured)
    again = ram_yield(5e-4, 3.0, 30.0 + got.friction, efficiency=measured)
    assert float(got.flow.expected) == pytest.approx(float(again.expected))
    assert float(got.flow.expected) < float(
        delivered_flow(5e-4, fall, lift, 0.0204, 300.0).flow.expected
    )


@pytest.mark.parametrize(
    ("flow", "fall", "lift", "delivered", "words"),
    [
        (math.nan, 2.4, 24.0, 5e-5, "drive_flow must be above 0"),
        (1e-3, 0.0, 24.0, 5e-5, "fall must be above 0"),
        (1e-3, 2.4, -24.0, 5e-5, "lift must be above 0"),
        (1e-3, 2.4, 2.0, 5e-5, "lift must be above the fall of 2.4 m, got 2"),
        (1e-3, 2.4, 24.0, math.inf, "delivered must be above 0"),
        # The rule of a 1917 extension column, 1/7 of the water from 5 ft to 40 ft, is impossible.
        (1e-3, 5.0, 40.0, 1e-3 / 7, "no ram gives more energy than it takes"),
    ],
)
def test_readings_refuse_by_name(
    flow: float, fall: float, lift: float, delivered: float, words: str
) -> None:
    with pytest.raises(OutsideRange, match=words):
        Reading(flow, fall, lift, delivered)


def test_refuses_no_readings_and_absurd_errors() -> None:
    with pytest.raises(OutsideRange, match="readings of a ram must be 1 to 1000, got 0"):
        measured_efficiency([])
    with pytest.raises(OutsideRange, match="got 1001"):
        measured_efficiency([reading(0.5)] * 1001)
    with pytest.raises(OutsideRange, match="reading_error must be"):
        measured_efficiency([reading(0.5)], reading_error=math.nan)


@pytest.mark.parametrize(
    ("measured", "words"),
    [
        (Band(0.0, 0.5, 0.6), "low efficiency must be above 0"),
        (Band(0.4, 0.5, 1.2), "high efficiency must be above 0 and at most 1, got 1.2"),
        (Band(math.nan, 0.5, 0.6), "low efficiency must be above 0"),
    ],
)
def test_yield_refuses_an_efficiency_that_cannot_be(measured: Band, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        ram_yield(1e-3, 2.4, 24.0, efficiency=measured)
