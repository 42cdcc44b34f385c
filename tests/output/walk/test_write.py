"""walk.pdf read back."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from planner.output.stakes.make import stakes_of
from planner.output.walk.write import write_walk
from planner.record.value import Plan
from tests.output.print import papers

PLANS: dict[str, Callable[[], Plan]] = {
    "ram": papers.ram_plan,
    "ram-us": lambda: papers.ram_plan("us"),
    "gravity": papers.gravity_plan,
    "gravity-us": lambda: papers.gravity_plan("us"),
    "powered": papers.powered_plan,
    "blocked": papers.blocked_plan,
    "hostile": papers.hostile_plan,
}


def walked(plan: Plan, folder: Path) -> Path:
    path = folder / "walk.pdf"
    write_walk(plan, stakes_of(plan), path)
    return path


@pytest.mark.parametrize("kind", PLANS)
def test_nothing_is_smaller_than_twelve_points(kind: str, tmp_path: Path):
    assert min(papers.sizes_of(walked(PLANS[kind](), tmp_path))) >= 12.0


@pytest.mark.parametrize("kind", PLANS)
def test_the_same_plan_gives_the_same_bytes(kind: str, tmp_path: Path):
    first = walked(PLANS[kind](), tmp_path).read_bytes()
    assert walked(PLANS[kind](), tmp_path).read_bytes() == first


def test_every_stake_stands_with_its_figures(tmp_path: Path):
    plan = papers.ram_plan()
    whole = " ".join(papers.pages_of(walked(plan, tmp_path)))
    for one in stakes_of(plan):
        for before, stake in zip((None, *one.stakes), one.stakes, strict=False):
            assert stake.name in whole
            assert f"{stake.ground_m:.2f} {stake.pipe_m:.2f}" in whole
            if before is not None:
                moved = round(stake.pipe_m, 2) - round(before.pipe_m, 2)
                word = "falls" if moved < -0.004 else "rises"
                assert abs(moved) < 0.005 or f"{word} {abs(moved):.2f}" in whole


def test_each_page_says_which_line_and_which_page_it_is(tmp_path: Path):
    plan = papers.ram_plan()
    pages = [
        page
        for page in papers.pages_of(walked(plan, tmp_path))
        if "De delivery, walk sheet" in page
    ]
    assert len(pages) > 1
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page
        assert "Measured level m" in page
        assert "Larch Hollow" in page


def test_the_head_tells_pipe_depth_grade_and_high_points(tmp_path: Path):
    plan = papers.gravity_plan()
    first = next(
        page for page in papers.pages_of(walked(plan, tmp_path)) if "Ma main, walk sheet" in page
    )
    assert "32 mm PE, coils of 50.0 m to chainage" in first
    assert "Least cover 0.40 m, trench no deeper than 0.80 m; deepest 0.50 m" in first
    assert "0.50 % is the least" in first
    assert "fit an air valve" in first
    assert "Trenches collapse" in first


def test_us_sheets_measure_in_feet_by_stations(tmp_path: Path):
    plan = papers.ram_plan("us")
    whole = " ".join(papers.pages_of(walked(plan, tmp_path)))
    stake = stakes_of(plan)[0].stakes[0]
    assert "Station ft" in whole
    assert f"{stake.ground_m / 0.3048:.2f}" in whole
    assert " m)" not in whole.split("Level book")[0]


def test_a_gravity_scheme_hears_nothing_of_rams(tmp_path: Path):
    plan = papers.gravity_plan()
    whole = " ".join(papers.pages_of(walked(plan, tmp_path))).casefold()
    assert " ram" not in whole
    assert "beats a minute" not in whole


def test_a_ram_is_measured_beside_its_plan(tmp_path: Path):
    plan = papers.ram_plan()
    ram = plan.water.ram
    assert ram is not None
    whole = " ".join(papers.pages_of(walked(plan, tmp_path)))
    assert f"Beats a minute, counted over 5 {ram.beat.cycle.beats:.0f}" in whole
    assert "[[pump.measured]]" in whole


def test_without_lines_the_forms_are_there_with_the_points(tmp_path: Path):
    plan = papers.blocked_plan()
    pages = papers.pages_of(walked(plan, tmp_path))
    assert "No line to walk yet" in pages[0]
    book = next(page for page in pages if "Level book" in page)
    assert all(point.name in book for point in plan.points)
    assert not any("Pressure tests" in page for page in pages)


def test_hostile_names_are_text(tmp_path: Path):
    whole = " ".join(papers.pages_of(walked(papers.hostile_plan(), tmp_path)))
    assert "<b>Mill & Co</b>" in whole
    assert "□" in whole


def test_letter_and_a4(tmp_path: Path):
    plan = papers.ram_plan()
    wanted = replace(plan.site.papers, paper="Tabloid")
    tabloid = replace(plan, site=replace(plan.site, papers=wanted))
    for one, wide in ((plan, 595.28), (tabloid, 612.0)):
        box = PdfReader(walked(one, tmp_path)).pages[0].mediabox
        assert float(box.width) == pytest.approx(wide, abs=0.01)
