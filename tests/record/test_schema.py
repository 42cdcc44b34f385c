"""The schema of plan.json: the contract's keys are there, required, and of their kinds."""

from typing import Any

import pytest
from pydantic import ValidationError

from planner.record.schema import FindingModel, HighPointModel, plan_schema
from planner.record.schema_base import BandModel

CONTRACT = {
    "LineModel": {"name", "role", "length_m", "path", "profile", "high_points"},
    "ProfileModel": {"run_m", "chainage_m", "ground_m", "pipe_m"},
    "HighPointModel": {"chainage_m", "rise_m", "deeper_m"},
    "YieldModel": {"litres_per_day"},
    "BandModel": {"low", "expected", "high"},
    "FindingModel": {"level", "code", "line", "chainage_m", "likelihood", "message", "remedy"},
}


def _definition(name: str) -> dict[str, Any]:
    found: dict[str, Any] = plan_schema()["$defs"][name]
    return found


@pytest.mark.parametrize("name", CONTRACT)
def test_the_contract_s_keys_are_required(name: str) -> None:
    definition = _definition(name)
    assert set(definition["properties"]) >= CONTRACT[name]
    assert set(definition["required"]) >= CONTRACT[name]


def test_the_plan_itself_holds_lines_yield_and_findings() -> None:
    assert {"lines", "yield", "findings"} <= set(plan_schema()["required"])


def test_levels_of_findings_are_the_contract_s_three() -> None:
    assert _definition("FindingModel")["properties"]["level"]["enum"] == ["stop", "warn", "note"]


def test_likelihood_and_place_may_be_null() -> None:
    finding = FindingModel(
        level="note",
        code="ram-needed",
        line=None,
        chainage_m=None,
        likelihood=None,
        message="",
        remedy="",
    )
    assert finding.likelihood is None


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), "much"])
def test_numbers_are_finite(bad: Any) -> None:
    with pytest.raises(ValidationError):
        HighPointModel(chainage_m=bad, rise_m=1.0, deeper_m=1.0)


def test_a_key_nobody_knows_is_refused() -> None:
    with pytest.raises(ValidationError):
        BandModel.model_validate({"low": 1.0, "expected": 1.0, "high": 1.0, "middle": 1.0})


def test_text_that_is_no_text_is_mended() -> None:
    finding = FindingModel(
        level="note",
        code="c",
        line="a\ud800",
        chainage_m=None,
        likelihood=None,
        message="m",
        remedy="r",
    )
    assert finding.line == "a?"
