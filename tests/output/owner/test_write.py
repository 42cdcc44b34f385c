"""owner.pdf read back."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from planner.output.owner.write import write_owner
from planner.record.value import OwnerShare, Plan
from tests.output.print import papers
from tests.staked import field_plan

PLANS: dict[str, Callable[[], Plan]] = {
    "ram": papers.ram_plan,
    "ram-us": lambda: papers.ram_plan("us"),
    "gravity": papers.gravity_plan,
    "gravity-us": lambda: papers.gravity_plan("us"),
    "powered": papers.powered_plan,
    "blocked": papers.blocked_plan,
    "hostile": papers.hostile_plan,
    "big": papers.big_plan,
    "no-points": lambda: replace(papers.blocked_plan(), points=()),
}


def owned(plan: Plan, folder: Path) -> Path:
    path = folder / "owner.pdf"
    write_owner(plan, path)
    return path


def text_of(plan: Plan, folder: Path) -> str:
    return papers.pages_of(owned(plan, folder))[0]


@pytest.mark.parametrize("kind", PLANS)
def test_one_page_that_can_be_read(kind: str, tmp_path: Path):
    path = owned(PLANS[kind](), tmp_path)
    assert len(papers.pages_of(path)) == 1
    assert min(papers.sizes_of(path)) >= 9.5


@pytest.mark.parametrize("kind", ["ram", "gravity-us", "hostile"])
def test_the_same_plan_gives_the_same_bytes(kind: str, tmp_path: Path):
    first = owned(PLANS[kind](), tmp_path).read_bytes()
    assert owned(PLANS[kind](), tmp_path).read_bytes() == first


def test_a_gravity_scheme_hears_nothing_of_rams(tmp_path: Path):
    text = text_of(papers.gravity_plan(), tmp_path).casefold()
    assert "main valve" in text
    assert "by its own fall of 12" in text
    for word in (" ram", "beats", "waste valve", "air vessel", "pump"):
        assert word not in text


def test_a_powered_scheme_hears_nothing_of_rams(tmp_path: Path):
    text = text_of(papers.powered_plan(), tmp_path)
    assert "switch on" in text
    assert "air vessel" not in text
    assert "waste valve" not in text


def test_a_ram_is_started_in_its_steps_by_numbered_valves(tmp_path: Path):
    plan = papers.ram_plan()
    text = text_of(plan, tmp_path)
    assert "open the drive valve (1)" in text
    assert "shut the drive valve (1), then the delivery valve (2)" in text
    assert "with a tool and not by finger" in text


def test_normal_readings_are_those_of_the_plan(tmp_path: Path):
    text = text_of(papers.ram_plan(), tmp_path)
    assert "1,700 L/day (1,200 – 2,300)" in text


def test_what_a_big_plan_leaves_out_is_counted(tmp_path: Path):
    text = text_of(papers.big_plan(), tmp_path)
    assert "more: see walk.pdf." in text


def test_untreated_water_is_told_of(tmp_path: Path):
    for make in (papers.ram_plan, papers.gravity_plan, papers.big_plan):
        assert "Untreated water is not drinking water" in text_of(make(), tmp_path)


def test_frost_is_told_only_where_it_freezes(tmp_path: Path):
    plan = papers.gravity_plan()
    assert "rost" not in text_of(plan, tmp_path)
    cold = replace(plan, site=replace(plan.site, frost_depth=0.9))
    text = text_of(cold, tmp_path)
    assert "Before frost" in text
    assert "freezes to 0.9 m" in text


def test_owners_crossings_and_those_named_are_told(tmp_path: Path):
    plan = papers.gravity_plan()
    papers_ = replace(plan.site.papers, told=("The river board at the mill",))
    plan = replace(
        plan,
        site=replace(plan.site, papers=papers_),
        owners=(OwnerShare("main", "A. Field", 120.0), OwnerShare("main", None, 9.0)),
    )
    text = text_of(plan, tmp_path)
    assert "The river board at the mill" in text
    assert "A. Field (120 m)" in text
    assert "Mill Lane" in text
    assert "water authority whether a right is needed" in text


def test_what_is_built_is_told_with_its_date(tmp_path: Path):
    text = text_of(field_plan(), tmp_path)
    assert "partly built" in text
    assert "laid 3 Oct 2026" in text
    assert "air valve on delivery, as laid: chainage 12.5 m from ram" in text


def test_hostile_names_are_text(tmp_path: Path):
    text = text_of(papers.hostile_plan(), tmp_path)
    assert "<b>Mill & Co</b>" in text
