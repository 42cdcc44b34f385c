"""What a button writes into the site file, or takes out of it, and what is left then."""

from pathlib import Path

import pytest

from planner.remedies.table import REMEDIES, remedies
from planner.site.edits.value import (
    AddPoint,
    DeletePoint,
    Edit,
    MovePoint,
    SetArea,
    SetPoint,
    SetValue,
)
from planner.wording.findings import TEXTS
from tests.checks.altered import found, site
from tests.checks.troubles import TROUBLES
from tests.remedies.pressing import GONE, demo_draft, press

SPOT = (-3.1985, 45.0127)
# What is done to the demo, the finding it makes, its button's kind and words.
PRESSED: dict[str, tuple[list[Edit], str, str, str]] = {
    "chamber": (
        [DeletePoint("Settling chamber")], "chamber-placed", "keep", "Put it into the sketch"
    ),
    "second tank": (
        [AddPoint("tank", SPOT, "Old tank")], "not-planned", "take-out", "Take it out"
    ),
    "way point": (
        [AddPoint("way", SPOT, "W", line="main")], "not-planned", "take-out", "Take it out"
    ),
    "gravity": (
        [MovePoint("Tank", (-3.1989, 45.0114))], "pump-not-used", "take-out", "Take it out"
    ),
    "share": (
        [SetValue(("source", "share_left"), "10 %")], "share-left-low", "share", "Leave 30 %"
    ),
    "stalls": (
        [SetValue(("pump", "closing_velocity"), "4 m/s")],
        "ram-stalls",
        "tune",
        "Tune the valve to the flow",
    ),
    "draws": (
        [SetValue(("pump", "closing_velocity"), "1.6 m/s")],
        "ram-draws-more",
        "tune",
        "Tune the valve to the flow",
    ),
    "tank": (
        [SetValue(("need", "per_day"), "2000 L")], "tank-smallest", "tank", "Take a tank of 120 L"
    ),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("name", PRESSED)
def test_the_finding_goes(name: str, tmp_path: Path) -> None:
    edits, code, key, words = PRESSED[name]
    pressed = press(demo_draft(tmp_path, *edits), code, key)
    assert pressed.remedy.words == words
    assert pressed.level == GONE
    assert not pressed.worse


@pytest.mark.slow
def test_a_tank_too_low_is_raised_until_water_comes(tmp_path: Path) -> None:
    draft = demo_draft(tmp_path, MovePoint("Tank", (-3.1984, 45.0125)))
    pressed = press(draft, "outlet-head-low", "raise")
    assert pressed.eased
    assert pressed.after.site.sketch.role("tank")[0].height == pytest.approx(0.6)


def offered(trouble: str) -> list[tuple[str, Edit]]:
    plan = TROUBLES[trouble]()
    code, _, case = trouble.partition("/")
    findings = [one for one in found(plan, code) if one.values.get("case", "") == case]
    assert findings
    return [(one.words, one.edit) for one in remedies(plan, findings[0])]


def test_a_steeper_grade_is_allowed_as_steep_as_it_is() -> None:
    ((words, edit),) = offered("steeper-than-asked")
    assert isinstance(edit, SetValue)
    assert edit.path[-1] == "greatest_grade"
    assert words == f"Allow {edit.value}"


def test_ground_too_hard_to_dig_is_closed() -> None:
    ((words, edit),) = offered("trench-too-shallow")
    assert words == "Lead lines round it"
    assert isinstance(edit, SetArea)
    assert (edit.key, edit.value) == ("role", "avoid")


def test_a_drive_pipe_that_cannot_lie_straight_may_bend_once() -> None:
    assert offered("drive-not-straight") == [
        ("Allow one bend", SetValue(("lines", "drive", "bend"), value=True))
    ]
    assert offered("drive-not-straight/asked") == []


def test_a_tank_too_small_is_given_a_volume_that_does() -> None:
    ((words, edit),) = offered("tank-too-small")
    assert isinstance(edit, SetValue)
    assert words == f"Take a tank of {edit.value}"


def test_a_tank_is_not_raised_onto_a_tower() -> None:
    plan = TROUBLES["outlet-head-low/stop"]()
    (low,) = [one for one in found(plan, "outlet-head-low") if one.level == "stop"]
    (remedy,) = remedies(plan, low)
    assert remedy.edit == SetPoint("tank", "height", "0.80 m")
    feet = site(plan, units="us")
    assert remedies(feet, low)[0].edit == SetPoint("tank", "height", "2.7 ft")
    low.values["short_m"] = 3.1
    assert remedies(plan, low) == ()


def test_every_row_is_of_a_finding_there_is() -> None:
    assert set(REMEDIES) <= {text.partition("/")[0] for text in TEXTS}


@pytest.mark.parametrize("trouble", sorted(TROUBLES))
def test_of_no_plan_in_trouble_a_button_is_empty_or_long(trouble: str) -> None:
    plan = TROUBLES[trouble]()
    for finding in found(plan, trouble.partition("/")[0]):
        for remedy in remedies(plan, finding):
            assert remedy.key
            assert 5 <= len(remedy.words) <= 48
            assert remedy.words[0].isupper()
