"""Ram and delivery line together: the point where both agree, and what the levels' error does."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics import delivered_flow, friction_loss, ram_yield

FALL, LIFT = Band(2.8, 3.0, 3.2), Band(29.0, 30.0, 31.0)


@given(
    st.floats(1e-4, 5e-3), st.floats(2.0, 10.0), st.floats(3.0, 15.0), st.floats(0.012, 0.06),
    st.floats(10.0, 500.0),
)  # fmt: skip
def test_ram_and_line_agree(
    drive: float, fall: float, ratio: float, bore: float, length: float
) -> None:
    lift = fall * ratio
    got = delivered_flow(drive, Band.exact(fall), Band.exact(lift), bore, length)
    if np.isnan(float(got.flow.expected)):
        # The line is too narrow: even at the highest ratio published it would carry less.
        most = float(ram_yield(drive, fall, fall * 41.6).expected)
        assert lift + float(friction_loss(most, bore, length)) > fall * 41.6
        return
    assert got.friction == pytest.approx(float(friction_loss(got.flow.expected, bore, length)))
    again = ram_yield(drive, fall, lift + got.friction)
    assert float(got.flow.expected) == pytest.approx(float(again.expected), rel=1e-6)


def test_a_wide_short_line_leaves_the_rams_own_band() -> None:
    got = delivered_flow(5e-4, Band.exact(3.0), Band.exact(30.0), 0.3, 1.0)
    ram = ram_yield(5e-4, 3.0, 30.0)
    for edge in ("low", "expected", "high"):
        assert getattr(got.flow, edge) == pytest.approx(getattr(ram, edge), rel=1e-6)
    assert got.friction == pytest.approx(0.0, abs=1e-6)


def test_error_of_the_levels_widens_the_band_and_leaves_its_middle() -> None:
    sure = delivered_flow(5e-4, Band.exact(3.0), Band.exact(30.0), 0.0204, 300.0)
    unsure = delivered_flow(5e-4, FALL, LIFT, 0.0204, 300.0)
    assert unsure.flow.expected == pytest.approx(sure.flow.expected)
    assert unsure.flow.low < sure.flow.low * 2.8 / 3.0
    assert unsure.flow.high > sure.flow.high * 3.2 / 3.0


def test_a_narrow_line_costs_water() -> None:
    wide, narrow = (delivered_flow(5e-4, FALL, LIFT, bore, 300.0) for bore in (0.0204, 0.0100))
    assert narrow.flow.expected < wide.flow.expected
    assert narrow.friction > wide.friction


def test_home_made_delivers_half_with_less_friction() -> None:
    bought, made = (
        delivered_flow(5e-4, FALL, LIFT, 0.0204, 300.0, kind=k) for k in ("commercial", "home-made")
    )
    assert made.flow.expected == pytest.approx(bought.flow.expected * 0.5, rel=0.02)
    assert made.friction < bought.friction


def test_beyond_what_is_published_is_nan() -> None:
    got = delivered_flow(5e-4, Band(0.7, 0.8, 0.9), LIFT, 0.0204, 300.0)
    figures = (got.flow.low, got.flow.expected, got.flow.high, got.friction)
    assert all(np.isnan(figure) for figure in figures)


def test_a_line_that_throttles_the_ram_beyond_the_tables_is_nan() -> None:
    got = delivered_flow(5e-2, Band.exact(3.0), Band.exact(100.0), 0.005, 2000.0)
    assert np.isnan(float(got.flow.expected))


def test_where_the_low_case_may_not_run_the_low_flow_is_nothing() -> None:
    got = delivered_flow(5e-4, Band(0.2, 1.5, 2.8), LIFT, 0.0204, 300.0)
    assert got.flow.low == 0.0
    assert got.flow.expected > 0.0
    below_ram = delivered_flow(5e-4, Band(-1.0, 1.5, 4.0), LIFT, 0.0204, 300.0)
    assert below_ram.flow.low == 0.0


def test_where_the_high_case_is_not_covered_the_energy_bounds_it() -> None:
    got = delivered_flow(5e-4, Band(5.0, 10.0, 16.0), Band(22.0, 24.0, 26.0), 0.0204, 10.0)
    assert got.flow.high == pytest.approx(5e-4 * 16.0 / 22.0)
    higher_than_tank = delivered_flow(
        5e-4, Band(5.0, 10.0, 19.0), Band(10.0, 24.0, 38.0), 0.03, 9.0
    )
    assert higher_than_tank.flow.high == pytest.approx(5e-4)


@pytest.mark.parametrize(
    ("drive", "fall", "lift", "bore", "words"),
    [
        (0.0, FALL, LIFT, 0.02, "drive_flow must be above 0"),
        (5e-4, Band.exact(-1.0), LIFT, 0.02, "expected fall must be above 0"),
        (5e-4, FALL, Band.exact(0.0), 0.02, "expected static_lift must be above 0"),
        (5e-4, FALL, LIFT, np.nan, "bore must be above 0"),
        (5e-4, Band(np.nan, 3.0, 3.2), LIFT, 0.02, "low fall must be"),
    ],
)
def test_refuses_by_name(drive: float, fall: Band, lift: Band, bore: float, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        delivered_flow(drive, fall, lift, bore, 300.0)


def test_many_rams_at_once_are_as_each_alone() -> None:
    rng = np.random.default_rng(11)
    n = 300
    drop = rng.uniform(0.6, 24.0, n)  # some outside what is published
    rise = drop * rng.uniform(1.5, 45.0, n)
    length, bore = rng.uniform(20.0, 900.0, n), rng.choice([0.0158, 0.0266, 0.041], n)
    flow = rng.uniform(1e-4, 2e-3, n)
    falls, lifts = Band(drop - 0.2, drop, drop + 0.2), Band(rise - 0.2, rise, rise + 0.2)
    many = delivered_flow(flow, falls, lifts, bore, length)
    for k in range(n):
        one = delivered_flow(
            float(flow[k]),
            Band(float(drop[k] - 0.2), float(drop[k]), float(drop[k] + 0.2)),
            Band(float(rise[k] - 0.2), float(rise[k]), float(rise[k] + 0.2)),
            float(bore[k]),
            float(length[k]),
        )
        for edge in ("low", "expected", "high"):
            alone, among = getattr(one.flow, edge), np.asarray(getattr(many.flow, edge))[k]
            assert alone == pytest.approx(among, rel=1e-9, nan_ok=True)
        assert one.friction == pytest.approx(np.asarray(many.friction)[k], rel=1e-9, nan_ok=True)
