"""plan.json: the contract's values, rounded, without NaN, and readable again by its schema."""

import dataclasses
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from planner.band import Band
from planner.output.line_json import line_document
from planner.output.plan_json import plan_document, write_plan
from planner.record.schema import PlanModel
from planner.record.value import Blocked, Finding, Plan
from planner.terrain.frame import to_local
from tests.example import example_plan


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


@pytest.fixture(scope="module")
def document(plan: Plan) -> dict[str, Any]:
    return plan_document(plan)


def test_it_satisfies_its_schema(document: dict[str, Any]) -> None:
    again = PlanModel.model_validate_json(json.dumps(document, allow_nan=False))
    assert again.model_dump(mode="json", by_alias=True) == document


def test_a_line_holds_the_contract_s_figures(plan: Plan, document: dict[str, Any]) -> None:
    line, own = plan.lines[2], document["lines"][2]
    assert (own["name"], own["role"]) == ("delivery", "delivery")
    assert own["length_m"] == pytest.approx(line.profile.length, abs=5e-4)
    for key, values in (
        ("run_m", line.profile.run),
        ("chainage_m", line.profile.chainage),
        ("ground_m", line.profile.ground),
        ("pipe_m", line.profile.pipe),
    ):
        np.testing.assert_allclose(own["profile"][key], values, atol=5.1e-4)
    high = own["high_points"][0]
    assert (high["rise_m"], high["deeper_m"]) == (0.62, 0.35)


def test_paths_are_longitude_and_latitude(plan: Plan, document: dict[str, Any]) -> None:
    path = np.array(document["lines"][0]["path"])
    assert np.all(np.abs(path - [11.2, 47.3]) < 0.01)
    back = to_local(plan.terrain, path)
    np.testing.assert_allclose(back, plan.lines[0].profile.xy, atol=2e-3)


def test_yield_is_in_litres_a_day(document: dict[str, Any]) -> None:
    assert document["yield"] == {
        "litres_per_day": {"low": 1200.0, "expected": 1700.0, "high": 2300.0}
    }
    assert document["water"]["need_litres_per_day"] == 2000.0


def test_findings_come_in_words_and_in_order(document: dict[str, Any]) -> None:
    codes = [finding["code"] for finding in document["findings"]]
    assert codes == ["air-trap", "yield-below-need", "ram-needed"]
    first = document["findings"][0]
    assert (first["level"], first["line"], first["likelihood"]) == ("warn", "delivery", None)
    assert "0.62 m" in first["message"]
    assert "vent" in first["remedy"]


def test_the_data_and_its_error_travel_along(document: dict[str, Any]) -> None:
    assert document["data"]["standard_error_m"] == 0.15
    assert document["data"]["files"] == ["hollow-dem.tif"]
    assert len(document["cautions"]) > 5


def test_values_of_findings_may_be_whole_numbers_or_names(plan: Plan) -> None:
    finding = Finding("note", "ram-needed", {"count": 3, "name": "a\ud800", "gap": math.nan})
    values = plan_document(dataclasses.replace(plan, findings=(finding,)))["findings"][0]["values"]
    assert values == {"count": 3.0, "name": "a?", "gap": None}


def test_what_is_not_known_is_null(plan: Plan, tmp_path: Path) -> None:
    line = plan.lines[1]
    ground = line.profile.ground.copy()
    ground[3:5] = np.nan
    assert line.water is not None
    holes = dataclasses.replace(
        line,
        profile=dataclasses.replace(line.profile, ground=ground),
        water=dataclasses.replace(line.water, flow=math.nan, end_head=-math.inf),
    )
    nan = math.nan
    water = dataclasses.replace(plan.water, delivered=None, fall=Band(nan, nan, nan))
    blocked = Blocked("waste", "waste", "ram", "stream", "fall", "no fall", (0.0, 0.0), math.inf)
    unsure = dataclasses.replace(plan, lines=(holes,), water=water, blocked=(blocked,))
    write_plan(unsure, tmp_path / "plan.json")
    text = (tmp_path / "plan.json").read_text("utf-8")
    assert "NaN" not in text
    assert "Infinity" not in text
    document = json.loads(text)
    own = document["lines"][0]
    assert own["profile"]["ground_m"][3:5] == [None, None]
    assert (own["water"]["flow_m3_s"], own["water"]["end_head_m"]) == (None, None)
    assert document["yield"]["litres_per_day"] == {"low": None, "expected": None, "high": None}
    assert document["water"]["fall_m"] == {"low": None, "expected": None, "high": None}
    assert document["blocked"][0]["shortfall_m"] is None


def test_filled_stretches_are_told(plan: Plan) -> None:
    line = plan.lines[0]
    filled = np.zeros(line.profile.run.size, dtype=bool)
    filled[:3] = filled[10] = True
    profile = dataclasses.replace(line.profile, filled=filled)
    own = line_document(dataclasses.replace(line, profile=profile), plan.terrain)
    at = [round(float(chainage), 3) for chainage in profile.chainage]
    assert own["profile"]["filled"] == [[at[0], at[2]], [at[10], at[10]]]


def test_the_file_says_what_the_document_says(
    plan: Plan, document: dict[str, Any], tmp_path: Path
) -> None:
    title = 'Larch [\\n1, 2] <b>"Höhe" 水\ud800'
    named = dataclasses.replace(plan, site=dataclasses.replace(plan.site, title=title))
    path = tmp_path / "plan.json"
    write_plan(named, path)
    text = path.read_text("utf-8")
    assert json.loads(text) == {**document, "title": title.replace("\ud800", "?")}
    # A list of plain numbers stands on one line, so that the file can be read by eye.
    assert max(len(line) for line in text.splitlines() if line.startswith('    "run_m"')) > 500
