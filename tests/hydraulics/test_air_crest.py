"""Crests by their pressure, and thin pipes under suction."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.air import barometric_head, siphon_limit, vapour_head
from planner.hydraulics.air_crest import collapse_head, crest_state

ORDER = ["broken", "siphon-deep", "siphon", "low", "good"]


def test_vapour_head_of_the_reference_notes() -> None:
    # Reference notes 3.6, rounded to 0.01 m there.
    printed = {10.0: 0.12, 20.0: 0.24, 30.0: 0.43}
    assert [vapour_head(t) for t in printed] == pytest.approx(list(printed.values()), abs=0.006)


def test_states_at_sea_level() -> None:
    heads = {5.0: "good", 4.9: "low", 0.0: "low", -0.1: "siphon", -3.0: "siphon"}
    heads |= {-3.1: "siphon-deep", -6.9: "siphon-deep", -7.1: "broken"}
    assert {head: crest_state(head, 0.0) for head in heads} == heads


def test_the_same_siphon_breaks_higher_up_and_when_hot() -> None:
    assert crest_state(-5.0, 0.0) == "siphon-deep"
    assert crest_state(-5.0, 3500.0) == "broken"
    assert siphon_limit(3000.0, 60.0) > siphon_limit(3000.0, 10.0)
    assert crest_state(-4.7, 3000.0, 10.0) == "siphon-deep"
    assert crest_state(-4.7, 3000.0, 60.0) == "broken"


@given(st.floats(-400.0, 5000.0), st.floats(0.0, 60.0))
def test_a_siphon_keeps_off_boiling(altitude: float, temperature: float) -> None:
    limit = siphon_limit(altitude, temperature)
    assert limit <= 0.0
    assert barometric_head(altitude) + limit >= vapour_head(temperature) + 0.99


@given(st.floats(-12, 12), st.floats(-12, 12), st.floats(0, 5000))
def test_more_pressure_is_never_a_worse_state(one: float, other: float, altitude: float) -> None:
    low, high = (crest_state(head, altitude) for head in sorted((one, other)))
    assert ORDER.index(low) <= ORDER.index(high)


def test_thin_warm_pe_keeps_to_four_metres() -> None:
    # Reference notes 3.6: SDR 17 warm, long vacuum, keep -4 m or more; SDR 11 bears a vacuum.
    assert collapse_head(130e6, 17.0) == pytest.approx(-4.0, abs=0.3)
    assert collapse_head(130e6, 11.0) < -9.0
    assert collapse_head(200e9, 20.0) == -10.33  # steel: no more than a vacuum


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="open_head must be"):
        crest_state(float("nan"), 0.0)
    with pytest.raises(OutsideRange, match="temperature must be"):
        crest_state(1.0, 0.0, 90.0)
    with pytest.raises(OutsideRange, match="dimension_ratio must be"):
        collapse_head(1e9, 1.0)
    with pytest.raises(OutsideRange, match="safety must be 1 or more"):
        collapse_head(1e9, 17.0, 0.5)
