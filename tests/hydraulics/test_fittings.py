"""Losses of fittings against the usual handbook figures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError, OutsideRange
from planner.hydraulics.fittings import FITTINGS, fitting_k, k_sum, minor_loss
from planner.hydraulics.friction import velocity

BORES = st.floats(0.01, 0.15)


@pytest.mark.parametrize(
    ("fitting", "least", "most"),
    [
        ("entrance", 0.5, 0.6),
        ("exit", 1.0, 1.0),
        ("elbow", 0.8, 1.5),
        ("tee branch", 1.3, 1.9),
        ("gate valve", 0.1, 0.3),
        ("ball valve", 0.05, 0.3),
        ("swing check", 2.0, 3.5),
        ("barbed insert", 0.9, 1.2),
    ],
)
def test_handbook_ranges(fitting: str, least: float, most: float) -> None:
    # Entry 0.5, exit 1, threaded elbow 0.9 to 1.5, tee branch 1.8, ball valve 0.05 to 0.1, gate
    # 0.2, swing check 2 to 2.5, barbed insert about 1: small threaded fittings, Re 1e4, 1 in.
    assert least <= fitting_k(fitting, 0.02664) <= most


def test_hooper_by_hand() -> None:
    # K = K1/Re + Kinf (1 + 1/D_in): elbow K1 800, Kinf 0.4; 1 in bore, Re 2e4.
    assert fitting_k("elbow", 0.0254, 2e4) == pytest.approx(0.04 + 0.8)


def test_barbed_insert_by_hand() -> None:
    # Borda-Carnot widening alone, (1/b² - 1)², is its least at 78 % of the bore.
    widening = (1.0 / 0.78**2 - 1.0) ** 2
    assert widening < fitting_k("barbed insert", 0.0209) < 3.0 * widening


@given(st.sampled_from(FITTINGS), BORES, st.floats(1.0, 3.0), st.floats(1e2, 1e6))
def test_slower_or_narrower_never_costs_fewer_speed_heads(
    fitting: str, bore: float, wider: float, reynolds: float
) -> None:
    k = fitting_k(fitting, bore, reynolds)
    assert k > 0.0
    assert fitting_k(fitting, bore * wider, reynolds) <= k
    assert fitting_k(fitting, bore, reynolds / 2) >= k


@given(st.dictionaries(st.sampled_from(FITTINGS), st.integers(0, 50)), BORES)
def test_counted_fittings_add_up(counts: dict[str, int], bore: float) -> None:
    one_by_one = sum(n * fitting_k(name, bore) for name, n in counts.items())
    assert k_sum(counts, bore) == pytest.approx(one_by_one)


def test_no_fittings_lose_nothing() -> None:
    assert k_sum({}, 0.02) == 0.0
    assert minor_loss(1e-3, 0.02, 0.0) == 0.0
    assert minor_loss(0.0, 0.02, 5.0) == 0.0


def test_one_speed_head_by_hand() -> None:
    speed = float(velocity(5e-4, 0.025))
    assert minor_loss(5e-4, 0.025, 1.0) == pytest.approx(speed**2 / (2 * 9.80665))
    got = np.asarray(minor_loss([1e-4, 2e-4], [[0.02], [0.04]], 2.0))
    assert got.shape == (2, 2)
    np.testing.assert_allclose(got[:, 1], 4.0 * got[:, 0])
    np.testing.assert_allclose(got[0], 16.0 * got[1])


def test_refuses_by_name() -> None:
    with pytest.raises(InputError, match=r"a fitting must be one of entrance, .*; got 'wishbone'"):
        k_sum({"wishbone": 1}, 0.02)
    with pytest.raises(OutsideRange, match=r"count of elbow must be 0 or more .* got -1"):
        k_sum({"elbow": -1}, 0.02)
    with pytest.raises(OutsideRange, match="bore must be above 0"):
        k_sum({}, 0.0)
    with pytest.raises(OutsideRange, match="reynolds must be above 0"):
        fitting_k("elbow", 0.02, np.nan)
    with pytest.raises(OutsideRange, match=r"k_sum must be 0 or more .* got -1"):
        minor_loss(1e-4, 0.02, -1.0)
