"""Scales, steps and figures of both systems."""

import math

import pytest
from hypothesis import given
from hypothesis.strategies import floats

from planner.output.sheets.measure import METRIC, US, round_step


def test_metric_scales_are_the_round_ones() -> None:
    assert {100, 200, 250, 500, 1000, 2000, 2500, 5000} <= set(METRIC.scales)
    assert list(METRIC.scales) == sorted(set(METRIC.scales))


def test_us_scales_are_whole_feet_to_an_inch() -> None:
    # ASME and state practice: 1 in = 10, 20, 30, 40, 50, 60 ft, the faces of an engineer's scale.
    assert {120, 240, 360, 480, 600, 720, 1200, 2400} <= set(US.scales)
    assert all(n % 12 == 0 for n in US.scales)


def test_scales_as_they_are_written() -> None:
    assert METRIC.spoken(500) == "1:500"
    assert US.spoken(600) == "1 in = 50 ft (1:600)"


@pytest.mark.parametrize(
    ("metres", "station"),
    [
        (0.0, "0+00.0"),
        (30.48, "1+00.0"),
        (3.048, "0+10.0"),
        (30.4785, "1+00.0"),
        (304.8, "10+00.0"),
    ],
)
def test_stations_in_feet(metres: float, station: str) -> None:
    assert US.chainage(metres) == station


def test_levels_have_a_true_minus_and_no_minus_zero() -> None:
    assert METRIC.level(-1.234) == "−1.23"
    assert METRIC.level(-0.001) == "0.00"
    assert METRIC.level(math.nan) == "–"
    assert US.level(0.3048) == "1.0"


@given(floats(1e-4, 1e6))
def test_a_round_step_is_the_next_of_1_2_5(least: float) -> None:
    step = round_step(least)
    leading = step / 10.0 ** math.floor(math.log10(step * (1 + 1e-9)))
    assert round(leading, 6) in {1.0, 2.0, 5.0}
    assert least * (1 - 1e-6) <= step <= least * 2.5 * (1 + 1e-6)
