"""Screen, slots and the water over an intake."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.intake import (
    APPROACH_CLEANED,
    APPROACH_PASSIVE,
    intake_cover,
    intake_screen,
    least_cover,
    widest_slot,
)


def test_the_fish_rule_is_that_of_the_criteria() -> None:
    # 0.2 ft/s passive, 0.4 ft/s cleaned, printed there as 0.06 and 0.12 m/s.
    assert pytest.approx(0.2 * 0.3048, rel=0.02) == APPROACH_PASSIVE
    assert pytest.approx(0.4 * 0.3048, rel=0.02) == APPROACH_CLEANED
    passive = intake_screen(6e-3, 0.05)
    assert passive.area == pytest.approx(0.1)
    assert passive.ruled_by == "fish"
    cleaned = intake_screen(6e-3, 0.05, approach=APPROACH_CLEANED)
    assert cleaned.area == pytest.approx(0.05)


def test_a_wide_pipe_in_a_dirty_creek_asks_for_more() -> None:
    got = intake_screen(1e-3, 0.1, open_share=0.5, times_bore=10.0, frame_share=0.2)
    assert got.ruled_by == "clogging"
    assert got.opening == pytest.approx(10.0 * math.pi / 4.0 * 0.01)
    assert got.area == pytest.approx(got.opening / 0.5)
    assert got.plate == pytest.approx(got.area / 0.8)
    assert got.slot_speed == pytest.approx(1e-3 / got.opening)


@given(st.floats(1e-5, 1.0), st.floats(0.01, 0.5), st.floats(0.27, 0.5))
def test_never_faster_than_either_rule_allows(flow: float, bore: float, share: float) -> None:
    got = intake_screen(flow, bore, open_share=share)
    assert flow / got.area <= APPROACH_PASSIVE * (1 + 1e-9)
    assert got.opening >= 4.0 * math.pi / 4.0 * bore**2 * (1 - 1e-9)
    assert got.opening <= got.area <= got.plate


def test_slot_passes_the_waste_valve() -> None:
    assert widest_slot(0.008) == 0.004


@pytest.mark.parametrize(
    ("cover", "bore", "word"),
    [
        (-0.1, 0.05, "gulps"), (0.149, 0.05, "gulps"), (0.15, 0.05, "may gulp"),
        (0.29, 0.05, "may gulp"), (0.30, 0.05, "covered"), (0.35, 0.10, "may gulp"),
        (0.40, 0.10, "covered"),
    ],
)  # fmt: skip
def test_cover_over_the_mouth(cover: float, bore: float, word: str) -> None:
    assert intake_cover(cover, bore) == word


@given(st.floats(0.01, 0.5))
def test_the_least_cover_covers(bore: float) -> None:
    assert intake_cover(least_cover(bore), bore) == "covered"


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="flow must be above 0"):
        intake_screen(0.0, 0.05)
    with pytest.raises(OutsideRange, match="open_share must be above 0 and at most 1"):
        intake_screen(1e-3, 0.05, open_share=1.5)
    with pytest.raises(OutsideRange, match="cover must be"):
        intake_cover(np.nan, 0.05)
    with pytest.raises(OutsideRange, match="valve_gap must be above 0"):
        widest_slot(-0.001)
    with pytest.raises(OutsideRange, match="bore must be above 0"):
        least_cover(math.inf)
