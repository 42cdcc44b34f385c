"""Surge allowances by material."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError, OutsideRange
from planner.hydraulics.allowance import ALLOWANCES, rating_needed

HEADS = st.floats(0.0, 500.0)
MATERIALS = st.sampled_from(sorted(ALLOWANCES))


def test_awwa_rules_by_hand() -> None:
    # PE, AWWA C901/C906: working <= PC, with recurring surge <= 1.5 PC, with occasional <= 2 PC.
    assert rating_needed(100.0, 0.0, 0.0, "PE") == 100.0
    assert rating_needed(100.0, 50.0, 100.0, "PE") == pytest.approx(100.0)
    assert rating_needed(100.0, 80.0, 0.0, "PE") == pytest.approx(120.0)
    assert rating_needed(100.0, 0.0, 140.0, "PE") == pytest.approx(120.0)
    # PVC: occasional 1.6 PC.
    assert rating_needed(100.0, 0.0, 60.0, "PVC") == pytest.approx(100.0)
    assert rating_needed(100.0, 10.0, 0.0, "PVC") == pytest.approx(110.0)
    assert rating_needed(100.0, 0.0, 10.0, "steel") == pytest.approx(110.0)


def test_water_hammer_case_w1_passes_its_pipe() -> None:
    # W1: static 9 m and a surge of 102 m stay under a limit of 150 m in PVC, with no allowance.
    assert rating_needed(9.0, 102.0, 102.0, "PVC") == pytest.approx(111.0)


@given(MATERIALS, HEADS, HEADS, HEADS, HEADS)
def test_more_pressure_never_needs_less(
    material: str, standing: float, recurring: float, occasional: float, more: float
) -> None:
    need = rating_needed(standing, recurring, occasional, material)  # type: ignore[arg-type]
    assert need >= standing
    for raised in (
        (standing + more, recurring, occasional),
        (standing, recurring + more, occasional),
        (standing, recurring, occasional + more),
    ):
        assert rating_needed(*raised, material) >= need  # type: ignore[arg-type]


def test_suction_needs_no_rating() -> None:
    np.testing.assert_array_equal(rating_needed([-3.0, 5.0], 0.0, 0.0, "PE"), [0.0, 5.0])


def test_refuses_by_name() -> None:
    with pytest.raises(InputError, match="material must be one of PE, PVC, steel; got 'lead'"):
        rating_needed(1.0, 0.0, 0.0, "lead")  # type: ignore[arg-type]
    with pytest.raises(OutsideRange, match="standing must be"):
        rating_needed(np.nan, 0.0, 0.0, "PE")
    with pytest.raises(OutsideRange, match=r"recurring must be 0 or more .* got -1"):
        rating_needed(1.0, -1.0, 0.0, "PE")
    with pytest.raises(OutsideRange, match=r"occasional must be 0 or more .* got -1"):
        rating_needed(1.0, 0.0, -1.0, "PE")
