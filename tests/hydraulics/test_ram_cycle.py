"""One beat of a ram: the worked example, the equations solved by steps, and what never may be."""

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from planner.errors import OutsideRange
from planner.hydraulics.friction import churchill
from planner.hydraulics.ram_cycle import Cycle, Workings, ram_cycle, stepped_share
from planner.hydraulics.water import GRAVITY, viscosity

# The worked example: 2 in pipe, f 0.03, inlet 0.5, open waste valve 4 and its own speed head.
EXAMPLE = Workings(friction_factor=0.03, waste_valve=5.0, inlet=0.5)
INSTANT = replace(EXAMPLE, closing_time=0.0)
BORE = 0.0525
SECTION = math.pi / 4 * BORE**2

FALLS = st.floats(0.5, 15.0)
RATIOS = st.floats(1.5, 30.0)
LENGTHS = st.floats(3.0, 60.0)
BORES = st.floats(0.02, 0.15)
SPEEDS = st.floats(0.2, 2.0)
WAVES = st.floats(150.0, 1400.0)


def example(length: float, workings: Workings = INSTANT, speed: float = 0.8) -> Cycle:
    return ram_cycle(2.4, 24.0, length, BORE, closing_velocity=speed, workings=workings)


@pytest.mark.parametrize(
    ("length", "free", "gathering", "pushing", "wasted"),
    [
        (6.0, 2.30, 0.21, 0.023, 0.188),
        (12.0, 1.95, 0.43, 0.045, 0.387),
        (24.0, 1.57, 0.90, 0.091, 0.818),
    ],
)
def test_worked_example(
    length: float, free: float, gathering: float, pushing: float, wasted: float
) -> None:
    # Reference notes 1.5: D 52.5 mm, H 2.4, h 24, Vc 0.8, f 0.03, K of the valve 4; to the last
    # figure given, and 1 % for the friction of the delivery, which it leaves out.
    cycle = example(length)
    assert cycle.free_velocity == pytest.approx(free, abs=0.006)
    assert cycle.phases.acceleration == pytest.approx(gathering, abs=0.006)
    assert cycle.phases.delivery == pytest.approx(pushing, abs=0.0005 + 0.01 * pushing)
    assert cycle.wasted * 1000 == pytest.approx(wasted, abs=0.001)


def test_the_whole_beat_by_hand() -> None:
    # L 12: closing 0.03 s wastes 2.165e-3 * 0.8 * 0.015 = 0.026 l more. V_J = 9.80665 * 21.6 /
    # (2 * 12 / 0.03 = 800 m/s, the valve being slower than the wave) = 0.2648 m/s, 3.021 steps,
    # so 2 pushes: share 4 * 0.662 * 0.338 = 0.895. Delivered 2.165e-3 * 12 * 0.64 / (2 * 9.80665
    # * 21.6) = 0.0392 l, times that and 0.995 for friction. Recoil 12 * (0.2648 / 23.54 + 2/800).
    cycle = example(12.0, EXAMPLE)
    assert cycle.wasted * 1000 == pytest.approx(0.387 + 0.026, abs=0.001)
    assert cycle.delivered * 1000 == pytest.approx(0.0392 * 0.895 * 0.995, rel=0.003)
    assert cycle.phases.recoil == pytest.approx(0.135 + 0.030, abs=0.001)
    period = 0.433 + 0.030 + 0.0452 + 0.165
    assert cycle.beats == pytest.approx(60.0 / period, rel=0.003)
    assert cycle.drive_flow == pytest.approx((cycle.wasted + cycle.delivered) * cycle.beats / 60)
    assert cycle.efficiency == pytest.approx(0.0349 * 24.0 / ((0.413 + 0.0349) * 2.4), rel=0.005)
    assert cycle.peak_head == 24.0
    assert cycle.design_head == pytest.approx(2.4 + 1300 * 1.95 / 9.80665, rel=0.001)


