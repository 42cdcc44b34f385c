"""Choices and other routes in plan.json: by the schema, rounded, unknown costs null."""

import json
from typing import Any

import pytest
from pydantic import TypeAdapter

from planner.output.line_json import line_document
from planner.output.plan_json import plan_document
from planner.record.schema import LineModel, PlanModel, plan_schema
from planner.terrain.frame import to_local
from tests.example import example_plan
from tests.output.weighed import OWN, weighed_plan


@pytest.fixture(scope="module")
def line() -> dict[str, Any]:
    plan = weighed_plan()
    return line_document(plan.line("delivery"), plan.terrain)


def test_the_whole_plan_still_satisfies_its_schema() -> None:
    document = plan_document(weighed_plan())
    json.dumps(document, allow_nan=False)
    TypeAdapter(PlanModel).validate_python(document)
    assert {"ChoiceModel", "OptionModel", "AlternativeModel"} <= set(plan_schema()["$defs"])


def test_choices_stand_with_their_next_best(line: dict[str, Any]) -> None:
    vent, deep = line["choices"]
    assert (vent["chosen"], vent["price_m"], vent["detour_weighed"]) == ("vent", 30.0, True)
    assert [option["kind"] for option in vent["next_best"]] == ["detour", "deeper"]
    assert vent["next_best"][0]["pipe_m"] == 21.0
    assert vent["next_best"][1]["more_m"] is None
    assert (deep["deeper_m"], deep["over_m"], deep["next_best"]) == (0.3, 12.0, [])
    assert deep["detour_weighed"] is False


def test_alternatives_stand_with_their_way_and_figures(line: dict[str, Any]) -> None:
    plan = weighed_plan()
    others = plan.line("delivery").alternatives
    assert others is not None
    assert line["alternatives_asked"] == 3
    assert [other["reason"] for other in line["alternatives"]] == [o.reason for o in others.found]
    for told, other in zip(line["alternatives"], others.found, strict=True):
        xy = to_local(plan.terrain, told["path"])
        assert xy.ravel() == pytest.approx([v for p in other.line.coords for v in p], abs=0.01)
        assert told["figures"]["cost_m"] == other.figures.cost
    assert line["figures"]["digging_m2"] == OWN.digging


def test_a_line_that_was_not_weighed_has_none_of_it() -> None:
    plan = example_plan()
    told = line_document(plan.line("drive"), plan.terrain)
    assert (told["choices"], told["alternatives"], told["alternatives_asked"]) == ([], [], 0)
    assert told["figures"] is None
    assert "choices" not in LineModel.model_json_schema()["required"]
