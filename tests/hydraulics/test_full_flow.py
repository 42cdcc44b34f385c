"""Flow under a head: the inverse of friction, and closed forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, pipe_flow, velocity
from planner.hydraulics.water import GRAVITY, viscosity

BORES = st.floats(0.01, 0.2)
LENGTHS = st.floats(1.0, 3000.0)


@given(st.floats(1e-3, 200.0), BORES, LENGTHS, st.floats(0, 2e-4), st.floats(0, 40))
def test_undoes_the_friction_loss(
    head: float, bore: float, length: float, roughness: float, minor: float
) -> None:
    flow = pipe_flow(head, bore, length, roughness, minor=minor)
    speed = float(velocity(flow, bore))
    lost = float(friction_loss(flow, bore, length, roughness)) + minor * speed**2 / (2 * GRAVITY)
    assert lost == pytest.approx(head, rel=1e-6)


@given(st.floats(-50.0, 200.0), st.floats(0.0, 50.0), BORES, LENGTHS)
def test_more_head_never_less_flow(head: float, more: float, bore: float, length: float) -> None:
    assert pipe_flow(head + more, bore, length) >= pipe_flow(head, bore, length) * (1 - 1e-9)


def test_no_head_no_flow() -> None:
    assert pipe_flow(0.0, 0.02, 100.0) == 0.0
    assert pipe_flow(-3.0, 0.02, 100.0) == 0.0


def test_a_trickle_is_poiseuilles() -> None:
    # Closed form for laminar flow: q = pi g D^4 h / (128 nu L); here Reynolds some 200.
    head, bore, length = 1e-3, 0.02, 10.0
    exact = np.pi * GRAVITY * bore**4 * head / (128.0 * float(viscosity(20.0)) * length)
    assert pipe_flow(head, bore, length) == pytest.approx(exact, rel=1e-6)


def test_where_fittings_take_all_it_is_torricellis() -> None:
    # A hole's worth of pipe: V = sqrt(2 g h / K) where friction is nothing beside K.
    flow = pipe_flow(5.0, 0.1, 0.01, minor=100.0)
    assert velocity(flow, 0.1) == pytest.approx(np.sqrt(2 * GRAVITY * 5.0 / 100.0), rel=1e-3)


@pytest.mark.parametrize(
    ("head", "bore", "length", "minor", "words"),
    [
        (np.nan, 0.02, 10.0, 0.0, "head must be .* got nan"),
        (5.0, -0.02, 10.0, 0.0, "bore must be above 0"),
        (5.0, 0.02, 0.0, 0.0, "length must be above 0"),
        (5.0, 0.02, 10.0, -1.0, "minor must be 0 or more"),
        (-5.0, 0.02, np.nan, 0.0, "length must be above 0"),
    ],
)
def test_refuses_by_name(head: float, bore: float, length: float, minor: float, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        pipe_flow(head, bore, length, minor=minor)


def test_refuses_a_roughness_wider_than_the_pipe() -> None:
    with pytest.raises(OutsideRange, match=r"roughness must be .* at most 0\.01, got 0\.5"):
        pipe_flow(5.0, 0.02, 10.0, 0.5)
