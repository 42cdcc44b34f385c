"""Storage hour by hour against its closed form; overflow and weight by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import OutsideRange
from planner.hydraulics.need import hourly_need, hourly_year
from planner.hydraulics.tank import (
    by_the_hour,
    fill_time,
    overflow_bore,
    overflow_head,
    smallest_tank,
    store,
    tank_load,
)

AMOUNTS = st.floats(0.0, 10.0)
RUNS = st.lists(st.tuples(AMOUNTS, AMOUNTS), min_size=1, max_size=120).map(
    lambda pairs: tuple(np.array(run) for run in zip(*pairs, strict=True))
)
Run = tuple[np.ndarray, np.ndarray]


def test_by_hand() -> None:
    # Tank of 2 m³, full. In 1 and out 0: spills 1. In 0, out 3: 1 short. In 1.5: 1.5 left.
    got = store([1.0, 0.0, 1.5], [0.0, 3.0, 0.0], 2.0)
    assert got.stored.tolist() == [2.0, 2.0, 0.0, 1.5]
    assert (got.missing, got.spilt, got.lowest, got.shortage_days) == (1.0, 1.0, 0.0, 1)


@given(RUNS, st.floats(0.0, 50.0), st.floats(0.0, 1.0))
def test_water_is_neither_made_nor_lost(run: Run, volume: float, share: float) -> None:
    inflow, need = run
    got = store(inflow, need, volume, start=share * volume)
    served = need - got.shortage
    before, after = got.stored[:-1], got.stored[1:]
    assert after == pytest.approx(before + inflow - served - got.overflow, abs=1e-9)
    assert got.stored.min() >= 0.0
    assert got.stored.max() <= volume
    assert np.all(got.shortage <= need + 1e-12)
    assert np.all((got.shortage == 0.0) | (got.overflow == 0.0))


@given(RUNS, st.floats(0.0, 50.0), st.floats(0.0, 50.0))
def test_a_bigger_tank_is_never_shorter(run: Run, volume: float, more: float) -> None:
    small, big = store(*run, volume), store(*run, volume + more)
    assert big.missing <= small.missing + 1e-9
    assert big.shortage_days <= small.shortage_days


@given(RUNS, st.floats(0.0, 50.0), st.floats(1.0, 3.0))
def test_more_need_is_never_less_short(run: Run, volume: float, more: float) -> None:
    inflow, need = run
    few, many = store(inflow, need, volume), store(inflow, need * more, volume)
    assert many.missing >= few.missing - 1e-9
    assert smallest_tank(inflow, need * more) >= smallest_tank(inflow, need) - 1e-9


@given(RUNS)
def test_the_smallest_tank_is_what_trying_finds(run: Run) -> None:
    small, big = 0.0, float(run[1].sum()) + 1.0
    for _ in range(60):
        middle = (small + big) / 2.0
        small, big = (small, middle) if store(*run, middle).missing <= 1e-9 else (middle, big)
    assert smallest_tank(*run) == pytest.approx(big, abs=1e-6)


@given(RUNS, st.floats(0.0, 5.0))
def test_the_reserve_is_never_touched(run: Run, reserve: float) -> None:
    got = store(*run, smallest_tank(*run, reserve=reserve))
    assert got.lowest >= reserve - 1e-9
    assert got.missing <= 1e-9


def test_a_steady_spring_needs_night_storage_of_a_third_to_a_half() -> None:
    # Handbook shortcut: 30 to 50 % of the day's need with steady inflow that just meets it.
    need = np.tile(hourly_need({"person_village": 60}).expected, 2)
    share = smallest_tank(by_the_hour([2.4, 2.4]), need) / 2.4
    assert 0.2 < share < 0.5


def test_without_storage_a_twentyfour_hour_flow_serves_far_less() -> None:
    # NGO spring note: of 8,640 l that 0.1 l/s gives in a day some 3,000 l are of use without a
    # tank: the busiest hours rule.
    day = np.asarray(hourly_need({"person_basic": 1}).expected)
    served = 0.36 / (day.max() / day.sum())  # m³ a day whose busiest hour takes 0.36 m³
    assert 2.4 < served < 4.5


def test_a_dry_year() -> None:
    need = np.asarray(hourly_year({"person_village": 60, "garden": 200}).expected)
    spring = 3.5 + 2.0 * np.cos((np.arange(365) - 60) / 365 * 2 * np.pi)  # m³/day, low in August
    inflow = by_the_hour(spring)
    got = store(inflow, need, 2.0)
    assert 10 < got.shortage_days < 200
    assert got.spilt > 0.0
    enough = smallest_tank(inflow, need)
    assert store(inflow, need, enough).shortage_days == 0
    assert store(inflow, need, 0.99 * enough).shortage_days > 0


def test_shortage_days_counts_days_not_hours() -> None:
    need = np.zeros(72)
    need[[3, 7, 50]] = 1.0
    assert store(np.zeros(72), need, 0.0).shortage_days == 2
    assert store(np.zeros(30), need[:30], 1.0).shortage_days == 1  # last day cut short


def test_fill_time_by_hand() -> None:
    assert fill_time(5.0, 1e-3) == pytest.approx(5000.0)
    assert fill_time(5.0, 1e-3, 0.5e-3) == pytest.approx(10000.0)
    assert fill_time(5.0, 1e-3, 2e-3) == math.inf


def test_overflow_by_hand() -> None:
    # 1 l/s in 40 mm: 0.7958 m/s, 1.5 V²/2g = 0.0484 m.
    assert overflow_head(1e-3, 0.04) == pytest.approx(0.0484, abs=1e-4)
    assert overflow_head(0.0, 0.04) == 0.0


def test_overflow_is_a_size_up_and_passes_all() -> None:
    offered = [0.0204, 0.026, 0.0326, 0.0408, 0.0514]
    assert overflow_bore(1e-5, 0.0204, offered) == 0.026  # a trickle: one size up
    assert overflow_bore(2e-3, 0.0204, offered) == 0.0514
    assert overflow_bore(5e-3, 0.0204, offered) is None
    assert overflow_bore(1e-5, 0.0514, offered) is None


@given(st.floats(0.0, 0.01), st.floats(0.01, 0.05))
def test_the_overflow_keeps_its_promise(inflow: float, inlet: float) -> None:
    bore = overflow_bore(inflow, inlet, [0.02, 0.03, 0.04, 0.05, 0.06, 0.1])
    if bore is not None:
        assert bore > inlet
        assert overflow_head(inflow, bore) <= 0.1


def test_five_tonnes_on_a_small_base() -> None:
    # Full 5 m³ on a base of 1.8 m: about 20 kPa; 1 m³ weighs 9.8 kN.
    got = tank_load(5.0, 1.8)
    assert got.pressure == pytest.approx(20e3, rel=0.02)
    assert got.weight == pytest.approx(5 * 9.8e3 * 1.05, rel=0.01)
    assert got.design_weight == pytest.approx(1.5 * got.weight)
    assert got.footing == pytest.approx(got.design_weight / 75e3)


@pytest.mark.parametrize(
    ("volume", "base", "stand", "engineer"),
    [
        (5.0, 1.8, 0.0, False), (0.5, 0.8, 1.0, False), (0.5, 0.8, 1.1, True),
        (1.2, 1.1, 0.5, True), (1.0, 1.1, 0.5, False), (60.0, 3.0, 0.0, True),
    ],
)  # fmt: skip
def test_when_an_engineer_is_called(
    volume: float, base: float, stand: float, engineer: bool
) -> None:
    assert tank_load(volume, base, stand=stand).engineer is engineer


@pytest.mark.parametrize(
    ("inflow", "need", "volume", "words"),
    [
        ([1.0, np.nan], [1.0, 1.0], 1.0, "inflow must be .* got nan at index 1"),
        ([1.0], [-1.0], 1.0, "need must be 0 or more"),
        ([1.0], [1.0, 1.0], 1.0, "need must have as many hours as inflow, 1"),
        ([], [], 1.0, "inflow must be a list of 1 to"),
        ([[1.0]], [[1.0]], 1.0, "inflow must be a list of 1 to"),
        ([1.0], [1.0], -1.0, "volume must be 0 or more"),
    ],
)
def test_refuses_runs_by_name(
    inflow: list[float], need: list[float], volume: float, words: str
) -> None:
    with pytest.raises(OutsideRange, match=words):
        store(inflow, need, volume)


def test_refuses_by_name() -> None:
    with pytest.raises(OutsideRange, match="start must be 0 or more and at most 1, got 2"):
        store([1.0], [1.0], 1.0, start=2.0)
    with pytest.raises(OutsideRange, match="reserve must be 0 or more"):
        smallest_tank([1.0], [1.0], reserve=-1.0)
    with pytest.raises(OutsideRange, match="daily must be a list"):
        by_the_hour([])
    with pytest.raises(OutsideRange, match="volume must be above 0"):
        fill_time(0.0, 1.0)
    with pytest.raises(OutsideRange, match="bores must be above 0"):
        overflow_bore(1e-3, 0.02, [0.0])
    with pytest.raises(OutsideRange, match="stand must be 0 or more"):
        tank_load(1.0, 1.0, stand=-1.0)
    with pytest.raises(OutsideRange, match="base must be above 0"):
        tank_load(1.0, np.nan)
