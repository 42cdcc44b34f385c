"""Lines of a plan with their choices, and other routes only where they are asked for."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import box

from planner.chain.choices import ROUTED, weigh_lines
from planner.profile.lay import Laid
from planner.profile.value import HighPoint
from planner.record.value import Line, Plan
from planner.routing.land import Land, make_land
from planner.routing.options import Choice
from planner.routing.task import Task
from planner.terrain.value import Terrain
from tests.example import example_plan


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


@pytest.fixture(scope="module")
def lines(plan: Plan) -> tuple[Line, ...]:
    return plan.lines


@pytest.fixture(scope="module")
def open_land(plan: Plan) -> Land:
    return make_land(plan.terrain)


def weighed(
    lines: tuple[Line, ...], inside: Land, everywhere: Land, alternatives: int = 0
) -> tuple[tuple[Line, ...], list[str]]:
    said: list[str] = []
    lands = (inside, everywhere)
    return weigh_lines(
        example_plan().site, lines, lands, said.append, alternatives=alternatives
    ), said


def test_routed_lines_get_figures_and_choices_and_the_others_are_left_alone(
    lines: tuple[Line, ...], open_land: Land
) -> None:
    told, said = weighed(lines, open_land, open_land)
    assert said == [line.name for line in lines if line.role in ROUTED]
    for old, new in zip(lines, told, strict=True):
        assert new.alternatives is None
        if new.role not in ROUTED:
            assert new is old
            continue
        assert new.figures is not None
        assert new.figures.length == old.profile.length
        assert new.figures.vents == len(old.high_points)
        vents = [choice.chainage_m for choice in new.choices if choice.chosen == "vent"]
        assert vents == [high.chainage_m for high in old.high_points]


def test_other_routes_are_found_where_they_are_asked_for(
    lines: tuple[Line, ...], open_land: Land
) -> None:
    short = tuple(line for line in lines if line.role == "distribution")
    (told,), _ = weighed(short, open_land, open_land, alternatives=2)
    assert told.alternatives is not None
    assert told.alternatives.asked == 2
    assert told.alternatives.found
    for other in told.alternatives.found:
        assert other.line.coords[0] == pytest.approx(tuple(told.profile.xy[0]))
        assert other.line.coords[-1] == pytest.approx(tuple(told.profile.xy[-1]))


def test_a_line_off_the_parcel_is_weighed_with_its_border_open(
    lines: tuple[Line, ...], open_land: Land, monkeypatch: pytest.MonkeyPatch
) -> None:
    tasks: list[Task] = []

    def kept(task: Task, _: Laid) -> tuple[Choice, ...]:
        tasks.append(task)
        return ()

    monkeypatch.setattr("planner.chain.choices.choices_of", kept)
    weighed(lines, _parcel(open_land.terrain), open_land)
    fenced = {task.start: bool(np.isinf(task.land.cost).any()) for task in tasks}
    starts = {line.role: tuple(line.profile.xy[0].tolist()) for line in lines}
    assert fenced[starts["delivery"]] is False  # it sets out far below the parcel
    assert fenced[starts["distribution"]] is True


def _parcel(terrain: Terrain) -> Land:
    """Round tank and trough alone."""
    return make_land(terrain, stay=[box(20.0, 0.0, 160.0, 140.0)])


def test_a_supply_may_be_vented_only_where_it_has_rises(
    lines: tuple[Line, ...], open_land: Land, monkeypatch: pytest.MonkeyPatch
) -> None:
    rules: list[bool] = []

    def kept(task: Task, _: Laid) -> tuple[Choice, ...]:
        rules.append(task.rule.vents_allowed)
        return ()

    monkeypatch.setattr("planner.chain.choices.choices_of", kept)
    (supply,) = (line for line in lines if line.role == "supply")
    risen = replace(supply, high_points=(HighPoint(9, 4.5, 4.5, 500.0, 0.1, 0.1),))
    for line in (supply, replace(risen, rule_kept=False)):
        weighed((line,), open_land, open_land)
    assert rules == [False, True]


def test_a_greatest_grade_that_could_not_be_kept_does_not_bar_the_line(
    lines: tuple[Line, ...], open_land: Land, monkeypatch: pytest.MonkeyPatch
) -> None:
    lowest: list[float | None] = []

    def kept(task: Task, _: Laid) -> tuple[Choice, ...]:
        lowest.append(task.rule.lowest)
        return ()

    monkeypatch.setattr("planner.chain.choices.choices_of", kept)
    (supply,) = (line for line in lines if line.role == "supply")
    laying = replace(supply.settings.laying, greatest_grade=0.04)
    limited = replace(supply, settings=replace(supply.settings, laying=laying))
    for rule_kept in (True, False):
        weighed((replace(limited, rule_kept=rule_kept),), open_land, open_land)
    assert lowest == [-0.04, None]
