"""Sections for the page: what a script and a stylesheet need of them, and that figures are true."""

import re
from dataclasses import replace
from typing import NamedTuple
from xml.etree import ElementTree as ET

import numpy as np
import pytest

from planner.live.section_view import sections
from planner.record.value import Line, Plan
from tests.example import example_plan
from tests.output.map.plans import crowded_plan, nasty_plan

FORMATS = ("wide", "medium", "narrow")


class Scale(NamedTuple):
    """Pixels from chainage and level, as a section tells them."""

    left: float
    along: float
    bottom: float
    up: float
    lowest: float
    right: float

    def xy(self, chainage: float, level: float) -> tuple[float, float]:
        return self.left + chainage * self.along, self.bottom - (level - self.lowest) * self.up


def drawn(plan: Plan, line: Line, page: str = "wide") -> ET.Element:
    return ET.fromstring(sections(plan, line)[page])  # noqa: S314  our own text


def scale(svg: ET.Element) -> Scale:
    return Scale(*(float(svg.attrib[f"data-{key}"]) for key in Scale._fields))


def path(svg: ET.Element, kind: str) -> list[tuple[float, float]]:
    """Points of the last path of a class; the first ones may stand in the key."""
    (found,) = svg.findall(f"./path[@class='{kind}']")
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](\S+) (\d+\.\d)", found.attrib["d"])]


@pytest.mark.parametrize("page", FORMATS)
def test_every_line_is_drawn_at_the_scales_it_tells(page: str) -> None:
    plan = example_plan()
    for line in plan.lines:
        svg = drawn(plan, line, page)
        at = scale(svg)
        profile = line.profile
        for kind, levels in (("pipe", profile.pipe), ("ground", profile.ground)):
            first, *_, last = path(svg, kind)
            assert first == pytest.approx(at.xy(0.0, levels[0]), abs=0.06)
            assert last == pytest.approx(at.xy(profile.length, levels[-1]), abs=0.06)
        assert at.right == pytest.approx(at.xy(profile.length, 0.0)[0], abs=0.06)
        assert svg.attrib["data-role"] == line.role


def test_static_level_and_grade_line_are_those_of_the_water() -> None:
    plan = example_plan()
    line = plan.line("delivery")
    water = line.water
    assert water is not None
    svg = drawn(plan, line)
    for kind, levels in (("closed", water.closed_level), ("open", water.open_level)):
        assert path(svg, kind)[-1][1] == pytest.approx(scale(svg).xy(0, levels[-1])[1], abs=0.06)


@pytest.mark.parametrize("page", FORMATS)
def test_rows_of_figures_are_those_of_the_profile(page: str) -> None:
    plan = example_plan()
    line = plan.line("delivery")
    profile, water = line.profile, line.water
    assert water is not None
    svg = drawn(plan, line, page)
    rows: dict[str, list[str]] = {}
    for text in svg.findall("./text"):
        if text.attrib.get("class") == "figure":
            rows.setdefault(text.attrib["y"], []).append(text.text or "")
    chainage, ground, pipe, depth, opened, closed = rows.values()
    last = -1
    assert chainage[last] == f"{profile.length:.1f}"
    assert ground[last] == f"{profile.ground[last]:.2f}"
    assert pipe[last] == f"{profile.pipe[last]:.2f}"
    assert depth[last] == f"{profile.depth[last]:.2f}"
    for row, level in ((opened, water.open_level), (closed, water.closed_level)):
        assert row[last].replace("−", "-") == f"{level[last] - profile.pipe[last]:.1f}"
    for place, at in enumerate(map(float, chainage)):
        laid = np.interp(at, profile.chainage, profile.pipe)
        assert float(pipe[place]) == pytest.approx(laid, abs=0.02)


def test_a_line_without_water_has_no_row_for_it() -> None:
    plan = example_plan()
    dry = replace(plan.line("delivery"), water=None)
    text = sections(plan, dry)["wide"]
    assert "Head, open" not in text
    assert "Depth, m" in text


def test_findings_carry_their_numbers() -> None:
    plan = example_plan()
    numbers = [
        group.attrib["data-number"]
        for group in drawn(plan, plan.line("delivery")).findall("./g[@data-number]")
    ]
    assert numbers == ["1"]
    assert not drawn(plan, plan.line("drive")).findall("./g[@data-number]")


def test_a_line_that_is_dragged_shows_no_findings() -> None:
    plan = example_plan()
    dragged = replace(plan.line("delivery"))
    assert not drawn(plan, dragged).findall("./g[@data-number]")


@pytest.mark.parametrize("make", [nasty_plan, crowded_plan])
def test_names_stay_text_and_any_plan_can_be_drawn(make) -> None:
    plan = make()
    for line in plan.lines:
        for page, text in sections(plan, line).items():
            svg = ET.fromstring(text)  # noqa: S314  our own text
            assert svg.attrib["class"] == f"section {page}"
            assert line.start in svg.attrib["aria-label"]
            assert not list(svg.iter("script"))
            assert not list(svg.iter("img"))


def test_feet_are_stations() -> None:
    plan = example_plan()
    feet = replace(plan, site=replace(plan.site, units="us"))
    text = sections(feet, feet.line("delivery"))["wide"]
    assert "Station, ft" in text
    assert "1+00.0" in text
