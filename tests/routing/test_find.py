"""`find_route` against a plain search over the same moves, and against its own promise."""

import heapq
import itertools

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from shapely.geometry import Point

from planner.errors import NoRoute, OutsideRange
from planner.grade.laying import falling_levels, pipe_levels
from planner.grade.rule import GradeRule
from planner.profile.along import profile_along
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.find import find_route
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.leg import find_leg
from planner.routing.links import links
from planner.routing.stencil import moves
from planner.terrain.sample import cell_centre, ground_at
from planner.terrain.value import Terrain

ROWS, COLS = 6, 8
CELL = (2.0, 3.0)
RULES = [
    GradeRule(),
    GradeRule(lowest=0.02, slack=0.3),
    GradeRule(highest=-0.02, slack=0.3),
    GradeRule(lowest=-0.3, highest=0.25, slack=0.2),
    GradeRule(lowest=0.02, slack=0.3, vent_cost=4.0),
    GradeRule(lowest=0.02, slack=0.0, vent_cost=1.0),
]
# With limits on both sides the search goes beyond sixteen neighbours (test_between.py).
SIXTEEN = [rule for rule in RULES if None in (rule.lowest, rule.highest)]


def plain_optimum(terrain, factor, start, end, rule):
    """Label search without bounds or shortcuts of the kernel's kind: the slow twin."""
    ways = [rule.rising, rule.falling] if rule.vents_allowed else [rule.rising]
    z0 = float(ground_at(terrain, *xy_of(terrain, start)))
    tie = itertools.count()
    heap = [(0.0, next(tie), "start", w, z0 - rule.slack, z0) for w in range(len(ways))]
    settled: dict[tuple[object, int], list[tuple[float, float]]] = {}
    while heap:
        cost, _, node, way, low, high = heapq.heappop(heap)
        if node == "end":
            return cost
        known = settled.setdefault((node, way), [])
        if any(lo <= low + 1e-9 and hi >= high - 1e-9 for lo, hi in known):
            continue
        known.append((low, high))
        for other, steps, band, price in plain_moves(terrain, factor, node, start, end):
            for onward, grades in enumerate(ways):
                bounds = plain_step(steps, band, low, high, grades, rule.slack)
                if bounds is not None:
                    vent = rule.vent_cost if way == 0 and onward == 1 else 0.0
                    heapq.heappush(heap, (cost + vent + price, next(tie), other, onward, *bounds))
    return None


def plain_moves(terrain, factor, node, start, end):
    """Neighbour, steps, levels at the samples, price: links at the ends, moves between cells."""
    if node == "start":
        yield from ((cell, *plain_link(terrain, factor, start, cell)) for cell in around(start))
        return
    for move in moves(16):
        other = (node[0] + move[0], node[1] + move[1])
        if 0 <= other[0] < ROWS and 0 <= other[1] < COLS:
            straight = move[0] == 0 or move[1] == 0
            count = 1 if straight else 2 * int(np.ceil(np.hypot(*move) / 0.5))
            steps, levels = plain_samples(terrain, node, other, count)
            yield other, steps, levels, plain_price(terrain, factor, node, other)
    if node in around(end):
        yield "end", *plain_link(terrain, factor, node, end, "to")


def around(cell):
    rows = range(max(cell[0] - 2, 0), min(cell[0] + 3, ROWS))
    return [(r, c) for r in rows for c in range(max(cell[1] - 2, 0), min(cell[1] + 3, COLS))]


def plain_samples(terrain, node, other, count):
    (x0, y0), (x1, y1) = xy_of(terrain, node), xy_of(terrain, other)
    along = np.arange(1, count + 1) / count
    levels = ground_at(terrain, x0 + (x1 - x0) * along, y0 + (y1 - y0) * along)
    return np.full(count, np.hypot(x1 - x0, y1 - y0) / count), levels


def plain_link(terrain, factor, node, other, towards="from"):
    """Samples by the twin's own rule; the price from `links`, which has a twin of its own."""
    (x0, y0), (x1, y1) = xy_of(terrain, node), xy_of(terrain, other)
    count = max(int(np.ceil(np.hypot(x1 - x0, y1 - y0) / 0.5 - 1e-9)), 1)
    steps, levels = plain_samples(terrain, node, other, count)
    grid = make_grid(make_ground(terrain, 0.0, factor))
    end, cell = (node, other) if towards == "from" else (other, node)
    made = links(grid, xy_of(terrain, end), towards, None)
    return steps, levels, float(made.cost[list(made.node).index(int(grid.node(*cell)))])


def xy_of(terrain, node):
    x, y = cell_centre(terrain, *node)
    return float(x), float(y)


