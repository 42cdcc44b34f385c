"""What the terminal shows of a plan: all findings, aligned, within the width, units kept whole."""

import dataclasses
import re
from pathlib import Path

import pytest

from planner.output.sheets.numbering import numbered
from planner.output.summary import line_summary, summary
from planner.record.value import Blocked, Change, Plan
from planner.routing.options import Alternatives
from tests.example import example_plan
from tests.output.weighed import OWN, weighed_plan

FOLDER = Path("plan")


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


@pytest.mark.parametrize("width", [50, 80, 100])
def test_every_finding_stands_there_whole_and_within_the_width(plan: Plan, width: int) -> None:
    lines = summary(plan, FOLDER, width)
    flowed = " ".join(" ".join(lines).split()).replace("To do: ", "")
    for finding in numbered(plan):
        assert f" {finding.number} {finding.message} {finding.remedy}" in flowed
    prose = [line for line in lines if re.match(r" {5}", line)]
    assert prose
    assert max(map(len, prose)) <= width


def test_a_narrow_or_wide_terminal_gets_what_is_easily_read(plan: Plan) -> None:
    assert summary(plan, FOLDER, 3) == summary(plan, FOLDER, 50)
    assert summary(plan, FOLDER, 999) == summary(plan, FOLDER, 100)


@pytest.mark.parametrize("width", range(50, 101))
def test_a_figure_is_never_parted_from_its_unit(plan: Plan, width: int) -> None:
    prose = [line for line in summary(plan, FOLDER, width) if line.startswith("     ")]
    assert not [line for line in prose if re.search(r"[\d±]$", line)]


HEADINGS = r"(\d+) (?:things? stops? the work|warnings?|notes?)"


def test_levels_stand_apart_the_gravest_first(plan: Plan) -> None:
    lines = summary(plan, FOLDER)
    places = [place for place, line in enumerate(lines) if re.fullmatch(HEADINGS, line)]
    levels = [finding.level for finding in plan.findings]
    assert [lines[place].split()[0] for place in places] == [
        str(levels.count(level)) for level in dict.fromkeys(levels)
    ]
    assert len(places) >= 2
    assert all(lines[place - 1] == "" for place in places)


def test_the_lines_stand_in_columns(plan: Plan) -> None:
    rows = [line for line in summary(plan, FOLDER) if re.match(r"  \S+   .* to .*\d m", line)]
    assert len(rows) == len(plan.lines)
    assert len({len(re.sub(r"(?<=\d m)\b.*", "", row)) for row in rows}) == 1


def test_a_plan_without_a_line_says_so_and_promises_no_sheets(plan: Plan) -> None:
    blocked = Blocked("delivery", "delivery", "ram", "tank", "closed", "the bog")
    bare = dataclasses.replace(plan, lines=(), blocked=(blocked,))
    lines = summary(bare, FOLDER)
    assert lines[1] == "No line brings the water where it is wanted yet"
    assert "  delivery   ram to tank      no way found" in lines
    assert "profiles.pdf" not in lines[-1]
    assert "map.html" in lines[-1]


def test_what_measuring_changed_stands_before_the_lines(plan: Plan) -> None:
    gone = Change("high-point/gone", "delivery", 64.0, None)
    lines = summary(dataclasses.replace(plan, changes=(gone,)), FOLDER)
    place = lines.index("What measuring changed")
    assert lines[place + 1].startswith(
        "  The high point of the delivery line at chainage 64.0 m is"
    )
    assert "What measuring changed" not in summary(plan, FOLDER)


def test_a_single_line(plan: Plan) -> None:
    delivery = plan.line("delivery")
    lines = line_summary(delivery, "metric")
    assert "of pipe, rising" in lines[0]
    assert len(lines) == 1 + len(delivery.high_points)
    smooth = dataclasses.replace(delivery, high_points=())
    assert line_summary(smooth, "us")[-1] == "  no high point: it traps no air"
    assert " ft of pipe" in line_summary(smooth, "us")[0]


def test_one_line_for_each_other_route_and_for_what_was_chosen() -> None:
    lines = summary(weighed_plan(), FOLDER, 80)
    at = lines.index("Other routes for delivery, and what they cost more, in pipe")
    rows = lines[at + 1 : at + 5]
    assert [row.split()[0] for row in rows] == ["as", "A", "B", "C"]
    told = "A fewer vents 204 m no vent trench 0.6 m steepest 31 % \u22129 m"
    assert " ".join(rows[1].split()) == told
    assert max(map(len, rows)) <= 80
    assert lines[at + 5] == ""
    text = " ".join(" ".join(lines).split())
    assert "delivery: Vent at chainage" in text
    assert "Next best" in text or "Cheaper" in text
    assert "A detour was not looked for." in text


def test_fewer_routes_than_asked_for_are_told(plan: Plan) -> None:
    line = dataclasses.replace(plan.line("drive"), figures=OWN, alternatives=Alternatives(3, ()))
    text = summary(dataclasses.replace(plan, lines=(line,)), FOLDER, 100)
    assert any("no other route that really differs" in row for row in text)


def test_a_plan_without_other_routes_says_nothing_of_them(plan: Plan) -> None:
    assert not [
        row for row in summary(plan, FOLDER) if row.startswith(("Other routes", "What was"))
    ]
