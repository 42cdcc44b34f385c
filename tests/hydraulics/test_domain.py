"""Numbers refused by name and place."""

import numpy as np
import pytest

from planner.errors import OutsideRange
from planner.hydraulics.domain import between, plain, positive


def test_lets_good_numbers_through_as_float64() -> None:
    assert positive("bore", [1, 2]).dtype == np.float64
    assert float(between("slope", 0, 0.0)) == 0.0
    assert between("slope", [], 0.0).size == 0


def test_names_the_first_bad_element_of_a_grid() -> None:
    grid = np.ones((3, 4))
    grid[1, 2] = grid[2, 0] = np.nan
    with pytest.raises(OutsideRange, match=r"bore must be above 0, got nan at index \(1, 2\)"):
        positive("bore", grid)


@pytest.mark.parametrize("value", ["<b>3</b>" * 100, object(), {"bore": 1}, [[1.0], [1.0, 2.0]]])
def test_a_thing_that_is_no_number_is_shown_short(value: object) -> None:
    with pytest.raises(OutsideRange, match="bore must be a number, got") as caught:
        positive("bore", value)  # type: ignore[arg-type]
    assert len(str(caught.value)) < 120


def test_plain_gives_a_float_for_one_number() -> None:
    assert isinstance(plain(np.float64(2.0)), float)
    assert isinstance(plain(np.asarray(2.0)), float)
    assert isinstance(plain(np.ones(1)), np.ndarray)
