"""Where the ram's coefficients come from: fitted again from the published tables."""

import numpy as np
import numpy.typing as npt
import pytest
from scipy.optimize import least_squares

from planner.hydraulics import ram
from tests.hydraulics.published import (
    R2_EFFICIENCY,
    R2_X,
    R3_EFFICIENCY,
    R3_RATIO,
    r1_cells,
)

FloatArray = npt.NDArray[np.float64]


def surface(p: FloatArray, ratio: FloatArray, fall: FloatArray) -> FloatArray:
    """D'Aubuisson's efficiency by the formula of `planner.hydraulics.ram`, written out anew."""
    best, loss, scale, floor, half, steepness = p
    plateau = best * (1 - loss * np.exp(-fall / scale))
    rankine = floor + (plateau - floor) / (1 + (ratio / half) ** steepness)
    return np.asarray(ratio * rankine / (ratio - 1 + rankine))


def test_the_surface_is_the_least_squares_of_the_trade_table() -> None:
    fall, lift, litres = r1_cells().T
    ratio = lift / fall
    efficiency = litres / 1440.0 * ratio  # litres a day for 1 l/min of drive water
    fit = least_squares(
        lambda p: np.log(surface(p, ratio, fall) / efficiency), [0.6, 0.5, 1.0, 0.3, 20.0, 4.0]
    )
    ours = [ram.BEST, ram.LOSS, ram.FALL_SCALE, ram.FLOOR, ram.HALF, ram.STEEPNESS]
    assert len(litres) == 125
    np.testing.assert_allclose(ours, fit.x, rtol=2e-3)


def test_the_field_figures_are_a_power_law_under_them_all() -> None:
    power, _ = np.polyfit(np.log(R3_RATIO), np.log(R3_EFFICIENCY), 1)
    assert pytest.approx(power, abs=1e-3) == ram.FIELD_POWER
    under_all = np.min(R3_EFFICIENCY / R3_RATIO**power)
    assert pytest.approx(under_all, abs=1e-3) == ram.FIELD_FACTOR


def test_the_test_rams_are_a_line_in_the_root() -> None:
    slope, base = np.polyfit(np.sqrt(R2_X), R2_EFFICIENCY, 1)
    assert pytest.approx(base, abs=1e-3) == ram.TEST_RAM_BASE
    assert pytest.approx(-slope, abs=1e-3) == ram.TEST_RAM_SLOPE
