"""Fall and lift of the ram, at the edges of the published ranges."""

import math

import pytest

from planner.band import Band
from planner.record.value import Plan
from tests.checks.altered import base, fall, found, put, water
from tests.checks.troubles import UNKNOWN


def levels(plan: Plan, code: str) -> list[str]:
    return [finding.level for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("drop", "level"),
    [
        (0.49, ["stop"]),
        (0.5, ["warn"]),
        (0.99, ["warn"]),
        (1.0, ["note"]),
        (1.99, ["note"]),
        (2.0, []),
        (0.0, []),  # said by ram-above-source
        (-1.0, []),
        (math.nan, []),
    ],
)
def test_little_fall(drop: float, level: list[str]) -> None:
    assert levels(fall(drop), "fall-low") == level


@pytest.mark.parametrize(
    ("drop", "level"), [(15.0, []), (15.1, ["note"]), (20.0, ["note"]), (20.1, ["warn"])]
)
def test_much_fall(drop: float, level: list[str]) -> None:
    assert levels(fall(drop), "fall-high") == level


def lifted(lift: float, *, friction: float | None = 0.0, known: bool = True) -> Plan:
    delivered = base().water.delivered if known else UNKNOWN
    return water(fall(2.0), lift=Band.exact(lift), lift_friction=friction, delivered=delivered)


@pytest.mark.parametrize(
    ("lift", "case"), [(30.0, []), (30.1, ["warn"]), (40.0, ["warn"]), (40.1, ["strong"])]
)
def test_lift_in_falls(lift: float, case: list[str]) -> None:
    assert [finding.values["case"] for finding in found(lifted(lift), "lift-ratio")] == case


def test_friction_counts_as_lift() -> None:
    assert len(found(lifted(29.0, friction=1.5), "lift-ratio")) == 1
    assert found(lifted(29.0, friction=math.nan), "lift-ratio") == []


def test_beyond_all_published_figures_it_stops() -> None:
    beyond = lifted(90.0, friction=math.nan, known=False)
    assert levels(beyond, "reach-too-far") == ["stop"]
    assert levels(beyond, "lift-ratio") == []
    assert levels(lifted(90.0), "reach-too-far") == []
    assert levels(water(lifted(90.0), delivered=None), "reach-too-far") == []  # flow unknown


def test_no_figures_at_an_ordinary_lift_is_another_matter() -> None:
    assert levels(lifted(10.0, known=False), "yield-unknown") == ["warn"]
    assert levels(lifted(10.0, known=False), "reach-too-far") == []
    assert levels(lifted(90.0, known=False), "yield-unknown") == []
    assert levels(base(), "yield-unknown") == []


def test_gravity_has_no_ram_to_judge() -> None:
    plan = put(scheme="gravity", water=fall(0.4).water)
    for code in ("fall-low", "fall-high", "lift-ratio", "reach-too-far", "yield-unknown"):
        assert found(plan, code) == []


def test_a_finding_on_a_line_that_is_not_there_names_none() -> None:
    (low,) = found(put(lines=(), water=fall(0.4).water), "fall-low")
    assert low.line is None
