"""The closing velocity that makes a ram take what there is, or beat as often as wanted."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.ram_cycle import Workings, ram_cycle
from planner.hydraulics.ram_tune import paced_velocity, tuned_velocity

RAM = (2.4, 24.0, 12.0, 0.0525)
RAMS = st.tuples(
    st.floats(1.0, 10.0), st.floats(2.0, 15.0), st.floats(3.0, 10.0), st.floats(0.025, 0.1)
).map(lambda x: (x[0], x[0] * x[1], x[0] * x[2], x[3]))


@settings(max_examples=40)
@given(RAMS, st.floats(0.2, 0.7))
def test_a_tuned_ram_takes_just_what_there_is(
    ram: tuple[float, float, float, float], share: float
) -> None:
    # Plant a closing velocity, get its flow and its beats, find it again from each.
    free = ram_cycle(*ram, closing_velocity=1.0).free_velocity
    planted = ram_cycle(*ram, closing_velocity=share * free)
    velocity = tuned_velocity(planted.drive_flow, *ram)
    again = ram_cycle(*ram, closing_velocity=velocity)
    assert again.drive_flow == pytest.approx(planted.drive_flow, rel=1e-6)
    paced = ram_cycle(*ram, closing_velocity=paced_velocity(planted.beats, *ram))
    assert paced.beats == pytest.approx(planted.beats, rel=1e-6)


def test_more_than_the_pipe_takes_and_less_than_the_ram_beats_on() -> None:
    # A 2 in pipe held open carries 2.165e-3 m² times some 2 m/s.
    assert math.isnan(tuned_velocity(5e-3, *RAM))
    assert math.isnan(tuned_velocity(1e-6, *RAM))
    assert tuned_velocity(3e-3, *RAM) > tuned_velocity(1e-3, *RAM) > tuned_velocity(5e-4, *RAM)


def test_beats_no_load_makes() -> None:
    assert math.isnan(paced_velocity(900.0, *RAM))
    slow = paced_velocity(10.0, *RAM)  # near stalling, and still not there
    assert 1.5 < slow < ram_cycle(*RAM, closing_velocity=slow).free_velocity


def test_a_lossless_ram_has_no_velocity_out_of_reach() -> None:
    lossless = Workings(friction_factor=0.0, inlet=0.0, waste_valve=0.0)
    velocity = tuned_velocity(0.02, *RAM, workings=lossless)
    cycle = ram_cycle(*RAM, closing_velocity=velocity, workings=lossless)
    assert cycle.drive_flow == pytest.approx(0.02)


@pytest.mark.parametrize("bad", [0.0, -1.0, math.nan, math.inf, 5000.0])
def test_refuses_by_name(bad: float) -> None:
    with pytest.raises(OutsideRange, match="drive_flow must be above 0"):
        tuned_velocity(bad, *RAM)
    with pytest.raises(OutsideRange, match="beats must be above 0"):
        paced_velocity(bad, *RAM)
    with pytest.raises(OutsideRange, match="lift must be above the fall"):
        tuned_velocity(1e-3, 2.4, 2.0, 12.0, 0.0525)
