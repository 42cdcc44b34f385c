"""Points of a detour that hold the line to it, tried by finding the line again."""

from dataclasses import replace

import pytest
from shapely.geometry import LineString, Point

from planner.profile.lay import Laid
from planner.routing import pins
from planner.routing.choices import choices_of
from planner.routing.delivery import find_delivery
from planner.routing.other_ways import around_vent
from planner.routing.task import Task
from planner.routing.way import Place, Way
from tests.routing.planted import END, PRICED, START, planned, ridge, slope

GAP = 15.0  # m south of the straight line: a way through it takes more digging and pipe
CHEAP = replace(PRICED, vent_cost=3.0)  # so that the vent is cheaper


@pytest.fixture(scope="module")
def beside_gap() -> tuple[Task, Way]:
    return planned(slope(0.05) + ridge(4.0, wide=3.0, gap=GAP), CHEAP)


def test_a_pin_on_the_detour_makes_it_the_line(beside_gap: tuple[Task, Way]) -> None:
    task, way = beside_gap
    assert len(way.laid.high_points) == 1
    detour = around_vent(task, way.laid, 0)
    assert detour is not None
    assert len(detour.pins) == 1
    ((x, y),) = detour.pins
    assert abs(x - 50.0) < 12.0
    assert y == pytest.approx(-30.0 - GAP, abs=6.0)
    found = find_delivery(task.land, START, END, CHEAP, via=detour.pins)
    assert found.laid.high_points == ()
    assert LineString(found.laid.profile.xy).distance(Point(x, y)) < 1e-6
    assert found.laid.profile.length == pytest.approx(
        way.laid.profile.length + detour.pipe_m, rel=0.05
    )


def test_the_choice_carries_them(beside_gap: tuple[Task, Way]) -> None:
    task, way = beside_gap
    told = [o.pins for c in choices_of(task, way.laid) for o in c.others if o.kind == "detour"]
    assert told == [around_vent(task, way.laid, 0).pins]  # type: ignore[union-attr]


def test_a_detour_no_better_when_found_again_has_no_pins(
    beside_gap: tuple[Task, Way], monkeypatch: pytest.MonkeyPatch
) -> None:
    task, way = beside_gap
    asked: list[int] = []

    def found_as_before(again: Task) -> Laid:
        asked.append(len(again.via))
        return way.laid

    monkeypatch.setattr(pins, "_found_again", found_as_before)
    assert around_vent(task, way.laid, 0).pins == ()  # type: ignore[union-attr]
    assert asked == list(pins.PINS)


@pytest.mark.parametrize(
    ("via", "count"), [(((12.0, -31.0),), 1), (((10.0, -30.0), (90.0, -30.0)), 1),
                       (((88.0, -31.0),), 3)]
)  # fmt: skip
def test_points_to_pass_already_keep_their_turn(
    via: tuple[Place, ...], count: int, beside_gap: tuple[Task, Way]
) -> None:
    task = replace(beside_gap[0], via=via)
    laid = find_delivery(task.land, START, END, CHEAP, via=via).laid
    assert len(laid.high_points) == 1
    detour = around_vent(task, laid, 0)
    assert detour is not None
    assert len(detour.pins) == count
    through = tuple(sorted((*via, *detour.pins)))  # the line runs from west to east
    assert find_delivery(task.land, START, END, CHEAP, via=through).laid.high_points == ()


def test_a_line_that_is_its_own_detour_has_none(beside_gap: tuple[Task, Way]) -> None:
    task, way = beside_gap
    assert pins.pins_of(task, way.laid, way.laid) == ()
