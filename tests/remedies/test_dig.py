"""A deeper trench by a button."""

from dataclasses import replace
from pathlib import Path

import pytest
from shapely.geometry import box

from planner.record.value import Finding, PlacedArea, Plan
from planner.remedies.table import remedies
from planner.site.edits.apply import edited
from planner.site.edits.value import AddPoint, MovePoint, SetValue, Several
from planner.units.parse import parse
from tests.checks.altered import drawn, found, line, only, site
from tests.checks.troubles import TROUBLES
from tests.remedies.pressing import GONE, demo_draft, planned, press
from tests.remedies.ridge import ridge_draft, spot


@pytest.mark.slow
@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_demo_s_high_point_is_dug_through(units: str, tmp_path: Path) -> None:
    draft = demo_draft(tmp_path, SetValue(("units",), units))
    pressed = press(draft, "air-trap", "deepen")
    assert pressed.remedy.words in ("Dig to 2.32 m, shored", "Dig to 7.7 ft, shored")
    assert pressed.level == GONE
    assert not pressed.worse
    assert pressed.after.line("delivery").high_points == ()


@pytest.mark.slow
def test_a_demo_that_freezes_is_buried_line_by_line(tmp_path: Path) -> None:
    draft = demo_draft(tmp_path, SetValue(("use", "frost_depth"), "0.6 m"))
    for role in ("delivery", "distribution"):
        pressed = press(draft, "cover-under-frost", "bury")
        assert pressed.remedy.words == "Bury it 0.75 m deep"
        assert pressed.finding.line is not None
        assert pressed.finding.line.startswith(role)
        assert pressed.level == GONE
        assert not pressed.worse
        draft = pressed.draft


@pytest.mark.slow
def test_a_demo_of_summer_lines_in_frozen_ground_is_laid_in_it(tmp_path: Path) -> None:
    draft = demo_draft(
        tmp_path,
        SetValue(("use", "frost_depth"), "0.5 m"),
        Several(
            "lay the supply on top",
            (
                SetValue(("lines", "supply", "laid"), "surface"),
                SetValue(("lines", "supply", "propped"), "0.4 m"),
            ),
        ),
    )
    pressed = press(draft, "cover-under-frost", "bury")
    assert pressed.finding.values["case"] == "surface"
    assert pressed.level == GONE


@pytest.mark.slow
def test_a_demo_s_drive_pipe_is_propped_as_high_as_it_runs(tmp_path: Path) -> None:
    draft = demo_draft(
        tmp_path,
        MovePoint("Ram", (-3.1993, 45.01106)),
        SetValue(("lines", "drive", "propped"), "0.4 m"),
    )
    pressed = press(draft, "drive-off-ground", "prop")
    assert pressed.remedy.words == "Prop it up to 0.77 m"
    assert pressed.level == GONE
    assert not pressed.worse


@pytest.mark.slow
def test_a_supply_is_dug_through_a_ridge_so_that_it_falls_all_the_way(tmp_path: Path) -> None:
    draft = ridge_draft(tmp_path, half=400.0)
    ground = planned(draft).terrain
    for edit in (
        AddPoint("chamber", spot(ground, 0.0, 100.0), "Chamber"),
        AddPoint("pump", spot(ground, 0.0, 112.0), "Ram"),
        MovePoint("Tank", spot(ground, 30.0, -40.0)),
    ):
        draft = edited(draft, edit)
    pressed = press(draft, "reverse-grade", "deepen")
    assert (pressed.finding.level, pressed.finding.line) == ("stop", "supply")
    assert pressed.level == GONE
    assert not pressed.worse
    supply = pressed.after.line("supply")
    assert supply.high_points == ()
    assert supply.profile.depth.max() <= supply.settings.laying.deepest_trench + 1e-6


def test_a_drive_pipe_that_lies_deep_is_let_in_so_deep() -> None:
    plan = TROUBLES["drive-off-ground/dug"]()
    (finding,) = found(plan, "drive-off-ground")
    (remedy,) = remedies(plan, finding)
    assert isinstance(remedy.edit, SetValue)
    assert remedy.edit.path == ("lines", "drive", "deepest_trench")
    assert parse(str(remedy.edit.value), "length") >= float(finding.values["depth_m"])
    assert remedy.words == f"Dig to {remedy.edit.value}, shored"


def test_props_that_an_engineer_must_design_have_no_button() -> None:
    plan = TROUBLES["drive-off-ground/propped"]()
    (finding,) = found(plan, "drive-off-ground")
    high = replace(finding, values={**finding.values, "height_m": 2.1})
    assert remedies(plan, high) == ()


def bump(deeper: float) -> Plan:
    """A delivery with one crest, which goes if its trench is so much deeper."""
    one = drawn("delivery", [0.0, 40.0, 80.0, 120.0], [500.0, 502.0, 501.0, 504.0], start="ram")
    high = replace(one.high_points[0], deeper_m=deeper)
    return only(replace(one, high_points=(high,)))


def trap(plan: Plan) -> Finding:
    (finding,) = found(plan, "air-trap")
    return finding


def deepened(plan: Plan) -> list[str]:
    return [one.words for one in remedies(plan, trap(plan)) if one.key == "deepen"]


def test_it_is_dug_so_deep_as_removes_the_high_point() -> None:
    # Cover 0.4 m, trench 0.8 m; from 502 down to 501 and on: 1.2 m with the least grade of 0.5 %.
    assert deepened(bump(0.9)) == ["Dig to 1.70 m, shored"]
    assert deepened(bump(0.3)) == []  # would not do, whatever was told


def test_rock_is_not_dug() -> None:
    plan = bump(0.9)
    rock = PlacedArea("slabs", "costly", box(30.0, -100.0, 50.0, -80.0), 3.0, 0.6)
    assert deepened(replace(plan, areas=(rock,))) == []
    assert deepened(replace(plan, areas=(replace(rock, shape=box(0, 0, 9, 9)),))) != []


def test_a_high_point_too_high_to_dig_has_no_button() -> None:
    assert deepened(bump(1.6)) == []


def test_what_is_read_on_the_button_is_written() -> None:
    plan = bump(0.9)
    (remedy,) = [one for one in remedies(plan, trap(plan)) if one.key == "deepen"]
    assert remedy.edit == SetValue(("lines", "delivery", "deepest_trench"), "1.70 m")
    feet = site(plan, units="us")
    (remedy,) = [one for one in remedies(feet, trap(feet)) if one.key == "deepen"]
    assert remedy.edit == SetValue(("lines", "delivery", "deepest_trench"), "5.6 ft")


def test_a_drive_pipe_is_no_line_to_be_buried_below_the_frost() -> None:
    plan = site(line("drive"), frost_depth=0.6)
    findings = found(plan, "cover-under-frost")
    assert {one.line for one in findings} >= {"drive", "delivery"}
    assert [remedies(plan, one) for one in findings if one.line == "drive"] == [()]
