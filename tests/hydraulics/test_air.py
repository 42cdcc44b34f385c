"""Air carried down a falling leg, and the air's own pressure, against published values."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.air import (
    barometric_head,
    clears,
    clears_above,
    siphon_limit,
    stays_below,
)


@pytest.mark.parametrize(
    ("bore", "by_slope"),
    [
        (0.016, [(0.02, 0.21, 0.34), (0.10, 0.25, 0.36), (0.30, 0.30, 0.38)]),
        (0.027, [(0.02, 0.27, 0.44), (0.10, 0.32, 0.46), (0.30, 0.38, 0.49)]),
        (0.052, [(0.02, 0.38, 0.62), (0.10, 0.45, 0.65), (0.30, 0.54, 0.69)]),
    ],
)
def test_speeds_of_the_two_relations(
    bore: float, by_slope: list[tuple[float, float, float]]
) -> None:
    # Computed by hand from Escarameia's (smallest pockets) and Wisner's relations, to 0.01 m/s.
    for slope, least, most in by_slope:
        assert stays_below(bore, slope) == pytest.approx(least, abs=0.0075)
        assert clears_above(bore, slope) == pytest.approx(most, abs=0.0075)


@given(st.floats(0.01, 0.2), st.floats(0, 0.41))
def test_the_two_speeds_are_in_order_over_the_tested_slopes(bore: float, slope: float) -> None:
    below, above = float(stays_below(bore, slope)), float(clears_above(bore, slope))
    assert below < above
    assert clears(below * 0.99, bore, slope) is False
    assert clears((below + above) / 2, bore, slope) is None
    assert clears(above * 1.11, bore, slope) is True


def test_barometric_head_of_the_siphon_note() -> None:
    # A siphon sizing note, tolerance 0.3 %; the last three computed for these notes, 2 %.
    printed = {0.0: 10.33, 500.0: 9.74, 1000.0: 9.17, 1500.0: 8.63}
    np.testing.assert_allclose(
        [barometric_head(z) for z in printed], list(printed.values()), rtol=3e-3
    )
    higher = {2000.0: 8.1, 3000.0: 7.2, 4000.0: 6.3}
    np.testing.assert_allclose(
        [barometric_head(z) for z in higher], list(higher.values()), rtol=0.02
    )


def test_a_siphon_reaches_less_on_the_mountain() -> None:
    assert siphon_limit(0.0) == pytest.approx(-7.0, rel=2e-3)
    assert siphon_limit(0.0) < siphon_limit(2000.0) < siphon_limit(4000.0) < 0.0


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="slope must be 0 or more"):
        stays_below(0.02, -0.1)
    with pytest.raises(OutsideRange, match="altitude must be"):
        barometric_head(90000.0)
    with pytest.raises(OutsideRange, match="velocity must be 0 or more"):
        clears(-0.1, 0.02, 0.1)
