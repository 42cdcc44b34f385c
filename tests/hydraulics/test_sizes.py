"""Trade sizes read from text."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError, UnitError
from planner.hydraulics.sizes import NominalSize, nominal_size


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("3/4 in", 0.75, "in"),
        ('3/4"', 0.75, "in"),
        ("¾ inch", 0.75, "in"),
        ("1 1/4 in", 1.25, "in"),
        ("1-1/4 inches", 1.25, "in"),
        ("1¼″", 1.25, "in"),
        ("1.25in", 1.25, "in"),
        ("1 in", 1.0, "in"),
        ("1-in", 1.0, "in"),
        ("11/4 in", 2.75, "in"),  # eleven quarters: never read as one and a quarter
        ("25 mm", 25.0, "mm"),
        ("25mm", 25.0, "mm"),
        ("DN 25", 25.0, "mm"),
        ("dn25", 25.0, "mm"),
        ("OD 63 mm", 63.0, "mm"),
        ("  2   IN ", 2.0, "in"),
    ],
)
def test_reads(text: str, value: float, unit: str) -> None:
    got = nominal_size(text)
    assert (got.value, got.unit) == (value, unit)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "3/4",
        "25",
        "big",
        "1/0 in",
        "0 in",
        "-1 in",
        "1 m",
        "DN 1 in",
        "nan in",
        "1e9 in",
        "9" * 999,
    ],
)
def test_refuses(text: str) -> None:
    with pytest.raises(UnitError, match='a pipe size is like "3/4 in" or "25 mm"') as caught:
        nominal_size(text)
    assert len(str(caught.value)) < 130


@pytest.mark.parametrize("thing", [None, 25, 0.75, ["1 in"]])
def test_refuses_what_is_no_text(thing: object) -> None:
    with pytest.raises(UnitError):
        nominal_size(thing)  # type: ignore[arg-type]


@given(st.integers(1, 4), st.sampled_from(["1/4", "1/2", "3/4"]), st.sampled_from(['"', " in"]))
def test_whole_and_fraction_add_up(whole: int, fraction: str, unit: str) -> None:
    parts = nominal_size(f"{whole}{unit}").value + nominal_size(f"{fraction}{unit}").value
    assert nominal_size(f"{whole} {fraction}{unit}") == NominalSize(parts, "in")


@given(st.text(max_size=50))
def test_any_text_is_read_or_refused(text: str) -> None:
    with contextlib.suppress(InputError):
        assert nominal_size(text).value > 0
