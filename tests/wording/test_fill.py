"""Patterns, and quantities in sentences."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.site.value import Units
from planner.wording.fill import fill
from planner.wording.quantity import KINDS, show


@pytest.mark.parametrize(
    ("value", "kind", "metric", "us"),
    [
        (64.2, "station", "chainage 64.2 m", "station 2+11"),
        (30.48, "station", "chainage 30.5 m", "station 1+00"),
        (0.35, "height", "0.35 m", "1.1 ft"),
        (14.3, "height", "14.3 m", "46.9 ft"),
        (250.4, "length", "250 m", "822 ft"),
        (70.307, "head", "70.3 m of water", "100 psi"),  # 2.31 ft of water are 1 psi
        (3.785411784, "day", "3,800 L/day", "1,000 US gal/day"),
        (0.0266, "bore", "26.6 mm", "1.05 in"),
        (0.032, "size", "32 mm", "1-1/4 in"),
        (0.0525, "size", "52 mm", "2.07 in"),  # no nominal bore: as it measures
        (0.005, "percent", "0.50 %", "0.50 %"),
        (0.65, "percent", "65 %", "65 %"),
        (1.5, "speed", "1.50 m/s", "4.9 ft/s"),
        (16.0, "ratio", "16", "16"),
        (1200.0, "count", "1,200", "1,200"),
        (2.3, "volume", "2,300 L", "610 US gal"),
        (17.4, "about", "17 m", "57 ft"),
        (0.0126, "face", "126 cm²", "20 in²"),
        (1.26, "face", "1.3 m²", "13.6 ft²"),
        (0.86, "area", "0.9 m²", "9.3 ft²"),
        (3150.0, "mass", "3,200 kg", "6,900 lb"),
        (2776.0, "duration", "46 minutes", "46 minutes"),
        (101031.0, "duration", "28 hours", "28 hours"),
        (864000.0, "duration", "10 days", "10 days"),
    ],
)
def test_quantities(value: float, kind: str, metric: str, us: str) -> None:
    assert show(value, kind, "metric") == metric
    assert show(value, kind, "us") == us


@given(st.floats(-1e6, 1e6), st.sampled_from(sorted(KINDS)), st.sampled_from(["metric", "us"]))
def test_any_number_is_shown_without_a_stray_mark(value: float, kind: str, units: Units) -> None:
    text = show(value, kind, units)
    assert text
    assert "nan" not in text
    assert "{" not in text


@pytest.mark.parametrize("missing", [{}, {"x": None}, {"x": math.nan}, {"x": math.inf}])
def test_optional_parts_go_when_a_value_is_missing(missing: dict[str, float | None]) -> None:
    assert fill("Dig[ {x:height} deeper].", missing, "metric") == "Dig."
    assert fill("Dig {x:height}.", missing, "metric") == "Dig an unknown amount."


@given(st.text())
def test_a_name_comes_out_as_it_went_in(name: str) -> None:
    assert fill('At "{point}"[ ({point})].', {"point": name}, "metric") == f'At "{name}" ({name}).'


@pytest.mark.parametrize(
    ("text", "kind", "want"),
    [
        ("[12.0]", "stations", "chainage 12.0 m"),
        ("[12.0, 30.5, 64.2]", "stations", "chainage 12.0 m, chainage 30.5 m and chainage 64.2 m"),
        ('[["PN 10", 120.0]]', "classes", "PN 10 all along"),
        (
            '[["PN 10", 120.0], ["PN 16", 200.0]]',
            "classes",
            "PN 10 to chainage 120.0 m, PN 16 beyond",
        ),
        (
            '[["standpipe", 12.0, 6.5], ["hand-cock", 30.5, null]]',
            "vents",
            "an open standpipe 6.50 m high at chainage 12.0 m and a hand cock at chainage 30.5 m",
        ),
    ],
)
def test_lists(text: str, kind: str, want: str) -> None:
    assert show(text, kind, "metric") == want
