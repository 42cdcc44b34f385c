"""Ratings of warm pipe against the tables they come from."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError, OutsideRange
from planner.hydraulics.catalogue import find_pipes
from planner.hydraulics.derating import (
    FACTORS,
    derated_rating,
    temperature_factor,
    wall_temperature,
)

TABLES = st.sampled_from(sorted(FACTORS))
WARMTH = st.floats(0.0, 60.0)


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


def test_metric_pe_is_never_above_either_published_table() -> None:
    # Australian PE100 heads of PN 16, and the older ISO 4427 factors.
    head = {25: 160, 30: 150, 35: 143, 40: 135, 45: 127, 50: 121, 60: 109}
    for t, metres in head.items():
        assert temperature_factor("PE metric", t) <= metres / 160 + 5e-3
    for t, factor in {20: 1.0, 30: 0.87, 40: 0.74}.items():
        assert temperature_factor("PE metric", t) == factor


@pytest.mark.parametrize(
    ("table", "published"),
    [
        ("PE US", {80: 1.0, 90: 0.9, 100: 0.8, 110: 0.7, 120: 0.6, 140: 0.5}),
        ("PVC", {73: 1.0, 90: 0.75, 100: 0.62, 110: 0.5, 120: 0.4, 140: 0.22}),
    ],
)
def test_us_tables_in_fahrenheit(table: str, published: dict[float, float]) -> None:
    for f, factor in published.items():
        assert temperature_factor(table, celsius(f)) == pytest.approx(factor, abs=2e-3)  # type: ignore[arg-type]


def test_between_entries_it_is_linear() -> None:
    assert temperature_factor("PE metric", 35.0) == pytest.approx((0.87 + 0.74) / 2)


@given(TABLES, WARMTH, WARMTH)
def test_warmer_never_bears_more(table: str, one: float, other: float) -> None:
    cool, warm = sorted((one, other))
    at_cool, at_warm = np.asarray(temperature_factor(table, [cool, warm]))  # type: ignore[arg-type]
    assert 0.0 < at_warm <= at_cool <= 1.0


def test_steel_does_not_care() -> None:
    np.testing.assert_array_equal(temperature_factor("steel", [0.0, 20.0, 60.0]), [1, 1, 1])


def test_black_pipe_in_the_sun() -> None:
    (pipe,) = find_pipes("25 mm", standard="ISO 4427", pressure_class="PN 16")
    buried = derated_rating(pipe, wall_temperature(12.0, "buried"))
    sun = derated_rating(pipe, wall_temperature(12.0, "sun"))
    assert buried == 160.0
    assert sun == pytest.approx(107.2)
    assert wall_temperature(55.0, "sun") == 55.0
    np.testing.assert_array_equal(wall_temperature([10.0, 40.0], "shade"), [30.0, 40.0])


@pytest.mark.parametrize("t", [np.nan, -5.0, 61.0, 293.0])
def test_refuses_temperatures_no_line_has(t: float) -> None:
    with pytest.raises(OutsideRange, match="temperature must be 0 or more and at most 60"):
        temperature_factor("PVC", t)
    with pytest.raises(OutsideRange, match="water must be 0 or more and at most 60"):
        wall_temperature(t, "sun")


def test_refuses_unknown_names() -> None:
    with pytest.raises(InputError, match=r"derating must be one of .*; got 'bamboo'"):
        temperature_factor("bamboo", 20.0)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="lying must be one of buried, shade, sun; got 'afloat'"):
        wall_temperature(20.0, "afloat")  # type: ignore[arg-type]