def plain_price(terrain, factor, node, other):
    (x0, y0), (x1, y1) = xy_of(terrain, node), xy_of(terrain, other)
    t = (np.arange(40) + 0.5) / 40
    rows = np.floor(node[0] + (other[0] - node[0]) * t + 0.5).astype(int)
    cols = np.floor(node[1] + (other[1] - node[1]) * t + 0.5).astype(int)
    rise = terrain.z[other] - terrain.z[node]
    return float(np.mean(factor[rows, cols]) * np.hypot(np.hypot(x1 - x0, y1 - y0), rise))


def plain_step(steps, levels, low, high, grades, slack):
    for step, z in zip(steps, levels, strict=True):
        rise = (grades[0] * step, grades[1] * step) if step > 0 else (0.0, 0.0)
        low, high = max(z - slack, low + rise[0]), min(z, high + rise[1])
        if not low <= high + 1e-9:
            return None
    return low, high


def searched(terrain, rule, start, end, factor=None):
    """What the line over the cells costs, None where there is none."""
    ground = make_ground(terrain, rule.slack, factor)
    asked = Asked(rule, Prices(rule.vent_cost))
    try:
        return find_leg(ground, asked, start, end, 16, None).walk.cost
    except NoRoute:
        return None


levels = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 3).map(lambda v: round(v, 1)))
prices = arrays(np.float64, (ROWS, COLS), elements=st.sampled_from([1.0, 1.0, 2.0, 5.0]))


@settings(max_examples=60, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(levels, prices, st.sampled_from(SIXTEEN))
def test_search_equals_its_plain_twin(z, factor, rule):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), CELL, origin=(100.0, 50.0))
    start, end = (1, 1), (4, 6)
    found = searched(terrain, rule, xy_of(terrain, start), xy_of(terrain, end), factor)
    best = plain_optimum(terrain, factor, start, end, rule)
    assert found == (None if best is None else pytest.approx(best, abs=1e-9))


gentle = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 0.8).map(lambda v: round(v, 2)))


@settings(max_examples=60, deadline=None)
@given(gentle, st.sampled_from(RULES))
def test_every_route_keeps_its_rule(z, rule):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), CELL, origin=(100.0, 50.0))
    start, end = (103.1, 46.2), (113.7, 36.9)
    try:
        route = find_route(terrain, start, end, rule)
    except NoRoute:
        return
    assert route.line.coords[0] == pytest.approx(start)
    assert route.line.coords[-1] == pytest.approx(end)
    profile = profile_along(terrain, route.line, step=0.5)
    run, ground = profile.run, profile.ground
    tiny = rule.slack + 0.05  # samples here fall between those of the search
    if rule.vent_cost is not None:
        priced = route.cost - route.length
        highs = pipe_levels(run, ground, tiny, 0.019).highs.size
        assert highs <= round(priced / rule.vent_cost) + 0.01
    elif rule.highest is not None and rule.highest < 0:
        assert falling_levels(run, ground, tiny, 0.019) is not None
    elif rule.lowest is not None and rule.lowest > 0:
        back = ground[::-1].copy()
        assert falling_levels(run[-1] - run[::-1], back, tiny, 0.019) is not None


def plane(grade_x=0.1, rows=60, cols=80):
    return Terrain.from_array(np.tile(grade_x * np.arange(cols), (rows, 1)), 1.0)


def test_a_plane_is_crossed_straight():
    route = find_route(plane(), (5.0, -5.0), (70.0, -50.0), GradeRule(lowest=0.005, slack=0.1))
    straight = np.hypot(65.0, 45.0)
    assert route.length == pytest.approx(np.hypot(straight, 6.5), rel=1e-3)
    assert len(route.line.coords) == 2


def test_a_wall_one_cell_thin_holds_even_on_the_diagonal():
    cost = np.ones((60, 80))
    for k in range(60):
        cost[k, k : k + 2] = np.inf
    cost[:2, :] = 1.0
    route = find_route(plane(), (5.0, -50.0), (70.0, -10.0), GradeRule(), cost)
    assert max(y for _, y in route.line.coords) > -3.0  # it went round by the open top
    cost[:2, :2] = np.inf
    cost[0, :] = cost[1, :] = np.inf
    with pytest.raises(NoRoute) as caught:
        find_route(plane(), (5.0, -50.0), (70.0, -10.0), GradeRule(), cost)
    assert caught.value.obstacle == "closed"


def test_dear_ground_is_walked_round_when_that_is_cheaper():
    cost = np.ones((60, 80))
    cost[10:40, 30:40] = 6.0
    route = find_route(plane(), (10.0, -25.0), (65.0, -25.0), GradeRule(), cost)
    assert max(abs(y + 25.0) for _, y in route.line.coords) > 10.0
    assert route.cost < 55.0 + 50.0


