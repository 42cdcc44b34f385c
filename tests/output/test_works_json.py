"""The works of a plan in plan.json: what the hydraulics found, rounded, null where not known."""

import json
import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from planner.output.plan_json import plan_document
from planner.record.schema import PlanModel
from planner.record.value import Plan
from tests.checks import works


def document(plan: Plan) -> dict[str, Any]:
    """The plan's document, which holds no NaN and reads back to itself."""
    made = plan_document(plan)
    text = json.dumps(made, allow_nan=False)
    again = PlanModel.model_validate_json(text).model_dump(mode="json", by_alias=True)
    assert again == made
    return made


def test_the_ram_s_beat_sizes_and_start_are_there() -> None:
    plan = works.ram()
    ram, own = plan.water.ram, document(plan)["water"]["ram"]
    assert ram is not None
    assert ram.sizes is not None
    cycle = own["beat"]["cycle"]
    assert cycle["beats_per_minute"] == pytest.approx(ram.beat.cycle.beats, abs=0.051)
    assert cycle["wasted_m3"] == pytest.approx(ram.beat.cycle.wasted, abs=1e-9)
    assert own["peak"]["design_m"] == pytest.approx(ram.peak.design, abs=5e-4)
    assert [one["bore_m"] for one in own["sizes"]["pipes"]] == [0.0158, 0.0209, 0.0266]
    assert own["sizes"]["chosen"] == ram.sizes.chosen
    assert own["options"][0]["size"]["bore_m"] == ram.options[0].size.bore
    assert own["start"]["strokes"] == list(ram.start.strokes)
    assert own["start"]["steps"] == list(ram.start.steps)


def test_a_ram_that_stalls_has_null_phases() -> None:
    own = document(works.ram(closing=9.0))["water"]["ram"]["beat"]
    assert own["trouble"] == "stalls open"
    assert own["cycle"]["phases"]["acceleration_s"] is None
    assert own["cycle"]["wasted_m3"] is None
    assert own["cycle"]["beats_per_minute"] == 0.0


def test_the_intake_tells_what_its_flow_stands_on() -> None:
    own = document(works.read("wet"))["water"]["intake"]
    assert (own["basis"], own["for_design"]) == ("wet reading", False)
    assert own["lowest_flow_m3_s"]["expected"] == pytest.approx(1e-3)
    assert own["screen"]["area_m2"] > 0.0
    assert own["chamber"]["ruled_by"] in {"grit", "detention", "air"}


def test_the_tank_s_hours_are_rounded_and_add_up() -> None:
    own = document(works.tank(None))["water"]["tank"]
    assert own["volume_m3"] is None
    assert own["smallest_m3"] == pytest.approx(2.3, abs=1e-3)  # 2.4 drawn in the hour 0.1 came
    hours = own["storage"]
    assert len(hours["stored_m3"]) == 14 * 24 + 1
    assert len(hours["shortage_m3"]) == len(hours["overflow_m3"]) == 14 * 24
    assert hours["shortage_days"] == 0
    assert all(round(value, 3) == value for value in hours["stored_m3"])
    assert own["load"]["mass_kg"] == pytest.approx(2.3 * 1050.0, rel=0.01)


def test_a_tank_too_small_tells_the_days_it_is_short() -> None:
    hours = document(works.tank(1.0))["water"]["tank"]["storage"]
    assert hours["shortage_days"] == 14
    assert hours["missing_m3"] == pytest.approx(sum(hours["shortage_m3"]), abs=0.01)


def test_air_is_told_by_leg_start_and_vent() -> None:
    plan = works.undulating(100.0)
    line, own = plan.lines[0], document(plan)["lines"][0]["air"]
    assert line.air is not None
    assert line.air.start is not None
    assert own["start"]["starts"] is line.air.start.starts
    assert [leg["crest_m"] for leg in own["legs"]] == [
        round(float(line.profile.chainage[leg.leg.crest]), 3) for leg in line.air.legs
    ]
    assert [vent["chainage_m"] for vent in own["vents"]] == [
        round(vent.chainage_m, 3) for vent in line.air.vents
    ]


def test_a_vent_that_must_not_be_is_null() -> None:
    plan = works.crest(opened=504.0)
    own = document(plan)["lines"][0]["air"]["vents"]
    assert [(vent["kind"], vent["height_m"], vent["by_hand"]) for vent in own] == [
        (None, None, None)
    ]


def test_pressures_classes_and_tanks_of_a_line() -> None:
    plan = works.pressed(150.0, size="50 mm")
    line, own = plan.lines[0], document(plan)["lines"][0]["pressure"]
    assert line.pressure is not None
    heads, least = line.pressure.heads, line.pressure.least
    for key, values in (
        ("open_m", heads.open),
        ("closed_m", heads.closed),
        ("surge_m", heads.surge),
    ):
        np.testing.assert_allclose(own[key], values, atol=5.1e-4)
    assert own["least"]["state"] == least.state
    assert own["least"]["margin_m"] == pytest.approx(least.margin, abs=5e-4)
    stretches = own["classes"]["stretches"]
    assert stretches[0]["start_m"] == 0.0
    assert stretches[-1]["end_m"] == pytest.approx(line.profile.length, abs=1e-3)
    assert {stretch["standard"] for stretch in stretches} == {"ISO 4427"}


def test_break_pressure_tanks_stand_at_chainages() -> None:
    plan = works.pressed(150.0, rating=60.0)
    own = document(plan)["lines"][0]["pressure"]["break_pressure"]
    assert len(own["tanks_m"]) >= 2
    assert own["tanks_m"] == sorted(own["tanks_m"])


def test_what_is_not_known_is_null() -> None:
    plan = works.ram()
    assert plan.water.ram is not None
    start = replace(plan.water.ram.start, filling_time=math.nan)
    unsure = replace(plan.water, ram=replace(plan.water.ram, start=start, sizes=None))
    own = document(replace(plan, water=unsure))["water"]["ram"]
    assert own["sizes"] is None
    assert own["start"]["filling_time_s"] is None


def test_a_plan_without_works_says_so() -> None:
    plan = works.ram()
    bare = replace(plan, water=replace(plan.water, ram=None, tank=None, intake=None))
    water = document(bare)["water"]
    assert (water["ram"], water["tank"], water["intake"]) == (None, None, None)
