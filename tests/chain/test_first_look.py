"""Five numbers: held against published yields, the law of energy, and what makes sense."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.chain.first_look import DOUBT, SHARE_LEFT, first_look
from planner.errors import OutsideRange
from planner.hydraulics.full_flow import pipe_flow
from tests.hydraulics.published import r1_cells

LITRE_A_MINUTE = 1e-3 / 60.0  # m³/s
DAY = 86400.0  # s
FEW = settings(max_examples=12, deadline=None)  # each solves ram and pipe two dozen times

FLOWS = st.floats(1e-4, 5e-3)
FALLS = st.floats(1.0, 20.0)
RATIOS = st.floats(2.1, 40.0)


def test_a_ram_gives_what_the_trades_table_says() -> None:
    """R1, UN/ITDG: litres a day for each l/min; the pipe may cost 5 % of it, the fit 19 %.

    Every tenth cell, all within the range with the pipe's friction on top.
    """
    for fall, lift, litres in r1_cells()[::10]:
        drive = 40.0 * LITRE_A_MINUTE
        seen = first_look(drive / (1.0 - SHARE_LEFT), fall, lift, 1.5 * lift, 1.0)
        assert seen.scheme == "ram"
        assert float(seen.delivered.expected) == pytest.approx(litres * 40.0 / 1000.0, rel=0.25)
        assert seen.delivered.low < litres * 40.0 / 1000.0 < seen.delivered.high


@FEW
@given(FLOWS, FALLS, RATIOS)
def test_no_ram_lifts_more_than_the_falling_water_can(
    flow: float, fall: float, ratio: float
) -> None:
    seen = first_look(flow, fall, ratio * fall, 2.0 * ratio * fall, 1.0)
    most = flow * (1 - SHARE_LEFT) * (1 + DOUBT) * (1 + DOUBT) / (ratio * (1 - DOUBT)) * DAY
    if not math.isnan(float(seen.delivered.expected)):
        assert 0.0 <= seen.delivered.low <= seen.delivered.expected <= seen.delivered.high
        assert seen.delivered.high <= most * (1 + 1e-9)


@FEW
@given(FLOWS, st.floats(0.0, 50.0), st.floats(-50.0, 50.0), st.floats(1.0, 20.0))
def test_a_tank_below_the_source_needs_no_ram_and_gets_no_more_than_may_be_taken(
    flow: float, fall: float, rise: float, longer: float
) -> None:
    assume(rise < fall)
    seen = first_look(flow, fall, rise, (fall - rise) * longer + 1.0, 1.0)
    assert seen.scheme == "gravity"
    assert 0.0 <= seen.delivered.low <= seen.delivered.expected
    assert seen.delivered.high <= flow * (1 - SHARE_LEFT) * (1 + DOUBT) * DAY * (1 + 1e-9)


def test_by_gravity_the_pipe_carries_what_its_head_drives() -> None:
    """12 m of head through 600 m: the plain pipe formula, with the bore that was chosen."""
    seen = first_look(2e-2, 10.0, -2.0, 600.0, 10.0)
    carried = pipe_flow(12.0, seen.bore, 600.0) * DAY
    assert carried < 2e-2 * (1 - SHARE_LEFT) * DAY
    assert float(seen.delivered.expected) == pytest.approx(carried)


@FEW
@given(FLOWS, FALLS, RATIOS, st.floats(0.01, 200.0))
def test_the_verdict_is_what_the_band_says(
    flow: float, fall: float, ratio: float, need: float
) -> None:
    seen = first_look(flow, fall, ratio * fall, 2.0 * ratio * fall, need)
    if seen.verdict == "go":
        assert seen.delivered.low >= need
    elif seen.verdict == "no-go":
        assert seen.delivered.high < need
    elif seen.reason == "perhaps":
        assert seen.delivered.low < need <= seen.delivered.high


@FEW
@given(FLOWS, FALLS, RATIOS)
def test_more_water_or_more_fall_never_give_less(flow: float, fall: float, ratio: float) -> None:
    rise, length = ratio * fall, 2.0 * ratio * fall
    plain, wetter, deeper = (
        first_look(q, h, rise, length, 1.0).delivered.expected
        for q, h in ((flow, fall), (1.2 * flow, fall), (flow, 1.02 * fall))
    )
    assume(not math.isnan(float(plain)))
    # Another bore may be chosen, which costs the bearable share at most.
    assert wetter >= 0.95 * float(plain)
    assert math.isnan(float(deeper)) or deeper >= 0.95 * float(plain)


def test_more_asked_than_any_machine_could_give_is_told_as_such() -> None:
    seen = first_look(1e-3, 4.0, 32.0, 200.0, 9.0)  # 60 m³/day x 1/8 = 7.6 m³/day at most
    assert (seen.verdict, seen.reason) == ("no-go", "bound")
    seen = first_look(1e-3, 4.0, 32.0, 200.0, 8.0)
    assert (seen.verdict, seen.reason) == ("no-go", "too-little")


@pytest.mark.parametrize(
    ("fall", "rise", "verdict", "reason"),
    [
        (0.0, 5.0, "no-go", "no-fall"),
        (0.4, 5.0, "no-go", "little-fall"),
        (0.8, 5.0, "can't tell", "little-fall"),
        (25.0, 80.0, "can't tell", "much-fall"),
        (1.0, 45.0, "no-go", "much-lift"),
        (4.0, 5.0, "can't tell", "little-lift"),
    ],
)
def test_outside_what_rams_do_nothing_is_reckoned(
    fall: float, rise: float, verdict: str, reason: str
) -> None:
    seen = first_look(1e-3, fall, rise, 200.0, 1.0)
    assert (seen.verdict, seen.reason) == (verdict, reason)
    assert math.isnan(float(seen.delivered.expected))
    assert {swing.name for swing in seen.measure} == {"fall", "rise"}


def test_the_number_that_matters_most_is_measured_first() -> None:
    spans = [s.high - s.low for s in first_look(1e-3, 4.0, 32.0, 200.0, 1.0).measure]
    assert spans == sorted(spans, reverse=True)
    ram = first_look(1e-3, 4.0, 32.0, 200.0, 1.0)
    assert ram.measure[0].name == "fall"  # the ram's yield grows faster than its fall
    assert ram.measure[-1].name == "length"
    spring = first_look(1e-4, 30.0, -5.0, 200.0, 1.0)
    assert [swing.name for swing in spring.measure] == ["flow"]  # the pipe takes all there is


def test_where_a_doubt_leaves_what_is_known_it_comes_first() -> None:
    seen = first_look(1e-3, 1.05, 20.0, 200.0, 0.1)
    first = seen.measure[0]
    assert (first.name, first.decides) == ("fall", True)
    assert math.isnan(first.low)


def test_a_fall_hardly_more_than_the_rise_hangs_on_the_levels() -> None:
    seen = first_look(1e-3, 4.8, 4.5, 207.0, 3.0)
    assert (seen.scheme, seen.verdict) == ("gravity", "can't tell")
    assert {swing.name for swing in seen.measure if swing.decides} == {"fall", "rise"}


@pytest.mark.parametrize(
    "numbers",
    [
        (0.0, 4.0, 30.0, 200.0, 1.0),
        (math.nan, 4.0, 30.0, 200.0, 1.0),
        (1e-3, -1.0, 30.0, 200.0, 1.0),
        (1e-3, 4.0, math.inf, 200.0, 1.0),
        (1e-3, 4.0, 30.0, 0.0, 1.0),
        (1e-3, 4.0, 30.0, 200.0, 0.0),
        (1e-3, 4.0, 30.0, 20.0, 1.0),
        (1e-3, 4.0, -30.0, 20.0, 1.0),
    ],
)
def test_what_no_formula_can_take_is_refused(numbers: tuple[float, ...]) -> None:
    with pytest.raises(OutsideRange):
        first_look(*numbers)
