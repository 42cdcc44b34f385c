"""A figure on a button is read back from the site file as at least what was meant."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.remedies.text import at_least, holding, size_of
from planner.site.value import Units
from planner.units.parse import parse

UNITS = st.sampled_from(["metric", "us"])


@given(st.floats(0.01, 6.0), UNITS)
def test_a_depth_is_rounded_up_by_less_than_a_step(depth: float, units: Units) -> None:
    read = parse(at_least(depth, units), "length")
    step = 0.01 if units == "metric" else 0.03048
    assert depth - 1e-4 * step <= read < depth + step


@given(st.floats(1e-3, 1e5), UNITS)
def test_a_tank_holds_at_least_what_is_asked_and_little_more(volume: float, units: Units) -> None:
    read = parse(holding(volume, units), "volume")
    assert volume * (1.0 - 1e-4) <= read <= volume * 1.1 + 4e-3


@given(st.floats(0.003, 1.0), UNITS)
def test_a_bore_comes_back_as_near_as_a_pipe_is_made(bore: float, units: Units) -> None:
    assert math.isclose(parse(size_of(bore, units), "length"), bore, rel_tol=1e-3, abs_tol=1.3e-5)


@pytest.mark.parametrize(
    ("depth", "text"), [(1.2, "1.20 m"), (0.1 + 0.2, "0.30 m"), (1.201, "1.21 m")]
)
def test_a_figure_that_just_reaches_is_rounded_to_itself(depth: float, text: str) -> None:
    assert at_least(depth, "metric") == text
