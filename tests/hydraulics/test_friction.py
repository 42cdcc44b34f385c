"""Friction against printed tables, closed forms and another library."""

import fluids.friction
import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics import friction_loss, hazen_williams_loss, velocity
from planner.hydraulics.friction import churchill
from planner.hydraulics.water import GRAVITY, viscosity
from tests.hydraulics.published import F1_PE, F1_PVC, F2, F3, GPM, INCH, friction_cells

FLOWS = st.floats(1e-7, 5e-3)
BORES = st.floats(0.01, 0.2)
LENGTHS = st.floats(1.0, 2000.0)


@pytest.mark.parametrize(
    ("table", "c"), [(F1_PE, 140.0), (F1_PVC, 150.0), (F2, 150.0)], ids=["F1 PE", "F1 PVC", "F2"]
)
def test_hazen_williams_follows_the_printed_tables(
    table: dict[float, dict[int, float]], c: float
) -> None:
    # Charts F1 (trade) and F2 (Illinois Administrative Code 77/906), values above 0.5: tolerance
    # 2 % and half of the second decimal, in which the charts round.
    flow, bore, loss = friction_cells(table)
    got = np.asarray(hazen_williams_loss(flow, bore, 100.0, c))
    assert np.all(np.abs(got - loss) < 0.02 * loss + 0.005)


def test_smooth_darcy_stays_within_sixteen_percent_of_the_pe_table() -> None:
    flow, bore, loss = friction_cells(F1_PE)
    got = np.asarray(friction_loss(flow, bore, 100.0, temperature=20.2))
    assert np.abs(got / loss - 1.0).max() < 0.16


def test_smooth_darcy_lies_above_c150_for_trickles_only() -> None:
    # F2: Darcy is 5 to 25 % above C 150 below Reynolds 2e4.
    flow, bore, loss = friction_cells(F2)
    got = np.asarray(friction_loss(flow, bore, 100.0))
    trickle = np.asarray(velocity(flow, bore)) * bore / viscosity(20.0) < 2e4
    assert np.all(got[trickle] / loss[trickle] > 1.0)
    assert np.all(got / loss < 1.25)
    assert np.all(got / loss > 0.9)


def test_used_pipe_table_is_met_by_a_roughness_of_five_hundredths() -> None:
    # F3: a "used pipe" table, 8 to 25 % above smooth pipe; roughness 0.05 mm comes near it.
    flow, bore, loss = friction_cells(F3)
    smooth = np.asarray(friction_loss(flow, bore, 100.0))
    used = np.asarray(friction_loss(flow, bore, 100.0, roughness=5e-5))
    assert np.all(loss > smooth)
    assert np.abs(used / loss - 1.0).max() < 0.16


def test_stock_pipeline_chart() -> None:
    # F4: New Mexico State University bulletin B-810. 10 ft in 1000 ft through 3/4 in gives
    # 1.8 gpm (by C 140: 1.96); 3 ft in 1000 ft and 6 gpm need 1 1/2 in (by C 140: 0.30 ft/100 ft).
    at_printed_flow = hazen_williams_loss(1.8 * GPM, 0.824 * INCH, 1000.0, 140.0)
    at_own_flow = hazen_williams_loss(1.96 * GPM, 0.824 * INCH, 1000.0, 140.0)
    assert 8.0 < at_printed_flow < 10.0
    assert at_own_flow == pytest.approx(10.0, rel=0.02)
    fits, next_smaller = (
        hazen_williams_loss(6.0 * GPM, inch * INCH, 1000.0, 140.0) for inch in (1.610, 1.380)
    )
    assert fits == pytest.approx(3.0, rel=0.02)
    assert next_smaller > 3.0


def test_churchill_is_the_one_of_fluids() -> None:
    rng = np.random.default_rng(3)
    reynolds = 10.0 ** rng.uniform(-3, 8, 400)
    relative = np.where(rng.random(400) < 0.2, 0.0, 10.0 ** rng.uniform(-7, -1.3, 400))
    pairs = zip(reynolds, relative, strict=True)
    theirs = [fluids.friction.Churchill_1977(float(r), float(e)) for r, e in pairs]
    np.testing.assert_allclose(churchill(reynolds, relative), theirs, rtol=1e-12)


def test_laminar_flow_is_poiseuilles() -> None:
    # Closed form: h = 128 nu L q / (pi g D^4), exact below Reynolds 2000; here 10 to 500.
    nu = float(viscosity(15.0))
    bore = np.array([0.016, 0.026, 0.05])
    flow = np.array([10.0, 100.0, 500.0]) * nu * np.pi * bore / 4.0
    exact = 128.0 * nu * 80.0 * flow / (np.pi * GRAVITY * bore**4)
    np.testing.assert_allclose(friction_loss(flow, bore, 80.0, 0.0, 15.0), exact, rtol=1e-6)