@given(FALLS, RATIOS, LENGTHS, BORES, st.floats(0.05, 0.95), st.floats(0.0, 0.08))
def test_closed_forms_are_the_equations_solved_by_steps(
    fall: float, ratio: float, length: float, bore: float, share: float, factor: float
) -> None:
    made = Workings(friction_factor=factor, closing_time=0.0)
    pipe = factor * length / bore + made.inlet
    speed = share * math.sqrt(2 * GRAVITY * fall / (pipe + made.waste_valve))
    cycle = ram_cycle(fall, fall * ratio, length, bore, closing_velocity=speed, workings=made)

    def column(head: float, loss: float, start: float, end: float) -> tuple[float, float]:
        def change(_: float, state: Any) -> list[float]:
            return [GRAVITY / length * head - loss * state[0] ** 2 / (2 * length), state[0]]

        def there(_: float, state: Any) -> float:
            return float(state[0] - end)

        there.terminal = True  # type: ignore[attr-defined]
        got = solve_ivp(change, (0, 1e4), [start, 0.0], events=there, rtol=1e-9, atol=1e-12)
        return got.t[-1], got.y[1, -1] * math.pi / 4 * bore**2

    time, volume = column(fall, pipe + made.waste_valve, 0.0, speed)
    assert (cycle.phases.acceleration, cycle.wasted) == pytest.approx((time, volume), rel=1e-5)
    time, volume = column(-fall * (ratio - 1), pipe, speed, 0.0)
    rigid = stepped_share(speed * made.wave_speed / (GRAVITY * fall * (ratio - 1)))
    assert cycle.phases.delivery == pytest.approx(time, rel=1e-5)
    assert cycle.delivered == pytest.approx(volume * rigid, rel=1e-5)


def test_one_friction_factor_all_along_is_a_few_per_cent_off() -> None:
    # Against the factor of each moment's speed, by steps.
    made, length, fall, speed = Workings(closing_time=0.0), 17.0, 2.4, 0.8

    def change(_: float, state: Any) -> list[float]:
        v = max(float(state[0]), 1e-9)
        factor = float(
            churchill(
                np.float64(v * BORE / float(viscosity(20.0))), np.float64(made.roughness / BORE)
            )
        )
        loss = factor * length / BORE + made.inlet + made.waste_valve
        return [GRAVITY / length * fall - loss * v**2 / (2 * length), v]

    def there(_: float, state: Any) -> float:
        return float(state[0] - speed)

    there.terminal = True  # type: ignore[attr-defined]
    got = solve_ivp(change, (0, 100), [0.0, 0.0], events=there, rtol=1e-8)
    cycle = example(length, made)
    assert cycle.phases.acceleration == pytest.approx(got.t[-1], rel=0.03)
    assert cycle.wasted == pytest.approx(got.y[1, -1] * SECTION, rel=0.03)


@given(st.integers(1, 500))
def test_frictionless_ram_lifts_all_its_energy(half: int) -> None:
    # Rankine's efficiency q (h - H) / ((Q - q) H) is 1 without any loss, where the wave leaves
    # the column at rest: an even number of steps.
    lossless = Workings(
        friction_factor=0.0, inlet=0.0, waste_valve=0.0, closing_time=0.0, wave_speed=1000.0
    )
    fall, lift = 3.0, 30.0
    speed = 2 * half * GRAVITY * (lift - fall) / 1000.0
    assume(speed < 100.0)
    cycle = ram_cycle(fall, lift, 20.0, BORE, closing_velocity=speed, workings=lossless)
    rankine = cycle.delivered * (lift - fall) / (cycle.wasted * fall)
    assert rankine == pytest.approx(1.0, rel=1e-6)
    assert cycle.efficiency == pytest.approx(1.0, rel=1e-6)


@given(st.floats(1e-3, 1e3))
def test_steps_of_the_wave_added_one_by_one(steps: float) -> None:
    # Velocity in units of V_J; each push lasts 2L/a. A rigid column gives x²/4 of those.
    pushed, speed = 0.0, steps - 1.0
    while speed > 0.0:
        pushed += speed
        speed -= 2.0
    assert stepped_share(steps) == pytest.approx(pushed / (steps**2 / 4.0), abs=1e-9)
    assert 0.0 <= stepped_share(steps) <= 1.0


@given(FALLS, RATIOS, LENGTHS, BORES, SPEEDS, WAVES)
def test_energy_is_never_created(
    fall: float, ratio: float, length: float, bore: float, speed: float, wave: float
) -> None:
    made = Workings(wave_speed=wave)
    cycle = ram_cycle(fall, fall * ratio, length, bore, closing_velocity=speed, workings=made)
    assert 0.0 <= cycle.efficiency < 1.0
    assert cycle.delivered_flow * fall * ratio <= cycle.drive_flow * fall
    assert cycle.peak_head <= fall * ratio * (1 + 1e-12)
    assert cycle.design_head >= 2.0 * fall * ratio
    assert cycle.drive_flow <= math.pi / 4 * bore**2 * cycle.free_velocity


