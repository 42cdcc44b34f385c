"""Stakes in words, what came back from the field, and both on the page as text."""

import json
import re
from dataclasses import replace

import pytest

from planner.output.map.brought import built_lines, change_lines, laid_word, station_rows
from planner.output.map.field_marks import drawn_crossings, field_marks
from planner.output.map.make import make_map
from planner.output.map.pegs import peg_digest, peg_lists, peg_marks
from planner.output.stakes.make import stakes_of
from planner.record.value import Plan
from planner.wording.changes import change_sentence
from tests.example import example_plan
from tests.output.map.field_plan import field_plan
from tests.output.map.plans import NASTY, bare_plan
from tests.output.map.test_page import Reader, html_of


def us(plan: Plan) -> Plan:
    return replace(plan, site=replace(plan.site, units="us"))


def signed(moved: str) -> float:
    arrow, _, figure = moved.partition(" ")
    return {"↑": 1.0, "↓": -1.0}[arrow] * float(figure) if figure else float(arrow)


@pytest.mark.parametrize("plan", [example_plan(), us(example_plan())])
def test_falls_since_the_stake_before_add_up_to_the_levels_beside_them(plan: Plan) -> None:
    staked = stakes_of(plan)
    for found in peg_lists(plan, staked):
        first, *rest = found.rows
        assert first.moved == first.walk == ""
        level = float(first.pipe)
        for row in rest:
            level += signed(row.moved)
            assert level == pytest.approx(float(row.pipe), abs=1e-9)
            assert float(row.ground) - float(row.pipe) == pytest.approx(float(row.depth), abs=1e-9)


def test_a_stake_tells_its_way_from_the_one_before_and_the_grade_after() -> None:
    plan = example_plan()
    delivery = next(one for one in peg_lists(plan, stakes_of(plan)) if one.line == "delivery")
    # From ram to tank: 95 m east, 178 m north, in one straight line.
    assert re.fullmatch(r"[\d.]+ m from De 01 at 28°", delivery.rows[1].walk)
    assert delivery.rows[-1].grade == ""
    assert delivery.rows[0].remark.startswith("start: ram")
    assert all(
        re.fullmatch(r"(falls|rises) [\d.]+\N{NO-BREAK SPACE}%|level|", r.grade)
        for r in delivery.rows
    )


def test_feet_are_stations() -> None:
    plan = us(example_plan())
    delivery = next(one for one in peg_lists(plan, stakes_of(plan)) if one.line == "delivery")
    assert "1+00.0" in [row.chainage for row in delivery.rows]
    assert float(delivery.rows[0].ground) == pytest.approx(
        plan.line("delivery").profile.ground[0] / 0.3048, abs=0.006
    )


def test_the_page_holds_each_stake_once_in_words_and_once_in_figures() -> None:
    plan = example_plan()
    staked = stakes_of(plan)
    html = html_of(plan)
    data = json.loads(re.findall(r'id="plan-data">(.*?)</script>', html)[0])
    for one, line in zip(staked, data["lines"], strict=True):
        assert line["stakes"] == peg_marks(one)
        for stake, (name, lat, lon, chainage, _) in zip(one.stakes, line["stakes"], strict=True):
            assert (name, html.count(f'data-stake="{name}"')) == (stake.name, 1)
            assert (lon, lat) == pytest.approx(stake.lonlat, abs=6e-8)
            assert chainage == pytest.approx(stake.chainage_m, abs=0.006)


def test_the_set_of_stakes_is_told_by_names_and_places() -> None:
    plan = example_plan()
    staked = stakes_of(plan)
    assert peg_digest(staked) == peg_digest(stakes_of(replace(plan, findings=plan.findings)))
    wider = replace(
        plan, site=replace(plan.site, papers=replace(plan.site.papers, stake_interval=25.0))
    )
    assert peg_digest(stakes_of(wider)) != peg_digest(staked)
    one = staked[0].stakes[0]
    moved = replace(one, lonlat=(one.lonlat[0] + 1e-5, one.lonlat[1]))
    other = (replace(staked[0], stakes=(moved, *staked[0].stakes[1:])), *staked[1:])
    assert peg_digest(other) != peg_digest(staked)


def test_a_plan_without_lines_has_no_stakes_on_its_page() -> None:
    html = html_of(bare_plan())
    assert 'class="stakes"' not in html
    assert 'data-tool="stakes"' not in html
    assert 'data-tool="here"' in html


def test_what_came_back_is_said() -> None:
    plan = field_plan()
    assert change_lines(plan) == [change_sentence(change, "metric") for change in plan.changes]
    assert station_rows(plan)[0] == ("ram", "497.31", "0.01", "497.19", "level")
    (built,) = built_lines(plan)
    assert built.text == "finished 20 November 2026; laid by the neighbours; pictures: trench.jpg"
    assert built.marks[0][1:] == ("0.45 m", "tee", "tee-1.jpg", "")
    assert [laid_word(line) for line in plan.lines] == [
        "as walked",
        "",
        "",
        "as built, 20 November 2026",
    ]
    seen = " ".join("".join(Reader(html_of(plan)).seen).split())
    for words in (
        *change_lines(plan),
        built.text,
        "as walked",
        "tee-1.jpg",
        "as read",
        "farm track",
    ):
        assert words in seen


def test_marks_of_the_field_stand_where_they_belong() -> None:
    plan = field_plan()
    crossed, *stations, built = field_marks(plan)
    assert (crossed.kind, crossed.text) == ("crossed", "delivery crosses farm track")
    # It lies along its line, 178 m north in 95 m east; angles on paper turn to the right.
    assert crossed.angle == pytest.approx(-61.9, abs=0.1)
    assert [mark.text for mark in stations] == [
        "ram: 497.31 m measured",
        "peg A: 499.02 m measured",
    ]
    assert stations[0].lonlat == pytest.approx(plan.point("ram").lonlat, abs=1e-7)
    assert built.text == "distribution-trough as built: tee, tee-1.jpg"
    (track,) = drawn_crossings(plan)
    assert track.label_at == pytest.approx(track.path.mean(axis=0), abs=1e-6)


def test_names_of_the_field_cannot_inject_markup() -> None:
    plain, nasty = Reader(html_of(field_plan())), Reader(html_of(field_plan(NASTY)))
    assert [tag for tag, _ in plain.tags] == [tag for tag, _ in nasty.tags]
    assert not [a for _, a in nasty.tags if any(name.startswith("on") for name in a)]
    assert not any("</script" in s or "<img" in s for s in nasty.scripts)
    assert f"tee{NASTY}" in "".join(nasty.seen)


def test_the_same_field_gives_the_same_page() -> None:
    assert make_map(field_plan()).get_root().render() == html_of(field_plan())
