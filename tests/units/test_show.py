import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.band import Band
from planner.units.parse import Kind, parse
from planner.units.show import (
    SHOWN,
    Quantity,
    System,
    band_text,
    decimals_for,
    number_text,
    per_si,
    show,
    symbol,
)

SYSTEMS: tuple[System, ...] = ("metric", "us")
READ_BACK: dict[Quantity, Kind] = {
    "level": "length",
    "length": "length",
    "distance": "length",
    "bore": "length",
    "flow": "flow",
    "per_day": "volume_per_day",
    "volume": "volume",
    "head": "pressure_head",
    "pressure": "pressure_head",
    "grade": "ratio",
    "share": "ratio",
    "temperature": "temperature",
}

LOOKS: list[tuple[float, Quantity, str, str]] = [
    (512.345, "level", "512.35 m", "1,680.92 ft"),
    (-0.304, "level", "−0.30 m", "−1.00 ft"),
    (-0.001, "level", "0.00 m", "0.00 ft"),
    (1234.56, "length", "1,234.6 m", "4,050.4 ft"),
    (1234.56, "distance", "1,235 m", "4,050 ft"),
    (12345.6, "distance", "12.3 km", "7.7 mi"),
    (0.02664, "bore", "26.6 mm", "1.05 in"),
    (5e-4, "flow", "30 L/min", "7.9 US gal/min"),
    (0.0123, "flow", "12 L/s", "190 US gal/min"),
    (1.24, "per_day", "1,200 L/day", "330 US gal/day"),
    (0.0, "per_day", "0 L/day", "0 US gal/day"),
    (35.0, "head", "35.0 m", "114.8 ft"),
    (70.3, "pressure", "6.9 bar", "100 psi"),
    (0.005, "grade", "0.50 %", "0.50 %"),
    (-0.0996, "grade", "−10 %", "−10 %"),
    (0.3, "share", "30 %", "30 %"),
    (1500.0, "area", "1,500 m²", "16,146 ft²"),
    (25_000.0, "area", "2.5 ha", "6.2 acres"),
    (1.5, "speed", "1.50 m/s", "4.9 ft/s"),
    (20.0, "temperature", "20 °C", "68 °F"),
    (math.nan, "level", "–", "–"),
]


@pytest.mark.parametrize(("value", "quantity", "metric", "us"), LOOKS)
def test_every_quantity_in_both_systems(
    value: float, quantity: Quantity, metric: str, us: str
) -> None:
    assert show(value, quantity, "metric") == metric
    assert show(value, quantity, "us") == us


def test_figures_and_decimals_may_be_told() -> None:
    assert show(1.2436, "per_day", "metric", figures=3) == "1,240 L/day"
    assert show(512.345, "level", "metric", decimals=1) == "512.3 m"
    assert number_text(64.2, "length", "metric") == "64.2"


def test_a_band_stands_in_one_unit_and_an_exact_figure_alone() -> None:
    assert band_text(Band(0.9, 1.24, 1.6), "per_day", "metric", figures=3) == (
        "1,240 L/day (900 – 1,600)"
    )
    assert band_text(Band(0.001, 0.0019, 0.003), "flow", "metric") == "110 L/min (60 – 180)"
    assert band_text(Band.exact(2.0), "head", "metric") == "2.0 m"
    assert band_text(Band.exact(math.nan), "head", "metric") == "–"


def test_decimals_follow_the_error() -> None:
    assert [decimals_for(e) for e in (0.003, 0.01, 0.15, 0.9, 3.0, math.nan)] == [2, 2, 1, 1, 0, 2]


def test_scaling_an_array_agrees_with_the_text() -> None:
    levels = np.array([1.0, 250.0]) * per_si("level", "us")
    assert [f"{level:.2f} {symbol('level', 'us')}" for level in levels] == ["3.28 ft", "820.21 ft"]


@pytest.mark.parametrize("units", SYSTEMS)
@given(value=st.floats(min_value=1e-5, max_value=1e6), quantity=st.sampled_from(sorted(READ_BACK)))
def test_what_is_shown_can_be_read_back(value: float, quantity: Quantity, units: System) -> None:
    text = show(value, quantity, units, figures=6)
    number, _, unit = text.partition(" ")
    back = parse(number.replace(",", "") + " " + unit, READ_BACK[quantity])
    step = 0.5e-4 / abs(per_si(quantity, units, value)) if quantity != "temperature" else 1e-4
    assert back == pytest.approx(value, rel=5e-6, abs=step)


def test_every_quantity_is_shown_at_any_size() -> None:
    for quantity in SHOWN:
        for units in SYSTEMS:
            for value in (0.0, 1e-12, 1e-3, 1.0, 1e9):
                assert show(value, quantity, units).endswith(symbol(quantity, units, value))