@given(FALLS, st.floats(2.0, 30.0), st.floats(1.0, 2.0), LENGTHS, BORES, SPEEDS, WAVES)
def test_more_fall_never_less_water(
    fall: float, ratio: float, more: float, length: float, bore: float, speed: float, wave: float
) -> None:
    assume(ratio / more >= 2.0)
    made = Workings(wave_speed=wave)
    less, greater = (
        ram_cycle(h, fall * ratio, length, bore, closing_velocity=speed, workings=made)
        for h in (fall, fall * more)
    )
    assert greater.delivered_flow >= less.delivered_flow * (1 - 1e-12)
    assert less.stalls or greater.beats >= less.beats * (1 - 1e-12)


@given(FALLS, RATIOS, LENGTHS, st.floats(1.0, 3.0), BORES, SPEEDS)
def test_longer_pipe_beats_slower(
    fall: float, ratio: float, length: float, more: float, bore: float, speed: float
) -> None:
    short, long = (
        ram_cycle(fall, fall * ratio, x, bore, closing_velocity=speed)
        for x in (length, length * more)
    )
    assert long.beats <= short.beats * (1 + 1e-12)
    assert long.free_velocity <= short.free_velocity * (1 + 1e-12)


def test_lengthening_hardly_changes_the_flows_until_friction_does() -> None:
    # Reference notes 1.5: T, waste and delivery go with L; Q, q, efficiency hardly change until
    # friction cuts the free velocity; beats fall as 1/L. At an even number of steps, so that
    # the wave's grain is not in it, and with no fixed closing time.
    smooth = replace(INSTANT, friction_factor=0.0)
    speed = 6 * GRAVITY * 21.6 / smooth.wave_speed
    one, two = example(12.0, smooth, speed), example(24.0, smooth, speed)
    assert two.beats == pytest.approx(one.beats / 2, rel=1e-9)
    assert (two.wasted, two.delivered) == pytest.approx((2 * one.wasted, 2 * one.delivered))
    assert (two.drive_flow, two.delivered_flow) == pytest.approx(
        (one.drive_flow, one.delivered_flow)
    )
    rough = replace(INSTANT, wave_speed=smooth.wave_speed)
    one, two, four = (example(x, rough, speed) for x in (12.0, 24.0, 60.0))
    assert 0.9 * one.delivered_flow < two.delivered_flow < one.delivered_flow
    assert four.efficiency < two.efficiency < one.efficiency
    assert example(400.0, rough, speed).stalls


def test_too_short_a_pipe_lets_the_fixed_times_take_over() -> None:
    # Reference notes 1.5, and R5 (51 mm ram at h/H 2, L/D 100 to 600): better with L/D first.
    short, good, long = (
        ram_cycle(2.0, 4.0, x * 0.051, 0.051, closing_velocity=0.8) for x in (30, 200, 600)
    )
    assert short.beats > 120.0
    assert short.efficiency < good.efficiency > long.efficiency


def test_raising_the_supply_head_raises_delivery_and_efficiency() -> None:
    # R5, Thai laboratory (Asvapoositkul et al. 2019), which found more drive flow too. Here it
    # stays (within 12 %), for the closing velocity is held, where a real valve, slow to move,
    # shuts the later the faster the water gathers speed.
    for speed in (0.8, 1.0, 1.2):
        heads = [
            ram_cycle(h, 15.0, 12.0, 0.0525, closing_velocity=speed) for h in (1.5, 2, 2.5, 3, 4)
        ]
        for name in ("delivered_flow", "efficiency", "beats", "free_velocity"):
            assert np.all(np.diff([getattr(cycle, name) for cycle in heads]) > 0), name
        flows = [cycle.drive_flow for cycle in heads]
        assert max(flows) < 1.12 * min(flows)


def test_a_lighter_valve_beats_faster_takes_and_delivers_less_at_better_efficiency() -> None:
    # R5, the same laboratory: raising the beats lowers Q and q, and raises the efficiency, fast
    # at first, then slowly.
    speeds = (1.6, 1.4, 1.2, 1.0, 0.8)
    beats = [ram_cycle(3.0, 15.0, 20.0, 0.0525, closing_velocity=v) for v in speeds]
    for name, sign in (("beats", 1), ("drive_flow", -1), ("efficiency", 1)):
        assert np.all(sign * np.diff([getattr(cycle, name) for cycle in beats]) > 0), name
    lighter = beats[1:]  # the first is near stalling, where the water delivered peaks
    assert np.all(np.diff([cycle.delivered_flow for cycle in lighter]) < 0)
    gains = np.diff([cycle.efficiency for cycle in beats])
    assert np.all(np.diff(gains) < 0)


