"""The next pipe by a button: the site planned again with it."""

from pathlib import Path

import pytest

from planner.hydraulics.catalogue import find_pipes
from planner.record.value import Finding, Plan
from planner.remedies.table import remedies
from planner.site.edits.value import SetValue, Several
from tests.checks import works
from tests.checks.altered import found, pipe, site
from tests.checks.troubles import TROUBLES
from tests.remedies.pressing import GONE, ORDER, demo_draft, press

# What is set on the demo, the finding it makes, the button, and what is left of the finding.
PRESSED = {
    "narrow-outlet": ("distribution", "bore", "10 mm", "outlet-head-low", "Use 20 mm PN 16 pipe"),
    "crest": ("distribution", "bore", "8 mm", "crest-above-grade-line", "Use 25 mm PN 12.5 pipe"),
    "weak": ("delivery", "rating", "20 m", "pressure-over-rating", "Use 32 mm PN 10 pipe"),
    "nearly-weak": ("delivery", "rating", "35 m", "pressure-over-rating", "Use 32 mm PN 10 pipe"),
    "breaking": ("distribution", "rating", "9 m", "break-pressure", "Use 32 mm PN 10 pipe"),
    "thin-drive": ("drive", "bore", "20 mm", "drive-length-to-bore", "Use DN 25 steel pipe"),
    "assumed": ("delivery", "bore", "26.6 mm", "bore-assumed", "Keep these bores"),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", PRESSED)
def test_the_pipe_on_the_button_takes_the_finding_away(name: str, tmp_path: Path) -> None:
    role, key, value, code, words = PRESSED[name]
    pressed = press(demo_draft(tmp_path, SetValue(("lines", role, key), value)), code, "pipe")
    assert pressed.remedy.words == words
    assert pressed.level == GONE
    assert not pressed.worse


@pytest.mark.slow
@pytest.mark.parametrize(
    ("key", "value", "code", "case"),
    [
        ("bore", "20 mm", "ram-size", "single"),
        ("bore", "90 mm", "ram-size", "single"),
        ("rating", "40 m", "ram-peak", "blocked"),
    ],
)
def test_a_drive_pipe_of_the_size_wanted_makes_it_milder(
    key: str, value: str, code: str, case: str, tmp_path: Path
) -> None:
    pressed = press(demo_draft(tmp_path, SetValue(("lines", "drive", key), value)), code, "pipe")
    assert pressed.remedy.words == "Use DN 50 steel pipe"
    assert pressed.level == ORDER["note"]
    assert [one.values["case"] for one in pressed.left] == [case]


@pytest.mark.slow
def test_a_narrow_delivery_fits_afterwards(tmp_path: Path) -> None:
    draft = demo_draft(tmp_path, SetValue(("lines", "delivery", "bore"), "12 mm"))
    pressed = press(draft, "delivery-size", "pipe")
    assert [one.values["case"] for one in pressed.left] == ["fits"]


@pytest.mark.slow
def test_us_sizes_where_us_units_are_shown(tmp_path: Path) -> None:
    draft = demo_draft(
        tmp_path, SetValue(("units",), "us"), SetValue(("lines", "delivery", "rating"), "20 m")
    )
    pressed = press(draft, "pressure-over-rating", "pipe")
    assert pressed.remedy.words == "Use 1 in 63 psi pipe"
    assert pressed.level == GONE


def named(plan: Plan, finding: Finding) -> dict[str, object]:
    """Keys of the line that the button sets."""
    (remedy,) = remedies(plan, finding)
    assert isinstance(remedy.edit, Several)
    return {one.path[-1]: one.value for one in remedy.edit.edits if isinstance(one, SetValue)}


def test_a_class_strong_enough_is_named_in_place_of_bore_and_rating() -> None:
    plan = works.pressed(130.0)
    (over,) = found(plan, "pressure-over-rating")
    said = named(plan, over)
    assert (said["bore"], said["rating"], said["roughness"]) == (None, None, None)
    (row,) = find_pipes(
        str(said["pipe"]),
        standard=str(said["standard"]),
        pressure_class=str(said["pressure_class"]),
    )
    assert row.rating >= float(over.values["head_m"])
    assert row.bore * 1.06 >= plan.lines[0].settings.pipe.bore


def test_where_plastic_is_too_weak_steel_is_named_and_where_nothing_bears_it_nothing() -> None:
    plan = site(works.pressed(180.0), units="us")  # the strongest of ASTM D2239 bears 176 m
    (over,) = found(plan, "pressure-over-rating")
    assert named(plan, over)["standard"] == "ASTM A53"
    plan = works.pressed(400.0)
    (over,) = found(plan, "pressure-over-rating")
    assert remedies(plan, over) == ()


def test_a_pipe_of_a_standard_stays_of_it() -> None:
    plan = pipe("main", works.pressed(70.0, rating=50.0), size="1 in", standard="ASTM D3035")
    (over,) = found(plan, "pressure-over-rating")
    assert named(plan, over)["standard"] == "ASTM D3035"


@pytest.mark.parametrize(
    "trouble",
    ["crest-above-grade-line/source", "outlet-head-low/stop", "pipe-classes", "ram-size/single"],
)
def test_no_bore_is_offered_where_none_helps(trouble: str) -> None:
    plan = TROUBLES[trouble]()
    code, _, case = trouble.partition("/")
    findings = [one for one in found(plan, code) if one.values.get("case", "") == case]
    assert findings
    assert [r for one in findings for r in remedies(plan, one) if r.key == "pipe"] == []
