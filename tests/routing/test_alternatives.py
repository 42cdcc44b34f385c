"""Routes that differ: by how much, at what price, always the same, fewer where there are none."""

from dataclasses import replace

import numpy as np
import pytest
from shapely.geometry import LineString, box

from planner.routing.alternatives import MOST_COST, MOST_SHARED, find_alternatives, shared
from planner.routing.task import Task, figures_of, laid_along, task_of
from planner.routing.way import Way
from tests.routing.ground import grid, land
from tests.routing.planted import END, PRICED, START, planned, ridge, slope, straight

NEAR = 5.4  # m; 6 % of the 90 m between the ends


@pytest.fixture(scope="module")
def even() -> tuple[Task, Way]:
    return planned(slope(0.05))


def test_three_routes_that_differ_from_the_line_and_from_each_other(
    even: tuple[Task, Way],
) -> None:
    task, way = even
    found = find_alternatives(task, way.laid).found
    assert len(found) == 3
    lines = [LineString(way.laid.profile.xy), *(other.line for other in found)]
    for k, one in enumerate(lines[1:], start=1):
        assert one.coords[0] == pytest.approx(START)
        assert one.coords[-1] == pytest.approx(END)
        apart = [line for place, line in enumerate(lines) if place != k]
        near = min(one.intersection(line.buffer(NEAR)).length / one.length for line in apart)
        assert near <= MOST_SHARED


def test_figures_are_those_of_the_route_laid_at_the_true_prices(even: tuple[Task, Way]) -> None:
    task, way = even
    own = figures_of(task, way.laid)
    for other in find_alternatives(task, way.laid).found:
        laid = laid_along(task, other.line)
        assert laid is not None
        figures = figures_of(task, laid)
        assert figures == other.figures
        assert other.more_m == pytest.approx(figures.cost - own.cost)
        assert figures.cost <= MOST_COST * own.cost
        dug = np.trapezoid(laid.profile.depth - 0.5, laid.profile.run)
        assert figures.digging == pytest.approx(float(dug), abs=1e-6)
        assert figures.cost == pytest.approx(
            laid.profile.length + float(dug) + 30.0 * len(laid.high_points)
        )


def test_the_same_task_gives_the_same_routes_cheapest_first(even: tuple[Task, Way]) -> None:
    task, way = even
    once, again = (find_alternatives(task, way.laid).found for _ in range(2))
    assert [other.line for other in once] == [other.line for other in again]
    assert [o.more_m for o in once] == sorted(o.more_m for o in once)


def test_a_vented_line_beside_a_gap_is_offered_the_way_without_a_vent() -> None:
    task, way = straight(slope(0.05) + ridge(4.0, wide=3.0, gap=22.0))
    reasons = {other.reason: other for other in find_alternatives(task, way.laid).found}
    assert reasons["fewer-vents"].figures.vents == 0


def test_a_corridor_offers_no_other_route_and_the_count_says_so() -> None:
    walls = [box(-1.0, -27.0, 101.0, 1.0), box(-1.0, -61.0, 101.0, -33.0)]
    ground = land(slope(0.05), avoid=walls)
    task = task_of("delivery", ground, (START, END), PRICED)
    laid = laid_along(task, LineString([START, END]))
    assert laid is not None
    offered = find_alternatives(task, laid)
    assert offered.asked == 3
    assert offered.found == ()


def test_closed_ground_stays_closed(even: tuple[Task, Way]) -> None:
    task, way = even
    ground = land(slope(0.05), avoid=[box(30.0, -29.0, 70.0, 0.0)])
    for other in find_alternatives(replace(task, land=ground), way.laid).found:
        assert not other.line.intersects(box(30.5, -28.5, 69.5, 0.0))


def test_a_falling_line_is_offered_falling_ones_only() -> None:
    x, y = grid()
    ground = land(-0.05 * x + 0.2 * np.sin(x / 7.0) * np.cos(y / 9.0))
    task = task_of("supply", ground, (START, END), PRICED, vented=False)
    laid = laid_along(task, LineString([START, END]))
    assert laid is not None
    for other in find_alternatives(task, laid).found:
        assert other.figures.vents == 0
        falling = laid_along(task, other.line)
        assert falling is not None
        assert np.all(np.diff(falling.profile.pipe) < 0.0)


def test_shared_is_a_share_of_the_first_line() -> None:
    line, half = LineString([(0, 0), (10, 0)]), LineString([(0, 0), (5, 0), (5, 9)])
    assert shared(line, [half], 1e-9) == pytest.approx(0.5)
    assert shared(line, [], 1.0) == 0.0
