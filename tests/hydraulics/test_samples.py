"""Samples of a line refused by name."""

import pytest

from planner.errors import OutsideRange
from planner.hydraulics.samples import line_arrays, sample_index


def test_lets_a_line_through() -> None:
    s, z = line_arrays([0, 1], [3, 2])
    assert (s.tolist(), z.tolist()) == ([0.0, 1.0], [3.0, 2.0])
    assert sample_index("crest", 4, 5) == 4


@pytest.mark.parametrize("index", [-1, 5, 1.5])
def test_refuses_an_index_beyond_the_line(index: float) -> None:
    with pytest.raises(OutsideRange, match="crest must be a sample of the line, 0 to 4"):
        sample_index("crest", index, 5)  # type: ignore[arg-type]


def test_refuses_a_single_sample() -> None:
    with pytest.raises(OutsideRange, match="2 or more"):
        line_arrays([0.0], [1.0])
