"""Levels along a line at rest and running."""

import numpy as np
import numpy.typing as npt
import pytest

from planner.errors import OutsideRange
from planner.hydraulics.grade_line import closed_level, hydraulic_grade_line


def test_loses_all_the_friction_in_proportion_to_the_way() -> None:
    chainage = np.array([3.0, 10.0, 55.0, 103.0])
    level = hydraulic_grade_line(chainage, 812.0, 10.0)
    assert level[0] == 812.0
    assert level[-1] == pytest.approx(802.0)
    np.testing.assert_allclose(np.diff(level) / np.diff(chainage), -0.1)


def test_at_rest_it_is_level() -> None:
    chainage = [0.0, 1.0, 7.0]
    np.testing.assert_array_equal(closed_level(chainage, 5.0), [5.0] * 3)
    np.testing.assert_array_equal(
        hydraulic_grade_line(chainage, 5.0, 0.0), closed_level(chainage, 5.0)
    )


@pytest.mark.parametrize(
    "chainage", [[0.0], [], [0.0, 0.0], [5.0, 1.0], [[0.0, 1.0]], [0.0, np.nan]]
)
def test_refuses_chainage_that_does_not_rise(chainage: npt.ArrayLike) -> None:
    with pytest.raises(OutsideRange, match="chainage must be"):
        hydraulic_grade_line(chainage, 5.0, 1.0)


def test_refuses_negative_friction() -> None:
    with pytest.raises(OutsideRange, match="friction_total must be 0 or more, got -1"):
        hydraulic_grade_line([0.0, 1.0], 5.0, -1.0)
