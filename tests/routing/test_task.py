"""Figures of a laid line: by hand on even land, dear ground charged where it is crossed."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, box

from planner.profile.along import chainage_of
from planner.routing.task import Task, figures_of, laid_along, slack_along, task_of
from tests.routing.ground import land
from tests.routing.planted import END, PRICED, START, ridge, slope

STRAIGHT = LineString([START, END])


def task_on(z: np.ndarray, **areas: object) -> Task:
    return task_of("delivery", land(z, **areas), (START, END), PRICED)


def test_on_an_even_slope_the_figures_are_those_of_a_straight_pipe() -> None:
    task = task_on(slope(0.1))
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    figures = figures_of(task, laid)
    assert figures.length == pytest.approx(90.0 * np.hypot(1.0, 0.1))
    assert figures.cost == pytest.approx(figures.length)
    assert figures.steepest == pytest.approx(0.1)
    assert figures.depth == pytest.approx(0.5)
    assert figures.vents == 0
    assert figures.digging == pytest.approx(0.0, abs=1e-9)


def test_vents_and_digging_have_their_price() -> None:
    task = task_on(slope(0.02) + ridge(3.0))
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    figures = figures_of(task, laid)
    assert figures.vents == 1
    assert figures.cost == pytest.approx(figures.length + figures.digging + 30.0)
    dear = replace(task, laying=replace(PRICED, dig_cost=3.0))
    assert figures_of(dear, laid).cost == pytest.approx(figures.cost + 2.0 * figures.digging)


def test_dear_ground_is_charged_where_it_is_crossed() -> None:
    task = task_on(slope(0.02), costly=[(box(40.0, -60.0, 60.0, 0.0), 3.0, None)])
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    dear = float(np.sum(task.land.cost[30] > 1.0))  # cells a metre wide, crossed straight
    assert figures_of(task, laid).cost == pytest.approx(laid.profile.length + 2.0 * dear, abs=0.2)


def test_a_crossing_costs_its_price_whatever_its_angle() -> None:
    road = LineString([(40.0, 5.0), (60.0, -65.0)])
    task = task_on(slope(0.02), crossings=[(road, 20.0)])
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    assert figures_of(task, laid).cost == pytest.approx(laid.profile.length + 20.0, rel=0.15)


def test_a_bump_of_the_data_is_no_steep_pipe() -> None:
    task = task_on(slope(0.02))
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    pipe = laid.profile.pipe.copy()
    pipe[60] += 0.3
    profile = replace(laid.profile, pipe=pipe, chainage=chainage_of(laid.profile.run, pipe))
    assert figures_of(task, replace(laid, profile=profile)).steepest < 0.13


def test_slack_is_that_of_the_ground_along_the_line() -> None:
    rock = (box(40.0, -60.0, 60.0, 0.0), 1.0, 0.6)
    task = task_on(slope(0.02), costly=[rock])
    laid = laid_along(task, STRAIGHT)
    assert laid is not None
    slack = slack_along(task, laid.profile)
    inside = (laid.profile.xy[:, 0] > 41.0) & (laid.profile.xy[:, 0] < 59.0)
    assert slack[inside] == pytest.approx(0.1)
    assert slack[0] == pytest.approx(0.7)


def test_a_falling_line_is_laid_falling_or_not_at_all() -> None:
    for z, fits in ((-slope(0.02), True), (slope(0.02), False)):
        task = task_of("supply", land(z), (START, END), PRICED, vented=False)
        assert (laid_along(task, STRAIGHT) is not None) is fits


def test_bends_are_counted_and_priced() -> None:
    task = task_on(slope(0.02))
    line = LineString([START, (30.0, -20.0), (60.0, -40.0), (60.1, -40.05), END])
    laid = laid_along(task, line)
    assert laid is not None
    figures = figures_of(task, laid)
    assert figures.bends == 3
    dear = replace(task, laying=replace(PRICED, bend_cost=2.0))
    assert figures_of(dear, laid).cost == pytest.approx(figures.cost + 6.0)
    straight = laid_along(task, STRAIGHT)
    assert straight is not None
    assert figures_of(task, straight).bends == 0
