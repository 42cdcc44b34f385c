"""Levelled ground is told from the elevation data's, on the section and in its key."""

from dataclasses import replace

import numpy as np
import pytest

from planner.levels.value import Levelled, Survey
from planner.output.sheets.draw import arrange, draw_sheet
from planner.output.sheets.ink import drawing
from planner.output.sheets.levelled import levelled_ground, stations_on
from planner.output.sheets.measure import METRIC
from planner.output.sheets.write import sheet_contents
from planner.record.value import Plan
from tests.example import example_plan


def _surveyed() -> Plan:
    """Stations on the delivery at runs 20, 40, 55 and 120 m, and one far from it."""
    plan = example_plan()
    profile = plan.line("delivery").profile
    runs = (20.0, 40.0, 55.0, 120.0)
    x, y, ground = (
        np.interp(runs, profile.run, values).tolist()
        for values in (profile.xy[:, 0], profile.xy[:, 1], profile.ground)
    )
    stations = tuple(
        Levelled(f"P{number}", (east, north), level, 0.01, 0.0, ("level",))
        for number, (east, north, level) in enumerate(
            zip([*x, -150.0], [*y, 140.0], [*ground, 500.0], strict=True)
        )
    )
    return replace(plan, survey=Survey(stations, np.eye(5) * 1e-4, 0.0, 30.0, 0.1, 0.02))


def test_ground_between_near_stations_is_levelled_and_no_other() -> None:
    plan = _surveyed()
    profile = plan.line("delivery").profile
    stations = stations_on(profile, plan.survey)
    assert [round(one.run) for one in stations] == [20, 40, 55, 120]
    known = np.isfinite(levelled_ground(profile, stations))
    runs = profile.run[known]
    assert runs.min() == pytest.approx(20.0, abs=0.8)
    assert runs.max() == pytest.approx(55.0, abs=0.8)


def test_stations_stand_on_the_section_as_triangles_and_in_the_key() -> None:
    plan = _surveyed()
    content = next(sheet for sheet in sheet_contents(plan) if sheet.line.name == "delivery")
    with drawing():
        figure = draw_sheet(content)
        place = arrange(content, "A4", METRIC)[1]
        sheet = next(axes for axes in figure.axes if axes.get_label() == "sheet")
        section = next(axes for axes in figure.axes if axes.get_label() == "section")
        drawn = [
            np.asarray(line.get_xdata())[0] for line in sheet.lines if line.get_gid() == "levelled"
        ]
        words = {text.get_text() for text in sheet.texts}
    stations = stations_on(content.line.profile, plan.survey)
    assert drawn == pytest.approx([float(place.x(one.run)) for one in stations])
    assert any(line.get_gid() == "levelled-ground" for line in section.lines)
    assert "levelled" in words
    assert any(word.startswith("Levels: 5 levelled") for word in words)
