"""Flow, need, and what stays in the stream."""

import pytest

from planner.band import Band
from planner.record.value import Plan
from tests.checks.altered import base, found, line_water, source, water

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


@pytest.mark.parametrize(("share", "count"), [(0.3, 0), (0.29, 1), (0.0, 1), (0.5, 0)])
def test_share_left_in_the_stream(share: float, count: int) -> None:
    assert len(found(source(share_left=share), "share-left-low")) == count


def test_a_flow_measured_in_the_dry_season_is_believed() -> None:
    assert found(base(), "flow-unknown") == []
    assert found(base(), "flow-not-dry-season") == []


def test_no_flow_has_no_season() -> None:
    plan = water(source(season="wet"), source_flow=None)
    assert found(plan, "flow-not-dry-season") == []
    assert len(found(plan, "flow-unknown")) == 1


def test_one_doubt_of_the_season_is_said_at_a_time() -> None:
    assert cases(source(season="wet", measured=None), "flow-not-dry-season") == [("warn", "wet")]
    assert cases(source(season=None, measured=None), "flow-not-dry-season") == [("warn", "undated")]
