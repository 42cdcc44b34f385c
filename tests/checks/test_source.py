"""What the source's flow stands on, what stays in the stream, and the intake."""

import pytest

from planner.record.value import Plan
from planner.site.value import FlowSeason
from planner.wording.findings import sentence
from tests.checks.altered import base, found, source, water
from tests.checks.works import read


def cases(plan: Plan, code: str) -> list[tuple[str, object]]:
    return [(finding.level, finding.values.get("case")) for finding in found(plan, code)]


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
    assert cases(source(season=None, measured=None), "flow-not-dry-season") == [("warn", "unsaid")]


@pytest.mark.parametrize(
    ("season", "factor", "case"),
    [
        ("dry", None, []),
        ("wet", None, [("warn", "wet")]),
        ("wet", (0.3, 0.7), [("warn", "reduced")]),
        (None, None, [("warn", "unsaid")]),
    ],
)
def test_the_season_follows_what_the_lowest_flow_stands_on(
    season: FlowSeason | None, factor: tuple[float, float] | None, case: list[object]
) -> None:
    plan = read(season, factor)
    assert cases(plan, "flow-not-dry-season") == case
    for finding in found(plan, "flow-not-dry-season"):
        assert "not for design" in sentence(finding, "metric").message


def test_an_intake_for_a_litre_a_second() -> None:
    # 4 times the mouth of a 50 mm pipe in holes, 40 % open: 79 and 196 cm²; 900 s at 0.9 m deep:
    # 1 m² of chamber, four times as long as wide; 0.3 m over the mouth.
    (note,) = found(read("dry"), "intake")
    said = sentence(note, "metric")
    assert "a screen of 196 cm² with holes of 79 cm² together" in said.message
    assert "2.00 m long, 0.50 m wide and 0.90 m deep" in said.message
    assert "0.30 m of water over the pipe's mouth" in said.remedy
    assert found(base(), "intake") == []