def test_turbulent_flow_is_near_prandtls_smooth_pipe() -> None:
    # 1/sqrt(f) = 2 log10(Re sqrt(f)) - 0.8, by repeated substitution; Churchill is within 2.5 %.
    for reynolds in (1e4, 1e5, 1e6):
        f = 0.02
        for _ in range(60):
            f = (2.0 * np.log10(reynolds * np.sqrt(f)) - 0.8) ** -2
        got = float(churchill(np.float64(reynolds), np.float64(0.0)))
        assert got == pytest.approx(f, rel=0.025)


def test_cold_water_loses_six_to_eight_percent_more() -> None:
    warm = np.asarray(friction_loss(5e-4, 0.026, 100.0, temperature=20.0))
    cold = np.asarray(friction_loss(5e-4, 0.026, 100.0, temperature=10.0))
    assert 1.06 < cold / warm < 1.08


def test_no_flow_loses_nothing() -> None:
    assert friction_loss(0.0, 0.02, 100.0) == 0.0
    assert hazen_williams_loss(0.0, 0.02, 100.0, 140.0) == 0.0
    np.testing.assert_array_equal(friction_loss([0.0, 0.0], [0.02, 0.03], 100.0), [0.0, 0.0])


@given(FLOWS, st.floats(1.0, 4.0), BORES, LENGTHS, st.floats(0, 2e-4), st.floats(0, 60))
def test_more_flow_never_loses_less(
    flow: float, more: float, bore: float, length: float, roughness: float, temperature: float
) -> None:
    less, loss = (
        float(friction_loss(q, bore, length, roughness, temperature)) for q in (flow, flow * more)
    )
    assert 0.0 < less <= loss


@given(FLOWS, BORES, st.floats(1.0, 3.0), LENGTHS, st.floats(0, 2e-4))
def test_wider_smoother_shorter_never_loses_more(
    flow: float, bore: float, wider: float, length: float, roughness: float
) -> None:
    loss = float(friction_loss(flow, bore, length, roughness))
    slack = 1.0 + 1e-9
    assert float(friction_loss(flow, bore * wider, length, roughness)) <= loss * slack
    assert float(friction_loss(flow, bore, length, roughness / 2)) <= loss * slack
    assert float(friction_loss(flow, bore, length / 2, roughness)) == pytest.approx(loss / 2)


def test_arguments_broadcast_and_agree_with_one_at_a_time() -> None:
    flow = np.array([[1e-4], [5e-4], [2e-3]])
    bore = np.array([0.02, 0.05])
    table = np.asarray(friction_loss(flow, bore, 100.0))
    assert table.shape == (3, 2)
    one = [[float(friction_loss(q, d, 100.0)) for d in bore] for q in flow[:, 0]]
    np.testing.assert_allclose(table, one, rtol=1e-14)
    assert isinstance(friction_loss(1e-4, 0.02, 10.0), float)


def test_a_million_points_at_once() -> None:
    flow = np.linspace(0.0, 2e-3, 1_000_000)
    loss = np.asarray(friction_loss(flow, 0.026, 100.0))
    assert loss.shape == flow.shape
    assert np.all(np.diff(loss) >= 0.0)


@pytest.mark.parametrize(
    ("flow", "bore", "length", "roughness", "temperature", "words"),
    [
        (np.nan, 0.02, 10.0, 0.0, 20.0, "flow must be 0 or more and at most 100, got nan"),
        (-1e-4, 0.02, 10.0, 0.0, 20.0, "flow must be .* got -0.0001"),
        (3e3, 0.02, 10.0, 0.0, 20.0, "flow must be .* got 3000"),
        (1e-4, 0.0, 10.0, 0.0, 20.0, "bore must be above 0 .* got 0"),
        (1e-4, 26.0, 10.0, 0.0, 20.0, "bore must be above 0 and at most 10, got 26"),
        (1e-4, 0.02, np.inf, 0.0, 20.0, "length must be .* got inf"),
        (1e-4, 0.02, 10.0, -1e-6, 20.0, "roughness must be 0 or more, got -1e-06"),
        (1e-4, 0.02, 10.0, 0.015, 20.0, "roughness must be at most 0.5 of the bore, got 0.75"),
        (1e-4, 0.02, 10.0, 0.0, 293.0, "temperature must be 0 or more and at most 60, got 293"),
        ("1 L/s", 0.02, 10.0, 0.0, 20.0, "flow must be a number, got '1 L/s'"),
        ([1e-4, -2.0], 0.02, 10.0, 0.0, 20.0, "flow must be .* got -2 at index 1"),
    ],
)
def test_refuses_by_name_and_value(
    flow: npt.ArrayLike,
    bore: float,
    length: float,
    roughness: float,
    temperature: float,
    words: str,
) -> None:
    with pytest.raises(OutsideRange, match=words):
        friction_loss(flow, bore, length, roughness, temperature)


@pytest.mark.parametrize("c", [0.0, -140.0, np.nan, 1400.0])
def test_hazen_williams_refuses_a_coefficient_that_can_not_be(c: float) -> None:
    with pytest.raises(OutsideRange, match="c must be 40 or more and at most 160"):
        hazen_williams_loss(1e-4, 0.02, 100.0, c)
