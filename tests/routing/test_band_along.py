"""What a line costs in a band: against every choice of joints, and against the laying of a pipe."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.grade.laying import End, pipe_levels
from planner.grade.rule import GradeRule
from planner.profile.along import samples_along
from planner.routing.band import Prices, State
from planner.routing.band_along import band_cost_along
from planner.routing.ground import band_at, make_ground, price_at
from planner.terrain.value import Terrain
from tests.routing.band_twin import Line, Task, Way

ROWS, COLS = 5, 7
GRADE = 0.03
Array = np.ndarray[Any, np.dtype[Any]]
LINE = np.array([[1.1, -1.3], [5.6, -6.2], [12.9, -5.0]])

land = arrays(np.float64, (ROWS, COLS), elements=st.floats(0.0, 1.5).map(lambda v: round(v, 2)))
factors = arrays(np.float64, (ROWS, COLS), elements=st.sampled_from([1.0, 1.0, 2.0]))
slacks = st.floats(0.0, 1.0).map(lambda v: round(v, 2))
digs, vents = st.sampled_from([0.0, 0.5, 8.0]), st.sampled_from([0.0, 0.3, 2.0])


def ground_of(z, slack, factor=None, cell=(2.0, 1.5)):
    return make_ground(Terrain.from_array(z, cell), slack, factor)


def profile(ground, xy):
    """Steps, levels and factors every quarter cell, by geometry alone."""
    legs = [samples_along(xy[i : i + 2] / ground.terrain.cell, 0.25)[0] for i in range(len(xy) - 1)]
    points = np.vstack([legs[0], *(leg[1:] for leg in legs[1:])]) * ground.terrain.cell
    top, bottom = band_at(ground, points)
    step = np.hypot(*np.diff(points, axis=0).T)
    factor = price_at(ground, (points[1:] + points[:-1]) / 2.0)
    return step, top, bottom, np.broadcast_to(factor, step.shape)


def twin(ground, task, xy, begins, root_level):
    """Cheapest laying with joints at any sample: every pair of joints, levels in closed form."""
    step, top, bottom, factor = profile(ground, xy)
    metres = np.hypot(step, np.diff(top)) * factor
    line = Line(task, top[0], root_level(top[0], bottom[0]), (0.0, 0.0))
    for k in range(step.size):
        way = Way(0, metres[k], factor[k], *(a[k : k + 1] for a in (step, top[1:], bottom[1:])))
        line = line.extended(way)
    closing = task.vent or 0.0 if begins == "closed" else 0.0
    return line.metres + min(line.sunk[-1], line.climbed[-1] + closing)


def free(top: float, bottom: float) -> tuple[float, float]:
    return top, bottom


@settings(max_examples=40, deadline=None)
@given(land, factors, slacks, digs, st.sampled_from(["open", "closed"]), vents)
def test_a_vented_line_is_laid_at_least_cost(z, factor, slack, dig, begins, vent):
    ground = ground_of(z, slack, factor)
    rule, prices = GradeRule(lowest=GRADE, vent_cost=vent), Prices(vent, dig)
    along = band_cost_along(ground, rule, prices, LINE, begins=begins)
    best = twin(ground, Task(GRADE, vent, dig), LINE[::-1], begins, free)
    assert along.cost == pytest.approx(best, abs=1e-9)
    even = band_cost_along(ground_of(z, slack), rule, prices, LINE, begins=begins)
    if np.isfinite(even.cost):  # told apart, its parts make the whole
        parts = even.length + vent * even.vents + dig * even.digging
        assert even.cost == pytest.approx(parts, abs=1e-9)


@settings(max_examples=40, deadline=None)
@given(land, factors, slacks, digs, st.booleans(), st.sampled_from([0.03, 0.2, -0.05]))
def test_a_line_that_rises_or_falls_is_laid_at_least_cost(z, factor, slack, dig, rises, grade):
    z = z + 0.8 * np.arange(COLS)
    ground = ground_of(z if rises else z[:, ::-1].copy(), slack, factor)
    rule = GradeRule(lowest=grade) if rises else GradeRule(highest=-grade)
    along = band_cost_along(ground, rule, Prices(None, dig), LINE)
    walked = LINE[::-1] if rises else LINE
    assert along.cost == pytest.approx(
        twin(ground, Task(grade, None, dig), walked, "open", free), abs=1e-9
    )


@settings(max_examples=60, deadline=None)
@given(land, slacks, st.sampled_from(["open", "closed"]))
def test_where_vents_are_dear_they_are_as_few_as_the_laying_of_a_pipe_has(z, slack, begins: End):
    """The definition of a high point, held by `planner.grade`, and its tie: least digging."""
    ground = ground_of(z, slack)
    rule, prices = GradeRule(lowest=GRADE, vent_cost=1000.0), Prices(1000.0, 1.0)
    along = band_cost_along(ground, rule, prices, LINE, begins=begins)
    step, top, bottom, _ = profile(ground, LINE)
    run = np.concatenate([[0.0], np.cumsum(step)])
    laid = pipe_levels(run, top, top - bottom, GRADE, start=begins)
    if np.any(laid.flat):
        assert along.cost == np.inf
        return
    assert along.vents == laid.highs.size
    depth = top - laid.level
    section = np.sum(0.5 * (depth[1:] + depth[:-1]) * step)
    # At a low point the pieces are priced each on its own level.
    share = np.sum(slack * (step[laid.lows - 1] + step[np.minimum(laid.lows, step.size - 1)]))
    assert section - 0.5 * share - 1e-9 <= along.digging <= section + 1e-9


def test_a_line_is_carried_on_at_the_level_it_came_to():
    z = np.tile(0.1 * np.arange(20.0), (3, 1))
    ground = ground_of(z, 0.5, cell=(1.0, 1.0))
    rule, prices = GradeRule(lowest=0.3), Prices(None, 1.0)
    far, near = np.array([[7.5, -1.5], [9.0, -1.5]]), np.array([[6.0, -1.5], [7.5, -1.5]])
    first = band_cost_along(ground, rule, prices, far)
    assert first.state is not None
    assert not first.state.climbs
    assert first.state.level == pytest.approx(0.85 - 1.5 * 0.3)
    second = band_cost_along(ground, rule, prices, near, carried=first.state)
    whole = band_cost_along(ground, rule, prices, np.vstack([near, far[1:]]))
    assert second.cost == np.inf
    assert whole.cost == np.inf
    rule = GradeRule(lowest=0.2)
    first = band_cost_along(ground, rule, prices, far)
    second = band_cost_along(ground, rule, prices, near, carried=first.state)
    whole = band_cost_along(ground, rule, prices, np.vstack([near, far[1:]]))
    assert first.cost + second.cost == pytest.approx(whole.cost)
    assert second.state == whole.state


def test_a_line_carried_on_climbing_pays_a_vent_to_turn():
    z = np.tile(0.1 * np.arange(20.0), (3, 1))
    ground = ground_of(z, 0.2, cell=(1.0, 1.0))
    rule, prices = GradeRule(lowest=0.05), Prices(4.0, 0.0)
    xy = np.array([[5.5, -1.5], [15.5, -1.5]])
    free_line = band_cost_along(ground, rule, prices, xy)
    after = band_cost_along(ground, rule, prices, xy, carried=State(climbs=True, level=1.4))
    assert (free_line.vents, after.vents) == (0, 1)
    assert after.cost == pytest.approx(free_line.cost + 4.0)


def test_a_line_over_closed_ground_or_a_slope_too_steep_has_no_cost():
    z = np.tile(0.1 * np.arange(20.0), (9, 1))
    z[4, 10] = np.nan
    rule, prices = GradeRule(lowest=-1.0), Prices()
    ground = ground_of(z, 0.2, cell=(1.0, 1.0))
    across = np.array([[5.5, -4.5], [15.5, -4.5]])
    assert band_cost_along(ground, rule, prices, across).cost == np.inf
    beside = across + np.array([0.0, 2.0])
    along = band_cost_along(ground, rule, prices, beside)
    assert along.cost == pytest.approx(np.hypot(10.0, 1.0))
    assert along.length == pytest.approx(along.cost)
    for limit, passes in ((0.11, True), (0.09, False)):
        steep = make_ground(Terrain.from_array(z, 1.0), 0.2, side_slope=limit)
        north = np.array([[5.5, -7.5], [5.5, -1.5]])
        assert np.isfinite(band_cost_along(steep, rule, prices, north).cost) == passes
