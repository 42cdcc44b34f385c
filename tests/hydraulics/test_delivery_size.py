"""Which delivery pipe: friction against water, with the neighbouring bores."""

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics import delivered_flow, ram_yield
from planner.hydraulics.delivery_size import size_delivery

FALL, LIFT = Band.exact(3.0), Band.exact(30.0)
BORES = [0.0158, 0.0209, 0.0266, 0.0351]
DRIVE = 40 / 60000


def test_each_bore_is_the_ram_on_its_line() -> None:
    sizes = size_delivery(DRIVE, Band(2.8, 3.0, 3.2), LIFT, 400.0, BORES, roughness=1e-5)
    free = float(ram_yield(DRIVE, 3.0, 30.0).expected)
    for pipe, bore in zip(sizes.pipes, BORES, strict=True):
        got = delivered_flow(DRIVE, Band(2.8, 3.0, 3.2), LIFT, bore, 400.0, roughness=1e-5)
        assert pipe.bore == bore
        assert pipe.delivered.low == got.flow.low
        assert pipe.friction == got.friction
        section = math.pi / 4 * bore**2
        assert pipe.velocity == pytest.approx(float(got.flow.expected) / section)
        assert pipe.lost == pytest.approx(free - float(got.flow.expected))


def test_the_narrowest_that_costs_no_more_than_is_bearable() -> None:
    sizes = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES)
    free = float(ram_yield(DRIVE, 3.0, 30.0).expected)
    chosen = sizes.pipes[sizes.chosen]
    assert sizes.bearable
    assert chosen.lost <= 0.05 * free < sizes.pipes[sizes.chosen - 1].lost
    assert size_delivery(DRIVE, FALL, LIFT, 400.0, BORES, bearable_loss=0.2).chosen == 0
    assert size_delivery(DRIVE, FALL, LIFT, 400.0, BORES, bearable_loss=0.006).chosen == 2


def test_what_the_neighbours_cost() -> None:
    sizes = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES)
    assert sizes.gain(-1) < 0.0 < sizes.gain(1)
    assert sizes.gain(0) == 0.0
    # Diminishing: what the next size gains is less than what the last one did.
    assert sizes.gain(1) < -sizes.gain(-1)
    assert math.isnan(sizes.gain(-9))
    assert math.isnan(sizes.gain(9))


def test_none_wide_enough_takes_the_widest_and_says_so() -> None:
    sizes = size_delivery(DRIVE, FALL, LIFT, 4000.0, [0.010, 0.0125, 0.0158])
    assert not sizes.bearable
    assert sizes.chosen == 2
    assert size_delivery(DRIVE, FALL, LIFT, 0.0, [0.004]).bearable is False  # 5 m/s, too fast


def test_a_bore_that_throttles_the_ram_beyond_the_tables_is_nan_and_not_chosen() -> None:
    sizes = size_delivery(5e-2, FALL, Band.exact(100.0), 2000.0, [0.005, 0.1])
    assert math.isnan(float(sizes.pipes[0].delivered.expected))
    assert math.isnan(sizes.pipes[0].velocity)
    assert sizes.chosen == 1
    assert math.isnan(sizes.gain(-1))


def test_measured_efficiency_and_kind_are_used() -> None:
    own = size_delivery(DRIVE, FALL, LIFT, 0.0, BORES, efficiency=Band(0.3, 0.4, 0.5))
    assert own.pipes[0].delivered.expected == pytest.approx(DRIVE * 0.4 / 10)
    made = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES, kind="home-made")
    bought = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES)
    assert made.pipes[-1].delivered.expected < bought.pipes[-1].delivered.expected


@settings(max_examples=40)
@given(
    st.floats(1e-4, 5e-3), st.floats(2.0, 10.0), st.floats(3.0, 15.0), st.floats(10.0, 2000.0),
    st.lists(st.floats(0.008, 0.1), min_size=2, max_size=6, unique=True).map(sorted),
)  # fmt: skip
def test_wider_never_loses_more(
    drive: float, fall: float, ratio: float, length: float, bores: list[float]
) -> None:
    lift = Band.exact(fall * ratio)
    pipes = size_delivery(drive, Band.exact(fall), lift, length, bores).pipes
    known = [p for p in pipes if not np.isnan(p.delivered.expected)]
    for narrow, wide in pairwise(known):
        assert wide.friction <= narrow.friction * (1 + 1e-6)
        assert float(wide.delivered.expected) >= float(narrow.delivered.expected) * (1 - 1e-6)
    for pipe in known:
        assert pipe.lost >= -1e-9 * drive


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"drive_flow": math.nan}, "drive_flow must be above 0"),
        ({"length": -1.0}, "length must be 0 or more"),
        ({"bores": []}, "bores must be 1 to 200 values, got 0"),
        ({"bores": [0.02, 0.01]}, "bores must rise"),
        ({"bores": [0.02, math.inf]}, "bores must be above 0"),
        ({"bearable_loss": 2.0}, "bearable_loss must be 0 or more and at most 1"),
        ({"fall": Band.exact(0.5)}, "no published ram covers this fall and static_lift"),
        ({"roughness": math.nan}, "roughness must be"),
    ],
)
def test_refuses_by_name(changed: dict[str, Any], words: str) -> None:
    given: dict[str, Any] = {
        "drive_flow": DRIVE, "fall": FALL, "static_lift": LIFT, "length": 400.0, "bores": BORES,
    }  # fmt: skip
    with pytest.raises(OutsideRange, match=words):
        size_delivery(**(given | changed))


def test_cold_water_is_reckoned_as_cold() -> None:
    cold = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES, temperature=2.0).pipes[3]
    warm = size_delivery(DRIVE, FALL, LIFT, 400.0, BORES, temperature=40.0).pipes[3]
    got = delivered_flow(DRIVE, FALL, LIFT, BORES[3], 400.0, temperature=2.0)
    assert cold.friction == got.friction
    assert cold.friction > 1.5 * warm.friction
