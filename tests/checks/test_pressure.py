"""Pressures, heads and speeds."""

from dataclasses import replace

import numpy as np
import pytest

from planner.record.value import Plan
from tests.checks.altered import base, drawn, found, line_water, only
from tests.checks.troubles import AIRED, hump, powered


def cases(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("closed", "case"),
    # The lowest pipe is at 490 m, its rating 100 m.
    [
        (570.0, []),
        (570.1, [("warn", "closed-near")]),
        (590.0, [("warn", "closed-near")]),
        (590.1, [("stop", "closed")]),
    ],
)
def test_closed_pressure_against_the_rating(closed: float, case: list[object]) -> None:
    plan = hump(opened=500.0, closed=closed)
    assert cases(plan, "pressure-over-rating") == case
    for finding in found(plan, "pressure-over-rating"):
        assert finding.chainage_m == plan.line("main").profile.chainage[-1]
        assert finding.values["head_m"] == pytest.approx(closed - 490.0)


def test_a_delivery_bears_more_when_it_runs() -> None:
    assert cases(hump(opened=591.0, closed=580.0), "pressure-over-rating") == [("stop", "open")]


def test_the_example_is_within_its_rating() -> None:
    assert found(base(), "pressure-over-rating") == []


def test_unknown_levels_say_nothing() -> None:
    plan = line_water("main", hump(), closed_level=np.full(3, np.nan))
    assert found(plan, "pressure-over-rating") == []


@pytest.mark.parametrize(
    ("head", "level"),
    [
        (-0.01, ["stop"]),
        (0.0, ["warn"]),
        (0.99, ["warn"]),
        (1.0, ["note"]),
        (4.99, ["note"]),
        (5.0, []),
    ],
)
def test_head_at_an_outlet(head: float, level: list[str]) -> None:
    plan = line_water("distribution-trough", end_head=head)
    got = found(plan, "outlet-head-low")
    assert [finding.level for finding in got] == level
    for finding in got:
        assert finding.values["outlet"] == "trough"
        assert finding.at == pytest.approx(base().point("trough").xy)


@pytest.mark.parametrize(("head", "count"), [(30.0, 0), (30.1, 1)])
def test_too_much_head_at_an_outlet(head: float, count: int) -> None:
    plan = line_water("distribution-trough", end_head=head)
    assert len(found(plan, "outlet-head-high")) == count


@pytest.mark.parametrize(("speed", "count"), [(3.0, 0), (3.01, 1), (float("nan"), 0)])
def test_fast_water(speed: float, count: int) -> None:
    plan = line_water("distribution-trough", velocity=speed)
    assert len(found(plan, "velocity-high")) == count


@pytest.mark.parametrize(("speed", "count"), [(0.5, 0), (0.49, 1), (0.0, 0)])
def test_slow_water_with_silt(speed: float, count: int) -> None:
    assert len(found(line_water("supply", velocity=speed), "velocity-low")) == count


def test_settled_water_may_run_slowly() -> None:
    settled = drawn("main", [0, 50], [500, 490], start="chamber", end="tank", velocity=0.1)
    assert found(only(settled), "velocity-low") == []
    fresh = replace(settled, start="spring")
    assert len(found(only(fresh), "velocity-low")) == 1


def test_part_full_pipes() -> None:
    assert found(base(), "pipe-part-full") == []
    assert found(line_water("supply", part_full=AIRED), "pipe-part-full") == []
    assert (
        len(
            found(
                line_water("drive", part_full=AIRED),
                "pipe-part-full",
            )
        )
        == 1
    )


@pytest.mark.parametrize(("head", "count"), [(0.0, 0), (-0.1, 1)])
def test_a_tank_the_water_does_not_reach(head: float, count: int) -> None:
    assert len(found(line_water("main", hump(), end_head=head), "tank-out-of-reach")) == count


@pytest.mark.parametrize(("head", "count"), [(15.6, 1), (15.7, 1), (15.8, 0)])
def test_a_tank_beyond_the_pumps_curve(head: float, count: int) -> None:
    # Lift 14.3 m and friction 1.4 m: 15.7 m.
    got = found(powered(head), "tank-out-of-reach")
    assert len(got) == count
    if got:
        assert got[0].at == base().point("tank").xy
