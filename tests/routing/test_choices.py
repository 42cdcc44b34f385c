"""Vent, deeper trench or detour: on land where the right choice is known, and what it costs."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString

from planner.profile.along import profile_along
from planner.profile.lay import lay, lay_falling
from planner.routing import other_ways
from planner.routing.choices import choices_of
from planner.routing.options import Choice, Option
from planner.routing.task import Task, routed, task_of
from planner.routing.way import Way
from tests.routing.ground import BURIED, grid, land
from tests.routing.planted import END, PRICED, START, planned, ridge, slope, straight


def only(choices: tuple[Choice, ...], chosen: str) -> Choice:
    found = [choice for choice in choices if choice.chosen == chosen]
    assert len(found) == 1, choices
    return found[0]


def other(choice: Choice, kind: str) -> Option:
    return next(option for option in choice.others if option.kind == kind)


def test_even_land_leaves_nothing_to_choose() -> None:
    task, way = planned(slope(0.05))
    assert choices_of(task, way.laid) == ()


def test_a_long_ridge_takes_a_vent_and_no_detour_is_offered() -> None:
    task, way = planned(slope(0.02) + ridge(3.0))
    choice = only(choices_of(task, way.laid), "vent")
    (high,) = way.laid.high_points
    assert choice.chainage_m == high.chainage_m
    assert choice.price_m == PRICED.vent_cost
    assert choice.detour_weighed
    assert [option.kind for option in choice.others] == ["deeper"]


def test_the_trench_through_a_ridge_is_the_least_and_as_long_as_it_is_dug() -> None:
    task, way = planned(slope(0.02) + ridge(3.0))
    trench = other(only(choices_of(task, way.laid), "vent"), "deeper")
    (high,) = way.laid.high_points
    assert trench.deeper_m == high.deeper_m
    assert trench.deepest_m == pytest.approx(PRICED.deepest_trench + high.deeper_m, abs=0.02)
    # Dug with that much more slack, the line has no high point; with a hair less it has one.
    profile = profile_along(task.land.terrain, way.laid.profile.xy)
    dug = [
        lay(profile, cover=0.5, slack=0.7 + high.deeper_m + more, least=0.005, start="closed")
        for more in (1e-6, -1e-3)
    ]
    assert [len(laid.high_points) for laid in dug] == [0, 1]
    lower = way.laid.profile.pipe - dug[0].profile.pipe
    run = way.laid.profile.run
    assert trench.over_m == pytest.approx(np.ptp(run[lower > 0.02]), abs=1.1)
    section = float(np.trapezoid(lower, run))
    assert trench.more_m == pytest.approx(section * PRICED.dig_cost - PRICED.vent_cost, abs=0.01)


def test_a_low_hump_is_dug_through_and_a_vent_would_cost_more() -> None:
    task, way = planned(slope(0.02) + ridge(0.7))
    assert way.rule_kept
    choice = only(choices_of(task, way.laid), "deeper")
    assert 44.0 < choice.chainage_m < 56.0
    assert choice.deeper_m == pytest.approx(float(way.laid.profile.depth.max()) - 0.5)
    assert 0.2 < choice.deeper_m <= 0.7
    vent = other(choice, "vent")
    assert vent.vents == 1
    assert vent.at_m == pytest.approx(choice.chainage_m, abs=5.0)
    assert 0.0 < vent.more_m < PRICED.vent_cost  # the digging it spares is worth something


def test_a_dyke_with_a_gap_nine_metres_aside_is_gone_round() -> None:
    z = slope(0.05) + ridge(2.0, wide=3.0, gap=9.0)
    task, way = planned(z, ends=((30.0, -30.0), (70.0, -30.0)))
    assert not way.laid.high_points
    choice = only(choices_of(task, way.laid), "detour")
    line = way.laid.profile
    there = int(np.argmin(np.abs(line.xy[:, 0] - 50.0)))
    assert line.xy[there, 1] == pytest.approx(-39.0, abs=3.0)
    assert choice.chainage_m == pytest.approx(line.chainage[there], abs=15.0)
    assert 1.0 < choice.pipe_m < 9.0
    vent, trench = other(choice, "vent"), other(choice, "deeper")
    assert trench.deeper_m > 0.3  # no trench within the limit leads straight through
    assert trench.deepest_m == pytest.approx(1.2 + trench.deeper_m, abs=0.01)
    assert vent.vents == 1
    assert -choice.pipe_m <= vent.pipe_m < 0.0
    assert 0.0 < vent.more_m < PRICED.vent_cost  # the detour was worth its pipe


def test_a_vent_beside_a_gap_is_offered_the_detour_through_it() -> None:
    task, way = straight(slope(0.05) + ridge(4.0, wide=3.0, gap=9.0))
    assert len(way.laid.high_points) == 1
    choice = only(choices_of(task, way.laid), "vent")
    detour = other(choice, "detour")
    assert detour.vents == -1
    assert detour.more_m == pytest.approx(
        detour.pipe_m - PRICED.vent_cost, abs=8.0
    )  # and some digging
    assert detour.more_m < 0.0
    assert choice.others[0] is detour


def test_with_several_high_points_each_detour_leaves_the_others_where_they_are() -> None:
    z = slope(0.05) + ridge(5.0, at=30.0, wide=4.0) + ridge(5.0, at=70.0, wide=3.0, gap=9.0)
    task, way = straight(z)
    assert len(way.laid.high_points) == 2
    first, second = (c for c in choices_of(task, way.laid) if c.chosen == "vent")
    assert all(option.kind != "detour" for option in first.others)
    assert other(second, "detour").vents == -1


def test_detours_are_looked_for_at_the_highest_points_only_and_the_rest_say_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    x, _ = grid()
    z = 0.02 * x + sum(h * np.exp(-(((x - a) / 3.0) ** 2)) for a, h in PEAKS)
    task, way = straight(z)
    assert len(way.laid.high_points) == len(PEAKS)
    searches: list[Task] = []

    def counted(sought: Task) -> LineString | None:
        searches.append(sought)
        return routed(sought)

    monkeypatch.setattr(other_ways, "routed", counted)
    choices = [c for c in choices_of(task, way.laid, detours=2) if c.chosen == "vent"]
    assert [choice.detour_weighed for choice in choices] == [True, False, True, False]
    assert len(searches) <= 4


PEAKS = ((20.0, 5.0), (40.0, 2.0), (60.0, 6.0), (80.0, 2.5))


def test_without_a_price_of_digging_a_trench_comes_last_and_has_no_cost() -> None:
    task, way = straight(slope(0.05) + ridge(4.0, wide=3.0, gap=9.0), BURIED)
    choice = only(choices_of(task, way.laid), "vent")
    assert [option.kind for option in choice.others] == ["detour", "deeper"]
    assert np.isnan(choice.others[1].more_m)


def test_a_line_that_falls_all_the_way_is_offered_no_vent() -> None:
    ground = land(-slope(0.02) + ridge(0.7))
    task = task_of("supply", ground, (START, END), PRICED, vented=False)
    profile = profile_along(ground.terrain, [START, END])
    laid = lay_falling(profile, cover=0.5, slack=0.7, least=0.005)
    assert laid is not None
    choices = choices_of(task, Way(laid, rule_kept=True).laid)
    assert [choice.chosen for choice in choices] == ["deeper"]
    assert all(option.kind == "detour" for option in choices[0].others)


def test_points_the_line_must_pass_stay_on_its_detours() -> None:
    z = slope(0.05) + ridge(4.0, wide=3.0, gap=9.0)
    task, way = straight(z)
    passing = replace(task, via=((50.0, -30.0),))  # on the dyke's very crest
    choice = only(choices_of(passing, way.laid), "vent")
    assert all(option.kind != "detour" for option in choice.others)