@given(FALLS, RATIOS, LENGTHS, BORES, SPEEDS, st.floats(1.0, 2.0))
def test_a_heavier_valve_never_beats_faster_nor_takes_less(
    fall: float, ratio: float, length: float, bore: float, speed: float, more: float
) -> None:
    made = Workings(friction_factor=0.03)
    light, heavy = (
        ram_cycle(fall, fall * ratio, length, bore, closing_velocity=v, workings=made)
        for v in (speed, speed * more)
    )
    assert heavy.beats <= light.beats * (1 + 1e-12)
    assert heavy.stalls or heavy.wasted >= light.wasted * (1 - 1e-12)


def test_a_small_ram_of_the_usual_proportions_beats_as_the_books_say() -> None:
    # USDA bulletin: drive pipe 7 times the fall, some 60 beats a minute for a small ram. Stated
    # tolerance of such models on the beats: 25 %.
    for bore, fall in ((0.0269, 2.4), (0.0358, 2.0), (0.0525, 2.4)):
        cycle = ram_cycle(fall, 7 * fall, 7 * fall, bore, closing_velocity=0.8)
        assert cycle.beats == pytest.approx(60.0, rel=0.25)


def test_free_velocity_of_the_university_ram() -> None:
    # R5, Cornell: 26 mm pipe, 2.06 m of head: 3.56 m/s calculated without the waste valve's
    # loss, 1.92 to 2.26 measured. The pipe's losses that give 3.56, and our valve's: within 15 %.
    pipe = 2 * GRAVITY * 2.06 / 3.56**2 - 1.0
    made = Workings(friction_factor=0.0, inlet=pipe)
    cycle = ram_cycle(2.06, 10.0, 5.0, 0.026, closing_velocity=0.5, workings=made)
    assert 1.92 * 0.85 < cycle.free_velocity < 2.26 * 1.15


def test_stalls_open_where_the_closing_velocity_is_out_of_reach() -> None:
    cycle = example(24.0, EXAMPLE, speed=1.6)  # free velocity 1.57
    assert cycle.stalls
    assert cycle.beats == cycle.delivered == cycle.delivered_flow == cycle.efficiency == 0.0
    assert cycle.drive_flow == pytest.approx(SECTION * cycle.free_velocity)
    assert math.isnan(cycle.wasted)
    assert all(math.isnan(time) for time in cycle.phases)
    assert cycle.peak_head == 2.4
    assert not example(24.0, EXAMPLE, speed=1.56).stalls


def test_plastic_drive_pipe_softens_the_blow() -> None:
    # Reference notes 4: with PE SDR 11 (a 310 m/s) 0.8 m/s lifts only about 25 m.
    soft = Workings(wave_speed=310.0, closing_time=0.0)
    lifted, not_lifted = (
        ram_cycle(2.4, h, 12.0, BORE, closing_velocity=0.8, workings=soft) for h in (25.0, 29.0)
    )
    assert lifted.delivered > 0.0
    assert not_lifted.delivered == 0.0
    assert not_lifted.peak_head == pytest.approx(2.4 + 310.0 * 0.8 / GRAVITY)


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"fall": math.nan}, "fall must be above 0"),
        ({"fall": -2.0}, "fall must be above 0 .* got -2"),
        ({"lift": 2.4}, "lift must be above the fall of 2.4 m, got 2.4"),
        ({"lift": 1e9}, "lift must be above 0 and at most"),
        ({"drive_length": 0.0}, "drive_length must be above 0"),
        ({"drive_bore": math.inf}, "drive_bore must be above 0"),
        ({"closing_velocity": 0.0}, "closing_velocity must be above 0"),
        ({"workings": Workings(roughness=0.03)}, "roughness must be 0 or more"),
    ],
)
def test_refuses_by_name(changed: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {
        "fall": 2.4, "lift": 24.0, "drive_length": 12.0, "drive_bore": 0.0525,
        "closing_velocity": 0.8,
    }  # fmt: skip
    with pytest.raises(OutsideRange, match=words):
        ram_cycle(**(given | changed))


@pytest.mark.parametrize(
    ("name", "value", "words"),
    [
        ("wave_speed", 5000.0, "wave_speed must be above 0 and at most 2000"),
        ("roughness", math.nan, "roughness must be"),
        ("inlet", -0.5, "loss of the inlet must be"),
        ("waste_valve", math.inf, "loss of the waste_valve must be"),
        ("delivery_valve", -1.0, "head lost in the delivery_valve must be"),
        ("closing_time", 3.0, "closing_time must be 0 or more and at most 1, got 3"),
        ("temperature", 90.0, "temperature must be"),
        ("friction_factor", -0.1, "friction_factor must be"),
    ],
)
def test_workings_refuse_by_name(name: str, value: float, words: str) -> None:
    with pytest.raises(OutsideRange, match=words):
        Workings(**{name: value})
