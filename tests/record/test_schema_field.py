"""The field in the schema of plan.json: keys once written stay; a plan of before still reads."""

import json
from typing import Any

import pytest

from planner.output.plan_json import plan_document
from planner.record.schema import PlanModel, plan_schema
from tests.example import example_plan

CONTRACT = {
    "RunModel": "start_m end_m label bore_m rating_m named form piece_m joints_m",
    "CrossedModel": "name chainage_m at",
    "MarkModel": "chainage_m at depth_m what photo remark",
    "BuiltModel": "date marks photos note",
    "StationModel": "name at level_m error_m model_m methods",
    "ClosureModel": "file what misclosure_m allowed_m good setups length_m",
    "SurveyModel": "stations shift_m reach_m spread_before_m spread_after_m closures notes",
    "ChangeModel": "code name before after error_before error_after message",
    "StakeModel": "name line number reasons remark chainage_m run_m at ground_m pipe_m depth_m "
    "back_m bearing_deg rise_m ground_rise_m grade_after findings",
}
ADDED = {
    "LineModel": {"runs", "crossed", "walked", "built"},
    "PointModel": {"level_error_m"},
    "AreaModel": {"ground"},
    "BlockedModel": {"edge"},
}
ADDED_TO_PLAN = {"survey", "changes", "stakes"}


@pytest.fixture(scope="module")
def schema() -> dict[str, Any]:
    return plan_schema()


@pytest.mark.parametrize("name", CONTRACT)
def test_the_keys_of_the_field_are_required(schema: dict[str, Any], name: str) -> None:
    assert set(schema["$defs"][name]["required"]) == set(CONTRACT[name].split())


@pytest.mark.parametrize("name", ADDED)
def test_what_was_added_may_be_missing(schema: dict[str, Any], name: str) -> None:
    model = schema["$defs"][name]
    assert set(model["properties"]) >= ADDED[name]
    assert not set(model["required"]) & ADDED[name]


def test_a_plan_written_before_still_reads_and_its_format_is_the_first(
    schema: dict[str, Any],
) -> None:
    assert set(schema["properties"]) >= ADDED_TO_PLAN
    old = plan_document(example_plan())
    assert old["format"] == 1
    for key in ADDED_TO_PLAN:
        del old[key]
    for name, entries in (
        ("LineModel", old["lines"]),
        ("PointModel", old["points"]),
        ("AreaModel", old["areas"]),
        ("BlockedModel", old["blocked"]),
    ):
        for entry in entries:
            for key in ADDED[name]:
                del entry[key]
    plan = PlanModel.model_validate_json(json.dumps(old))
    assert plan.survey is None
    assert (plan.stakes, plan.changes, plan.lines[0].walked) == ([], [], False)
