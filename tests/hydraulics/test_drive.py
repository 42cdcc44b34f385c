"""Proportions of the drive pipe and the published limits for them."""

import pytest

from planner.errors import OutsideRange
from planner.hydraulics import limits
from planner.hydraulics.drive import drive_ratios


def test_ratios_of_the_installers_example() -> None:
    # Length 4 times the fall is the Austrian installers' best; 2 in bore.
    ratios = drive_ratios(length=12.0, fall=3.0, bore=0.05)
    assert ratios == (4.0, 240.0)
    assert limits.DRIVE_LENGTH_TO_FALL.holds(ratios.length_to_fall)
    assert limits.DRIVE_LENGTH_TO_BORE.holds(ratios.length_to_bore)


@pytest.mark.parametrize(
    ("value", "inside"), [(150, True), (1000, True), (149, False), (1e4, False)]
)
def test_calverts_limit(value: float, inside: bool) -> None:
    assert limits.DRIVE_LENGTH_TO_BORE.holds(value) is inside


def test_a_limit_open_on_one_side_and_nan() -> None:
    assert limits.RATIO_GOOD.holds(-5.0)
    assert not limits.RATIO_GOOD.holds(15.1)
    assert limits.FALL_ANY.holds(300.0)
    assert not limits.FALL_ANY.holds(float("nan"))


def test_every_limit_says_where_it_comes_from_and_is_in_order() -> None:
    found = [v for v in vars(limits).values() if isinstance(v, limits.Limit)]
    assert len(found) >= 15
    for limit in found:
        assert len(limit.source) > 5
        assert limit.low is not None or limit.high is not None
        if limit.low is not None and limit.high is not None:
            assert limit.low < limit.high


@pytest.mark.parametrize("bad", [0.0, -1.0, float("nan")])
def test_refuses_by_name(bad: float) -> None:
    with pytest.raises(OutsideRange, match="fall must be above 0"):
        drive_ratios(12.0, bad, 0.05)
