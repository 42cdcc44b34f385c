"""The works in the schema of plan.json: keys once written stay, and are required."""

from typing import Any

import pytest

from planner.record.schema import plan_schema

CONTRACT = {
    "IntakeModel": "lowest_flow_m3_s basis for_design screen chamber cover_m",
    "CycleModel": "stalls free_velocity_m_s beats_per_minute phases wasted_m3 delivered_m3 "
    "drive_flow_m3_s delivered_flow_m3_s efficiency peak_head_m design_head_m",
    "BeatModel": "trouble cycle length_m load longer heavier",
    "DrivePeakModel": "beating_m blocked_m design_m",
    "RamOptionModel": "arrangement count size neighbours delivered_m3_s second cautions",
    "DeliverySizesModel": "pipes chosen bearable",
    "DeliveryPipeModel": "bore_m delivered_m3_s friction_m velocity_m_s lost_m3_s",
    "StartModel": "drive_volume_m3 delivery_volume_m3 back_pressure_m by_itself_m strokes "
    "filling_time_s steps",
    "RamModel": "closing_velocity_m_s tuned beat peak options sizes start",
    "StorageModel": "stored_m3 shortage_m3 overflow_m3 shortage_days missing_m3 spilt_m3",
    "LoadModel": "mass_kg weight_n pressure_pa design_weight_n footing_m2 engineer",
    "TankModel": "volume_m3 smallest_m3 days storage fill_time_s load",
    "LegModel": "crest_m foot_m height_m steepest clears loss_m",
    "StartUpModel": "starts pockets_m heads_m needed_m available_m margin_m",
    "VentModel": "chainage_m kind height_m by_hand",
    "AirModel": "legs start vents enough",
    "LeastMarginModel": "state chainage_m head_m rating_m margin_m",
    "ClassModel": "start_m end_m standard nominal series pressure_class bore_m rating_m needed_m",
    "ClassesModel": "stretches mass_kg mass_spared_kg too_weak",
    "BreakPressureModel": "tanks_m static_level_m blocked_m",
    "PressureModel": "open_m closed_m surge_m rating_m surge_rating_m least classes break_pressure",
    "PartFullModel": "start_m end_m least_depth most_depth fastest_m_s",
}
# Added after the backbone's water: a plan of before, without them, still reads.
ADDED = {
    "WaterModel": {"need_band_litres_per_day", "intake", "ram", "tank"},
    "LineModel": {"air", "pressure"},
    "LineWaterModel": {"part_full"},
}


@pytest.fixture(scope="module")
def definitions() -> dict[str, Any]:
    found: dict[str, Any] = plan_schema()["$defs"]
    return found


@pytest.mark.parametrize("name", CONTRACT)
def test_the_keys_of_the_works_are_required(definitions: dict[str, Any], name: str) -> None:
    assert set(definitions[name]["required"]) >= set(CONTRACT[name].split())


@pytest.mark.parametrize("name", ADDED)
def test_what_was_added_may_be_missing(definitions: dict[str, Any], name: str) -> None:
    model = definitions[name]
    assert set(model["properties"]) >= ADDED[name]
    assert not set(model["required"]) & ADDED[name]


def test_states_of_pressure_are_open_closed_and_surge(definitions: dict[str, Any]) -> None:
    state = definitions["LeastMarginModel"]["properties"]["state"]
    assert state["enum"] == ["open", "closed", "surge"]
