"""What is asked of the source, and whether the delivery serves the need."""

import pytest

from planner.band import Band
from planner.record.value import Plan
from tests.checks.altered import found, line_water, water

DAY = 86400.0


def cases(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


@pytest.mark.parametrize(
    ("need", "case"),
    [
        (1.2, []),
        (1.3, [("note", "maybe")]),
        (1.7, [("note", "maybe")]),
        (1.8, [("warn", None)]),
        (2.3, [("warn", None)]),
        (2.4, [("warn", "far")]),
        (None, []),
    ],
)
def test_need_against_the_band(need: float | None, case: list[tuple[str, object]]) -> None:
    plan = water(delivered=Band(1.2, 1.7, 2.3), need=need)
    assert cases(plan, "yield-below-need") == case


@pytest.mark.parametrize(
    ("share", "case"),
    # The source gives 0.5 L/s, of which 0.35 may be taken; 1 % is rounding.
    [
        (0.35, []),
        (0.353, []),
        (0.36, [("warn", "share")]),
        (0.5, [("warn", "share")]),
        (0.51, [("stop", "all")]),
    ],
)
def test_more_than_the_source_gives(share: float, case: list[tuple[str, object]]) -> None:
    assert cases(water(need=share * 1e-3 * DAY), "takes-too-much") == case


def test_what_the_lines_draw_counts_as_well() -> None:
    plan = line_water("supply", flow=4e-4)
    assert cases(plan, "takes-too-much") == [("warn", "share")]
    # Water below the tank is not drawn from the source again.
    assert cases(line_water("distribution-trough", flow=4e-4), "takes-too-much") == []


def test_an_unknown_source_can_not_be_overdrawn() -> None:
    plan = water(source_flow=None, taken=None, need=1e6)
    assert found(plan, "takes-too-much") == []


@pytest.mark.parametrize(
    ("need", "case"),
    # Delivered 1.2, 1.7, 2.3: compared at its low with the most, at its high with the least need.
    [
        (Band(0.8, 1.0, 1.2), []),
        (Band(0.8, 1.0, 1.3), [("note", "maybe")]),
        (Band(1.5, 1.8, 2.5), [("warn", None)]),
        (Band(2.3, 2.6, 3.0), [("warn", None)]),
        (Band(2.4, 2.6, 3.0), [("warn", "far")]),
    ],
)
def test_the_need_has_a_spread_too(need: Band, case: list[tuple[str, object]]) -> None:
    plan = water(delivered=Band(1.2, 1.7, 2.3), need=need.expected, need_band=need)
    assert cases(plan, "yield-below-need") == case
