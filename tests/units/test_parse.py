import math
import tomllib
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import UnitError
from planner.units.parse import EXAMPLES, Kind, exact_text, parse

# Definitions: international foot 0.3048 m, inch 25.4 mm, US gallon 231 in³, imperial gallon
# 4.54609 L (UK Weights and Measures Act 1985), psi 6894.757 Pa; NIST SP 811, appendix B.
READ: list[tuple[str, Kind, float]] = [
    ("7.5 ft", "length", 2.286),
    ("7.5ft", "length", 2.286),
    ("7.5 '", "length", 2.286),
    ("3/4 in", "length", 0.01905),
    ('3/4"', "length", 0.01905),
    ("1 1/2 in", "length", 0.0381),
    ("1-1/2 in.", "length", 0.0381),
    ("1½ in", "length", 0.0381),
    ("½ in", "length", 0.0127),
    ("−0.3 m", "length", -0.3),
    ("20 CM", "length", 0.2),
    ("1.5e2 mm", "length", 0.15),
    ("1,234.5 m", "length", 1234.5),
    ("1,234,567 m", "length", 1234567.0),
    ("12 L/min", "flow", 2e-4),
    ("12 litres per minute", "flow", 2e-4),
    ("0.4 l/s", "flow", 4e-4),
    ("1500 L/day", "flow", 1.5 / 86400),
    ("0.001 m³/s", "flow", 0.001),
    ("5 US gpm", "flow", 5 * 231 * 0.0254**3 / 60),
    ("5 us gal/min", "flow", 5 * 231 * 0.0254**3 / 60),
    ("5 U.S. gal per min", "flow", 5 * 231 * 0.0254**3 / 60),
    ("5 imp gpm", "flow", 5 * 4.54609e-3 / 60),
    ("1500 L", "volume_per_day", 1.5),
    ("1500 L/day", "volume_per_day", 1.5),
    ("1 L/min", "volume_per_day", 1.44),
    ("100 imperial gallons", "volume_per_day", 0.454609),
    ("100 gal (US)", "volume", 0.3785411784),
    ("2 m3", "volume", 2.0),
    ("60 m", "pressure_head", 60.0),
    ("100 ft", "pressure_head", 30.48),
    ("6 bar", "pressure_head", 6e5 / 9806.65),
    ("100 psi", "pressure_head", 100 * 6894.757 / 9806.65),
    ("400 kPa", "pressure_head", 4e5 / 9806.65),
    ("0.5 %", "ratio", 0.005),
    ("0.5%", "ratio", 0.005),
    ("0.005", "ratio", 0.005),
    ("1 in 200", "ratio", 0.005),
    ("1:200", "ratio", 0.005),
    ("1/200", "ratio", 0.005),
    ("5 mm/m", "ratio", 0.005),
    ("12 °C", "temperature", 12.0),
    ("68 °F", "temperature", 20.0),
    ("6 h", "time", 21600.0),
    ("2.5 m²", "area", 2.5),
    ("2.5 m^2", "area", 2.5),
    ("100 sq. ft", "area", 9.290304),
    ("0.8 m/s", "speed", 0.8),
    ("10 ft/s", "speed", 3.048),
    ("1.5 m/m2", "digging", 1.5),
    ("0.3048 ft per ft²", "digging", 1.0),
    ("2 m³/day", "dig_rate", 2.0),
    ("3 cu. yd a day", "dig_rate", 3 * 0.9144**3),
    ("60 m/day", "lay_rate", 60.0),
    ("200 ft per day", "lay_rate", 60.96),
    ("25 kg", "mass", 25.0),
    ("55 lbs", "mass", 55 * 0.45359237),
    ("10 cu yd", "volume", 10 * 0.9144**3),
]


@pytest.mark.parametrize(("text", "kind", "value"), READ)
def test_quantities_come_out_in_si(text: str, kind: Kind, value: float) -> None:
    assert parse(text, kind) == pytest.approx(value, rel=1e-6)


