"""What goes to the field and comes back in plan.json: each figure where it belongs."""

import datetime
import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from planner.chain.pipe_runs import pipe_runs
from planner.levels.value import Closure, Levelled, Survey
from planner.output.plan_json import plan_document
from planner.output.stakes.make import stakes_of
from planner.record.schema import PlanModel
from planner.record.value import Blocked, Change, Plan
from planner.record.works import AsBuilt, BuiltMark, Crossed
from planner.terrain.frame import to_local
from tests.example import example_plan

NAN = math.nan


def document(plan: Plan, staked: Any = ()) -> dict[str, Any]:
    """The plan's document, which holds no NaN and reads back to itself."""
    made = plan_document(plan, staked)
    again = PlanModel.model_validate_json(json.dumps(made, allow_nan=False))
    assert again.model_dump(mode="json", by_alias=True) == made
    return made


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


def with_line(plan: Plan, **changes: Any) -> Plan:
    """The plan with its delivery changed."""
    lines = tuple(replace(one, **changes) if one.name == "delivery" else one for one in plan.lines)
    return replace(plan, lines=lines)


def test_the_pipes_of_a_line_come_with_their_joints(plan: Plan) -> None:
    runs = pipe_runs(plan.line("delivery"), (), 10.0)
    (own,) = document(with_line(plan, runs=runs))["lines"][2]["runs"]
    length = plan.line("delivery").profile.length
    assert (own["start_m"], own["end_m"]) == (0.0, pytest.approx(length, abs=1e-3))
    assert own["bore_m"] == 0.0266
    assert own["named"] is False
    assert own["joints_m"] == [own["piece_m"] * k for k in range(1, len(own["joints_m"]) + 1)]
    assert 0.0 < length - own["joints_m"][-1] <= own["piece_m"]


def test_what_a_line_crosses_has_a_place(plan: Plan) -> None:
    profile = plan.line("delivery").profile
    crossed = (Crossed("", 40, 20.0, float(profile.chainage[40])), Crossed("lane", 60, 30.0, 30.2))
    stream, lane = document(with_line(plan, crossed=crossed))["lines"][2]["crossed"]
    assert (stream["name"], lane["name"]) == ("", "lane")
    assert to_local(plan.terrain, [stream["at"]])[0] == pytest.approx(profile.xy[40], abs=2e-3)
    assert lane["chainage_m"] == 30.2


def test_a_line_that_is_laid_tells_when_how_and_with_which_pictures(plan: Plan) -> None:
    marks = (
        BuiltMark(12.5, (10.0, 20.0), 0.65, "air valve", "p1.jpg", "in a box"),
        BuiltMark(80.0, (30.0, 40.0), None, "washout", "", ""),
    )
    built = AsBuilt(datetime.date(2026, 9, 12), marks, ("trench.jpg",), "tape <above>")
    made = document(with_line(plan, built=built, walked=True))["lines"]
    own = made[2]["built"]
    assert (own["date"], own["photos"], own["note"]) == (
        "2026-09-12",
        ["trench.jpg"],
        "tape <above>",
    )
    assert [mark["depth_m"] for mark in own["marks"]] == [0.65, None]
    assert own["marks"][0]["what"] == "air valve"
    assert to_local(plan.terrain, [own["marks"][0]["at"]])[0] == pytest.approx((10, 20), abs=2e-3)
    assert [line["walked"] for line in made] == [False, False, True, False]
    assert made[0]["built"] is None


def test_the_survey_tells_each_station_and_each_closure(plan: Plan) -> None:
    survey = Survey(
        stations=(
            Levelled("ram", (-35.0, -68.0), 498.1234, 0.012, 498.4, ("level", "hose")),
            Levelled("tank", (60.0, 110.0), 520.0, 0.02, NAN, ("known",)),
        ),
        covariance=np.eye(2) * 1e-4,
        shift=30.25,
        reach=60.0,
        spread_before=0.27,
        spread_after=NAN,
        closures=(Closure("book.csv", "peg to peg", -0.004, 0.012, 6), Closure("b", "", 1, 0.1, 2)),
        notes=("30.25 m were taken out of the heights",),
    )
    own = document(replace(plan, survey=survey))["survey"]
    ram, tank = own["stations"]
    assert (ram["level_m"], ram["error_m"], ram["model_m"]) == (498.123, 0.012, 498.4)
    assert ram["methods"] == ["level", "hose"]
    assert to_local(plan.terrain, [ram["at"]])[0] == pytest.approx((-35, -68), abs=2e-3)
    assert tank["model_m"] is None
    assert (own["shift_m"], own["reach_m"]) == (30.25, 60.0)
    assert (own["spread_before_m"], own["spread_after_m"]) == (0.27, None)
    assert [one["good"] for one in own["closures"]] == [True, False]
    assert own["closures"][0]["length_m"] is None
    assert own["notes"] == list(survey.notes)
    assert document(plan)["survey"] is None


def test_changes_come_in_figures_and_in_words(plan: Plan) -> None:
    changed = (
        Change("fall", "", 2.05, 2.31, 0.7, 0.02),
        Change("high-point/gone", "delivery", 64.0, None),
        Change("source", "", 5e-4, 4.12345e-4),
    )
    fall, gone, source = document(replace(plan, changes=changed))["changes"]
    assert (fall["before"], fall["after"], fall["error_after"]) == (2.05, 2.31, 0.02)
    assert fall["message"].startswith("Fall 2.31 m")
    assert (gone["name"], gone["after"]) == ("delivery", None)
    assert source["after"] == 4.12345e-4


def test_stakes_stand_line_by_line_with_all_their_figures(plan: Plan) -> None:
    staked = stakes_of(plan)
    own = document(plan, staked)["stakes"]
    assert [one["name"] for one in own] == [s.name for line in staked for s in line.stakes]
    assert list(dict.fromkeys(one["line"] for one in own)) == [line.name for line in plan.lines]
    first, second = own[0], own[1]
    assert (first["number"], first["back_m"], first["bearing_deg"]) == (1, 0.0, None)
    stake = staked[0].stakes[1]
    assert second["bearing_deg"] == pytest.approx(stake.bearing, abs=0.051)
    assert second["depth_m"] == pytest.approx(stake.depth_m, abs=5e-4)
    assert to_local(plan.terrain, [second["at"]])[0] == pytest.approx(stake.xy, abs=2e-3)
    assert document(plan)["stakes"] == []


def test_a_levelled_point_a_hard_area_and_a_blocked_line_s_edge_are_told(plan: Plan) -> None:
    points = (replace(plan.points[0], level_error=0.0154), *plan.points[1:])
    areas = (replace(plan.areas[0], ground="rock"),)
    edge = (-169.0, 10.0)
    blocked = Blocked("waste", "waste", "ram", "stream", "edge", "no way", None, None, edge)
    own = document(replace(plan, points=points, areas=areas, blocked=(blocked,)))
    assert [point["level_error_m"] for point in own["points"]] == [0.015, None, None, None, None]
    assert own["areas"][0]["ground"] == "rock"
    assert to_local(plan.terrain, [own["blocked"][0]["edge"]])[0] == pytest.approx(edge, abs=2e-3)