def test_a_hole_is_never_crossed():
    z = np.tile(0.1 * np.arange(80.0), (60, 1))
    z[10:60, 40] = np.nan
    route = find_route(Terrain.from_array(z, 1.0), (5.0, -50.0), (70.0, -50.0), GradeRule())
    assert max(y for _, y in route.line.coords) > -10.0
    z[:, 40] = np.nan
    with pytest.raises(NoRoute) as caught:
        find_route(Terrain.from_array(z, 1.0), (5.0, -50.0), (70.0, -50.0), GradeRule())
    assert caught.value.obstacle == "void"


def test_no_fall_is_told_with_what_is_missing():
    with pytest.raises(NoRoute) as caught:
        find_route(plane(), (5.0, -5.0), (70.0, -5.0), GradeRule(highest=-0.01, slack=0.2))
    assert caught.value.obstacle == "fall"
    assert caught.value.shortfall == pytest.approx(6.5 - 0.2 + 0.65, abs=0.01)


def test_a_bump_between_cells_is_not_jumped():
    z = np.tile(0.1 * np.arange(80.0), (60, 1))
    z[:, 40] += 2.0  # a dyke across the whole land
    terrain = Terrain.from_array(z, 1.0)
    with pytest.raises(NoRoute) as caught:
        find_route(terrain, (5.0, -25.0), (70.0, -25.0), GradeRule(lowest=0.005, slack=0.3))
    assert caught.value.obstacle == "grade"
    vented = GradeRule(lowest=0.005, slack=0.3, vent_cost=30.0)
    route = find_route(terrain, (5.0, -25.0), (70.0, -25.0), vented)
    assert route.cost == pytest.approx(route.length + 30.0, rel=1e-3)


def test_a_detour_is_taken_when_it_is_cheaper_than_a_vent():
    z = np.tile(0.1 * np.arange(80.0), (60, 1))
    z[15:60, 40] += 2.0
    terrain = Terrain.from_array(z, 1.0)
    ends = (5.0, -25.0), (70.0, -25.0)
    dear = find_route(terrain, *ends, GradeRule(lowest=0.005, slack=0.3, vent_cost=30.0))
    assert dear.cost == pytest.approx(dear.length, rel=1e-3)
    cheap = find_route(terrain, *ends, GradeRule(lowest=0.005, slack=0.3, vent_cost=1.0))
    assert cheap.cost == pytest.approx(cheap.length + 1.0, rel=1e-3)


def test_way_points_are_passed_in_order():
    way = ((20.3, -50.1), (50.7, -8.2))
    route = find_route(
        plane(), (5.0, -25.0), (70.0, -25.0), GradeRule(lowest=0.005, slack=0.5), way=way
    )
    at = [route.line.project(point(p)) for p in way]
    assert at == sorted(at)
    assert all(route.line.distance(point(p)) < 1e-9 for p in way)


@pytest.mark.parametrize("way", [[(5.0, -25.0)], [(70.0, -25.0)], [(30.0, -9.0)] * 3])
def test_a_way_point_at_an_end_or_told_twice_changes_nothing(way):
    ends, rule = ((5.0, -25.0), (70.0, -25.0)), GradeRule(lowest=0.005, slack=0.5)
    once = [place for place in dict.fromkeys(way) if place not in ends]
    route = find_route(plane(), *ends, rule, way=way)
    assert route.line.equals(find_route(plane(), *ends, rule, way=once).line)


def point(xy):
    return Point(xy)


@settings(max_examples=25, deadline=None)
@given(levels, st.sampled_from(SIXTEEN), st.floats(-100, 100))
def test_mirror_and_shift_leave_the_cost(z, rule, shift):
    z = z + 0.3 * np.arange(COLS)
    ends = (103.0, 45.5), (113.0, 36.5)
    turned = tuple((x, 2 * 41.0 - y) for x, y in ends)
    costs = []
    for grid, places in ((z, ends), (z + round(shift, 1), ends), (z[::-1], turned)):
        terrain = Terrain.from_array(grid, CELL, origin=(100.0, 50.0))
        costs.append(searched(terrain, rule, *places))
    assert costs[1:] == [None if costs[0] is None else pytest.approx(costs[0], rel=1e-6)] * 2


def test_start_equal_to_end_has_no_line():
    with pytest.raises(NoRoute, match="no length"):
        find_route(plane(), (5.0, -25.0), (5.0, -25.0), GradeRule())


@pytest.mark.parametrize("factor", [0.5, np.nan, -1.0])
def test_a_cost_under_one_is_refused(factor):
    with pytest.raises(OutsideRange):
        find_route(plane(), (5.0, -5.0), (9.0, -9.0), GradeRule(), np.full((60, 80), factor))


def test_an_end_outside_the_data_is_named():
    with pytest.raises(NoRoute) as caught:
        find_route(plane(), (5.0, -5.0), (500.0, -9.0), GradeRule())
    assert caught.value.obstacle == "edge"