REFUSED: list[tuple[str, Kind, str]] = [
    ("7.5", "length", "no unit"),
    ("", "length", "not a number"),
    ("ft", "length", "not a number"),
    ("7.5 ft", "flow", "is no flow"),
    ("12 L/min", "length", "is no length"),
    ("12 furlong", "length", "is no length"),
    ("nan m", "length", "not a number"),
    ("inf m", "length", "not a number"),
    ("1/0 m", "length", "no finite number"),
    ("1 in 0", "ratio", "no finite number"),
    ("1e999 m", "length", "no finite number"),
    ("9" * 400 + " m", "length", "too long"),
    ("2**9 m", "length", "is no length"),
    ("2+2 m", "length", "is no length"),
    ("2 m**99999999", "length", "is no length"),
    ("__import__('os') m", "length", "not a number"),
    ("1,500 L", "volume", "1500 or 1.500"),
    ("0,6 m", "length", "decimal comma"),
    ("1,50 m", "length", "1.50"),
    ("5 m m", "length", "is no length"),
    ("٣ m", "length", "not a number"),
    ("1 500 L", "volume", "is no volume"),
    ("2.5 m", "area", "is no area"),
    ("2 m/h", "speed", "is no speed"),
    ("1 m", "digging", "is no price of digging"),
]


@pytest.mark.parametrize(("text", "kind", "words"), REFUSED)
def test_refused_in_one_line_that_shows_the_value_and_the_remedy(
    text: str, kind: Kind, words: str
) -> None:
    with pytest.raises(UnitError) as caught:
        parse(text, kind)
    message = str(caught.value)
    assert words in message
    assert text[:20] in message
    assert "write" in message
    assert "\n" not in message
    assert len(message) < 250


@pytest.mark.parametrize(
    "text", ["5 gpm", "300 gph", "7200 gpd", "5 gal/min", "5 gallons per minute"]
)
def test_a_bare_gallon_is_refused_with_both_values_until_it_is_said(text: str) -> None:
    with pytest.raises(UnitError, match=r"18\.9 L/min in US.* 22\.7 L/min in imp"):
        parse(text, "flow")
    us, imperial = parse(text, "flow", gallon="us"), parse(text, "flow", gallon="imperial")
    assert imperial / us == pytest.approx(1.2009499, rel=1e-7)


def test_a_gallon_that_is_said_does_not_heed_the_sites_own() -> None:
    assert parse("1 imp gal", "volume", gallon="us") == pytest.approx(4.54609e-3)
    assert parse("1 US gal", "volume", gallon="imperial") == pytest.approx(3.785411784e-3)


def test_control_characters_do_not_reach_the_message() -> None:
    with pytest.raises(UnitError) as caught:
        parse("5 \x1b[31m\nm", "length")
    assert str(caught.value).isprintable()


KINDS = st.sampled_from(sorted(EXAMPLES))


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e15, max_value=1e15), KINDS)
def test_exact_text_comes_back_bit_for_bit(value: float, kind: Kind) -> None:
    assert parse(exact_text(value, kind), kind) == value


@given(st.text(max_size=80), KINDS)
def test_any_text_gives_a_finite_number_or_a_unit_error(text: str, kind: Kind) -> None:
    with suppress(UnitError):
        assert math.isfinite(parse(text, kind))


@given(st.integers(1, 16), st.integers(1, 16), st.integers(0, 99))
def test_fractions_add_up(over: int, under: int, whole: int) -> None:
    expected = (whole + over / under) * 0.0254
    assert parse(f"{whole} {over}/{under} in", "length") == pytest.approx(expected)


def test_every_example_in_a_message_can_itself_be_read() -> None:
    for kind, text in EXAMPLES.items():
        for example in text.replace(" or ", ", ").split(", "):
            parse(tomllib.loads(f"x = {example}")["x"], kind)
