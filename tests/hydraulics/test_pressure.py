"""Pressures by their state and what the pipe has left."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.pressure import (
    STATES,
    PressureProfile,
    least_margin,
    pressure_profile,
)

HEADS = st.lists(st.floats(-5.0, 120.0), min_size=3, max_size=3)


def by_hand(**changes: object) -> PressureProfile:
    given_: dict[str, object] = {
        "chainage": [0.0, 100.0, 250.0],
        "pipe": [100.0, 40.0, 60.0],
        "open_level": [100.0, 90.0, 75.0],
        "closed_level": 100.0,
        "rise": [0.0, 10.0, 25.0],
        "rating": [100.0, 100.0, 60.0],
    }
    return pressure_profile(**(given_ | changes))  # type: ignore[arg-type]


def test_each_state_by_hand() -> None:
    got = by_hand()
    assert got.open.tolist() == [0.0, 50.0, 15.0]
    assert got.closed.tolist() == [0.0, 60.0, 40.0]
    assert got.surge.tolist() == [0.0, 70.0, 65.0]
    with pytest.raises(ValueError, match="read-only"):
        got.surge[0] = 1.0


def test_least_margin_names_its_state_and_place() -> None:
    got = by_hand()
    least = least_margin(got)
    assert (least.state, least.index, least.margin) == ("surge", 2, -5.0)
    assert (least_margin(got, "open").index, least_margin(got, "open").margin) == (2, 45.0)
    assert (least_margin(got, "closed").index, least_margin(got, "closed").margin) == (2, 20.0)


def test_warmth_and_allowance() -> None:
    # 40 °C takes PE100 to 0.74 (older ISO 4427); recurring surge may reach 1.5 (AWWA C901).
    warm = by_hand(temperature_factor=0.74, surge_allowance=1.5)
    assert warm.rating.tolist() == pytest.approx([74.0, 74.0, 44.4])
    assert warm.surge_rating.tolist() == pytest.approx([111.0, 111.0, 66.6])
    assert least_margin(warm).margin == pytest.approx(1.6)


@given(HEADS, HEADS, st.floats(0.1, 1.0))
def test_least_margin_is_the_least_of_all_samples_and_states(
    open_: list[float], closed: list[float], factor: float
) -> None:
    got = by_hand(open_level=open_, closed_level=closed, temperature_factor=factor)
    over = [got.rating - got.open, got.rating - got.closed, got.surge_rating - got.surge]
    assert least_margin(got).margin == np.min(over)
    cool = by_hand(open_level=open_, closed_level=closed)
    assert least_margin(got).margin <= least_margin(cool).margin
    assert min(least_margin(got, state).margin for state in STATES) == least_margin(got).margin


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("rating", 0.0, "rating must be above 0"),
        ("rating", [1.0, 2.0], "rating must be one number or one for each of 3 samples"),
        ("temperature_factor", 1.2, "temperature_factor must be above 0 and at most 1"),
        ("rise", [0.0, -1.0, 0.0], "rise must be 0 or more .* got -1 at index 1"),
        ("open_level", np.nan, "open_level must be"),
        ("surge_allowance", 0.5, "surge_allowance must be 1 or more"),
        ("pipe", [1.0], "as many levels as distances"),
    ],
)
def test_refuses_by_name(name: str, value: object, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        by_hand(**{name: value})
