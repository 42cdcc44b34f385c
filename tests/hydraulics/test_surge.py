"""Water hammer against a published case and limits of the formula."""

import numpy as np
import pytest

from planner.errors import OutsideRange
from planner.hydraulics import surge_head, wave_speed


def test_published_pvc_case() -> None:
    # W1, a PVC surge example: K 2.1 GPa, E 2.6 GPa, bore 0.3 m, wall 20 mm, 2.5 m/s stopped:
    # some 400 m/s and 102 m. Tolerance 1 %.
    speed = wave_speed(0.3, 0.02, 2.6e9, 2.1e9)
    assert speed == pytest.approx(400.0, rel=0.01)
    assert surge_head(speed, 2.5) == pytest.approx(102.0, rel=0.01)


def test_speeds_by_material() -> None:
    # Computed from the usual moduli: PVC (2.8 GPa) and PE (0.9 GPa) by bore over wall; 2 %.
    ratio = np.array([11.5, 16.0, 19.0, 24.0])
    pvc = wave_speed(ratio * 0.01, 0.01, 2.8e9, 2.1e9)
    np.testing.assert_allclose(pvc, [465, 402, 372, 333], rtol=0.02)
    steel = np.asarray(wave_speed([0.025, 0.05], 0.0035, 200e9))
    assert np.all((steel > 1350) & (steel < 1430))


def test_a_rigid_wall_leaves_the_speed_of_sound_in_water() -> None:
    assert wave_speed(0.05, 0.05, 1e13) == pytest.approx(np.sqrt(2.1e9 / 1000.0), rel=1e-3)


@pytest.mark.parametrize(
    ("bore", "wall", "modulus", "words"),
    [
        (0.0, 0.02, 2.6e9, "bore must be above 0"),
        (0.3, -0.02, 2.6e9, "wall must be above 0"),
        (0.3, 0.02, 2.6, "modulus must be 1e.06 or more"),
        (0.3, 0.02, np.nan, "modulus must be"),
    ],
)
def test_refuses_by_name(bore: float, wall: float, modulus: float, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        wave_speed(bore, wall, modulus)


def test_refuses_a_negative_change_of_speed() -> None:
    with pytest.raises(OutsideRange, match="velocity_change must be 0 or more"):
        surge_head(400.0, -1.0)
