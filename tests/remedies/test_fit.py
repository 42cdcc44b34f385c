"""Vents and washouts by a button: the finding goes, the fitting stands in plan and site file."""

from pathlib import Path

import pytest

from planner.output.vents import vents_of
from planner.remedies.table import remedies
from planner.site.draft import Draft
from planner.site.edits.apply import edited
from planner.site.edits.value import AddTable, SetValue, Several
from planner.site.fit import Fit
from planner.site.read import site_from_text
from tests.checks.altered import found
from tests.checks.fits import decided
from tests.checks.works import crest, undulating
from tests.remedies.pressing import GONE, demo_draft, press
from tests.site.example import site_text


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Draft:
    return demo_draft(tmp_path_factory.mktemp("demo"))


@pytest.mark.slow
def test_the_demo_s_vent_is_decided_where_its_high_point_is(demo: Draft) -> None:
    pressed = press(demo, "air-trap", "vent")
    assert pressed.remedy.words == "Fit an air valve here"
    assert pressed.level == GONE
    assert not pressed.worse
    line = pressed.after.line("delivery")
    (one,) = line.decided
    assert one.chainage_m == pytest.approx(pressed.finding.chainage_m)
    assert vents_of(line) == {one.index: "air valve"}


@pytest.mark.slow
def test_the_demo_s_washout_is_decided_where_its_low_point_is(demo: Draft) -> None:
    pressed = press(demo, "sag-wont-drain", "washout")
    assert pressed.remedy.words == "Fit a washout here"
    assert pressed.level == GONE
    assert not pressed.worse


@pytest.mark.slow
def test_one_for_a_line_that_is_gone_is_taken_out(demo: Draft) -> None:
    for on in ("main", "delivery"):
        fit = {"line": on, "kind": "vent", "at": [-3.1995, 45.0115]}
        demo = edited(demo, AddTable(("fit",), fit))
    pressed = press(demo, "fit-idle", "take-out")
    assert pressed.finding.values["on"] == "main"
    assert [fit.line for fit in pressed.after.site.fit] == ["delivery"]
    assert len([one for one in pressed.after.findings if one.code == "fit-idle"]) == 1


@pytest.mark.parametrize(
    ("opened", "closed", "words"),
    [
        (508.0, 514.5, ["Fit a standpipe here"]),
        (508.0, 514.6, ["Fit a hand cock here"]),
        (510.0, 520.0, ["Fit an air valve here"]),
        (506.0, 504.9, []),  # the pressure there would draw air in
    ],
)
def test_the_button_names_the_vent_that_suits(
    opened: float, closed: float, words: list[str]
) -> None:
    plan = crest(opened=opened, closed=closed)
    (trap,) = found(plan, "air-trap")
    assert [one.words for one in remedies(plan, trap) if one.key == "vent"] == words


def test_a_high_point_that_needs_no_vent_has_no_button() -> None:
    plan = undulating(120.0)
    assert [r for trap in found(plan, "air-trap") for r in remedies(plan, trap)] == []


def test_an_air_lock_takes_all_the_vents_it_needs_at_once() -> None:
    plan = undulating(100.0)
    (lock,) = found(plan, "air-lock")
    (remedy,) = remedies(plan, lock)
    assert remedy.words == "Fit the vent it needs"
    assert isinstance(remedy.edit, AddTable)
    assert remedy.edit.table["line"] == "main"
    two = undulating(95.6)
    (lock,) = found(two, "air-lock")
    (remedy,) = remedies(two, lock)
    assert remedy.words == "Fit the 2 vents"
    assert isinstance(remedy.edit, Several)
    assert len(remedy.edit.edits) == 2


def test_a_line_that_no_vents_can_start_has_no_button() -> None:
    plan = undulating(100.0, opened=93.0)
    (lock,) = found(plan, "air-lock")
    assert remedies(plan, lock) == ()


def test_the_table_that_is_added_is_read_as_it_is_meant() -> None:
    plan = crest()
    (trap,) = found(plan, "air-trap")
    edit = remedies(plan, trap)[0].edit
    assert isinstance(edit, AddTable)
    draft = edited(Draft(Path("/nowhere"), "hollow.toml", site_text()), edit)
    (fit,) = site_from_text(draft.site, Path("/nowhere")).fit
    assert fit == Fit("delivery", "vent", tuple(edit.table["at"]))


def test_an_idle_one_is_taken_out_by_its_number() -> None:
    plan = decided("vent", on="main")
    (idle,) = found(plan, "fit-idle")
    (remedy,) = remedies(plan, idle)
    assert remedy.edit == SetValue(("fit", "0"), None)
