"""What measuring changed: a plan held against the same plan altered in one thing."""

from dataclasses import replace

import numpy as np
import pytest

from planner.band import Band
from planner.chain.changes import changes
from planner.hydraulics.ram import efficiency
from planner.record.value import Blocked, Change, Plan
from planner.site.value import MeasuredDelivery
from tests.checks.altered import base, line, site, water
from tests.checks.surveyed import survey


def _codes(before: Plan, after: Plan) -> list[str]:
    return [change.code for change in changes(before, after)]


def _without_high(plan: Plan) -> Plan:
    return line("delivery", plan, high_points=())


def test_the_same_plan_twice_has_no_changes() -> None:
    assert changes(base(), base()) == ()


def test_a_fall_is_told_with_both_figures_and_their_doubt() -> None:
    before, after = water(fall=Band(1.35, 2.05, 2.75)), water(fall=Band(2.29, 2.31, 2.33))
    (change,) = changes(before, after)
    assert change.code == "fall"
    told = (change.before, change.after, change.error_before, change.error_after)
    assert np.allclose(np.array(told, dtype=float), [2.05, 2.31, 0.70, 0.02])


def test_a_fall_that_only_became_surer_is_told_too() -> None:
    before, after = water(fall=Band(1.0, 2.0, 3.0)), water(fall=Band(1.98, 2.0, 2.02))
    assert _codes(before, after) == ["fall"]


def test_yield_known_unknown_and_the_same() -> None:
    unknown = water(delivered=Band(float("nan"), float("nan"), float("nan")))
    some, more = water(delivered=Band(0.9, 1.24, 1.6)), water(delivered=Band(1.3, 1.41, 1.5))
    assert changes(some, more) == (Change("yield", "", 1.24, 1.41),)
    assert _codes(unknown, some) == ["yield/new"]
    assert _codes(some, unknown) == ["yield/lost"]
    assert _codes(some, water(delivered=Band(1.0, 1.242, 1.5))) == []


def test_the_source_s_flow() -> None:
    assert _codes(water(source_flow=1e-3), water(source_flow=1.1e-3)) == ["source"]
    assert _codes(water(source_flow=None), water(source_flow=1e-3)) == ["source/new"]


def test_a_measured_ram_is_held_against_what_is_published() -> None:
    reading = MeasuredDelivery(drive_flow=40 / 60000, fall=2.4, lift=24.0, delivered=2.2 / 60000)
    measured = site(ram=replace(base().site.ram, measured=(reading,)))
    told = water(measured, fall=Band(2.3, 2.4, 2.5), lift=Band(19.0, 19.2, 19.4))
    told = water(told, lift_friction=0.0)
    (change,) = [one for one in changes(base(), told) if one.code.startswith("ram")]
    assert change.after is not None
    assert change.before is not None
    assert change.after == pytest.approx(0.55)  # 2.2 x 24 over 40 x 2.4, by hand
    assert change.before == pytest.approx(float(efficiency(8.0, 2.4).expected))
    far = water(told, lift=Band(239.0, 240.0, 241.0))  # a hundred falls: nothing is published
    assert "ram/new" in _codes(base(), far)


def test_high_points_that_go_come_and_move() -> None:
    high = base().line("delivery").high_points[0]
    assert changes(base(), _without_high(base())) == (
        Change("high-point/gone", "delivery", high.chainage_m, None),
    )
    assert changes(_without_high(base()), base()) == (
        Change("high-point/new", "delivery", None, high.chainage_m),
    )
    profile = base().line("delivery").profile
    index = high.index + 8  # 4 m on: the samples stand half a metre apart
    moved = replace(high, index=index, chainage_m=float(profile.chainage[index]))
    after = line("delivery", high_points=(moved,))
    assert changes(base(), after) == (
        Change("high-point/moved", "delivery", high.chainage_m, moved.chainage_m),
    )
    far = replace(high, index=high.index + 60)
    assert _codes(base(), line("delivery", high_points=(far,))) == [
        "high-point/gone",
        "high-point/new",
    ]


def test_lines_found_and_lost() -> None:
    lost = Blocked("delivery", "delivery", "ram", "tank", "grade", "no way")
    without = replace(
        base(),
        lines=tuple(one for one in base().lines if one.name != "delivery"),
        blocked=(lost,),
    )
    assert _codes(base(), without) == ["line/lost"]
    assert _codes(without, base()) == ["line/found"]


def test_points_that_were_levelled() -> None:
    after = replace(base(), survey=survey(names=("tank",)))
    tank = base().point("tank").ground
    (change,) = changes(base(), after)
    assert (change.code, change.name, change.before) == ("level", "tank", tank)
