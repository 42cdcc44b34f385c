"""Setting a ram going: volumes by hand, strokes added up one by one, order of the steps."""

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.ram_start import FEWEST, LEAST_SHARE, MOST_SHARE, Start, ram_start

DRIVE, DELIVERY = (12.0, 0.0525), (400.0, 0.0209)


def start(**changed: Any) -> Start:
    given: dict[str, Any] = {
        "drive": DRIVE, "delivery": DELIVERY, "fall": 3.0, "static_lift": 30.0,
        "closing_velocity": 0.8,
    }  # fmt: skip
    return ram_start(**(given | changed))


def test_volumes_by_hand() -> None:
    got = start(delivered=2.2e-3 / 60)
    assert got.drive_volume == pytest.approx(math.pi / 4 * 0.0525**2 * 12)
    assert got.delivery_volume * 1000 == pytest.approx(137.2, abs=0.1)
    assert got.filling_time / 60 == pytest.approx(137.2 / 2.2, abs=0.1)
    assert math.isnan(start().filling_time)


def test_back_pressure_and_what_the_source_gives_of_it() -> None:
    # USAID ram notes: about 10 psi, 7 m.
    got = start()
    assert got.back_pressure == pytest.approx(10 * 0.7031, rel=0.01)
    assert got.by_itself == 3.0
    assert start(fall=9.0).by_itself == 7.0


def test_strokes_are_the_work_of_filling_added_up_slice_by_slice() -> None:
    # The line rises evenly: each slice of it is lifted from the source's level, 3 m up, to its own.
    vessel, slices = 0.005, 4000
    stroke = math.pi / 4 * 0.0525**2 * 12 * 0.8**2 / (2 * 9.80665)
    step = (7.0 - 3.0) / slices
    line = air = 0.0
    for k in range(slices):
        head = 3.0 + (k + 0.5) * step
        line += math.pi / 4 * 0.0209**2 * 400 / 30 * step * (head - 3.0)
        squeezed = vessel * 10.33 / (10.33 + head) ** 2 * step
        air += squeezed * (head - 3.0)
    least, most = start(vessel=vessel).strokes
    assert least == FEWEST + math.ceil(air / (MOST_SHARE * stroke))
    assert most == FEWEST + math.ceil((air + line) / (LEAST_SHARE * stroke))


def test_a_fall_beyond_the_back_pressure_needs_a_few_strokes_only() -> None:
    # Reference notes: usually a few manual beats.
    assert start(fall=8.0).strokes == (FEWEST, FEWEST)


@given(
    st.floats(0.5, 6.0), st.floats(1.2, 30.0), st.floats(0.3, 1.5), st.floats(0.0, 0.1),
    st.floats(10.0, 2000.0),
)  # fmt: skip
def test_more_fall_a_harder_stroke_or_a_shorter_line_never_need_more(
    fall: float, ratio: float, speed: float, vessel: float, length: float
) -> None:
    base = {
        "fall": fall, "static_lift": 2 * fall * ratio, "closing_velocity": speed,
        "vessel": vessel, "delivery": (length, 0.0209),
    }  # fmt: skip
    least, most = start(**base).strokes
    assert FEWEST <= least <= most
    easier = (
        {"fall": 1.5 * fall},
        {"closing_velocity": 1.5 * speed},
        {"vessel": vessel / 2},
        {"delivery": (length / 2, 0.0209)},
        {"drive": (24.0, 0.0525)},
    )
    for change in easier:
        fewer, fewest = start(**(base | change)).strokes
        assert fewer <= least
        assert fewest <= most


def test_order_of_the_steps() -> None:
    steps = start().steps
    assert "slams" in steps[0]  # the caution first
    order = [next(k for k, s in enumerate(steps) if word in s) for word in (
        "shut the delivery valve", "open the drive valve", "clear of air", "stroke by stroke",
        "open the delivery valve a little", "count",
    )]  # fmt: skip
    assert order == sorted(order)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"drive": (0.0, 0.05)}, "length of the drive pipe must be above 0"),
        ({"drive": (12.0, math.nan)}, "bore of the drive pipe must be above 0"),
        ({"delivery": (-4.0, 0.02)}, "length of the delivery pipe must be above 0"),
        ({"fall": math.nan}, "fall must be above 0"),
        ({"static_lift": 3.0}, "static_lift must be above the fall of 3 m, got 3"),
        ({"closing_velocity": -1.0}, "closing_velocity must be above 0"),
        ({"vessel": -1.0}, "vessel must be 0 or more"),
        ({"delivered": 0.0}, "delivered must be above 0"),
        ({"back_pressure": math.inf}, "back_pressure must be above 0"),
    ],
)
def test_refuses_by_name(changed: dict[str, Any], words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        start(**changed)
