"""The search between limits against plain repetition, and on land far steeper than the limit."""

import heapq
import itertools

import numpy as np
import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from planner.grade.rule import GradeRule
from planner.routing import between
from planner.routing.between import find_between, search_over
from planner.routing.follow import cost_along
from planner.routing.grid import make_grid
from planner.routing.ground import band_at, make_ground
from planner.routing.refine import refine
from planner.routing.search_kernel import FOUND, TOO_MANY
from planner.routing.stencil import REACH, moves
from planner.routing.straighten import straighten
from planner.routing.walk import Miss, Walk
from planner.terrain.sample import bilinear, cell_centre
from planner.terrain.value import Terrain
from tests.routing.checker import job_of, rises_between, slope_across, track_of
from tests.routing.graded import (
    BAND,
    asked_of,
    cone,
    deepest_needed,
    kernel_rule,
    length_on,
    part_of,
    plane,
    route,
)

ROWS, COLS, CELL = 5, 7, (2.0, 3.0)
RULES = [
    GradeRule(lowest=-0.3, highest=0.25, slack=0.2),
    GradeRule(lowest=-0.2, highest=0.2, slack=0.4),
    GradeRule(lowest=0.01, highest=0.3, slack=0.3),
    GradeRule(lowest=0.02, highest=0.3, slack=0.3, vent_cost=4.0),
]
levels = arrays(np.float64, (ROWS, COLS), elements=st.floats(0, 2).map(lambda v: round(v, 1)))
prices = arrays(np.float64, (ROWS, COLS), elements=st.sampled_from([1.0, 1.0, 2.0, 5.0]))


def plain_optimum(ground, rule, start, end, neighbours):
    """Cost of the cheapest label at the end, without bounds or sweeps; None if there is none.

    Links join the ends, which stand on cells, to all cells around; moves join cells.
    """
    tie = itertools.count()
    known: dict[object, list[tuple[float, float]]] = {}
    ways = range(rule.ways)
    heap = [
        (rule.begin[w], next(tie), "start", w, rule.low, rule.high)
        for w in ways
        if rule.begin[w] < np.inf
    ]
    while heap:
        cost, _, cell, way, low, high = heapq.heappop(heap)
        if cell == "end":
            return cost
        settled = known.setdefault((cell, way), [])
        if any(lo <= low + 1e-9 and hi >= high - 1e-9 for lo, hi in settled):
            continue
        settled.append((low, high))
        for other, steps, top, bottom, price in plain_moves(ground, cell, start, end, neighbours):
            for onward in ways:
                a, b = rule.grades[2 * onward : 2 * onward + 2]
                bounds = plain_step(steps, top, bottom, (low, high), (a, b))
                if bounds is not None:
                    vent = rule.vent_cost if way == 0 and onward == 1 else 0.0
                    heapq.heappush(heap, (cost + vent + price, next(tie), other, onward, *bounds))
    return None


def plain_moves(ground, cell, start, end, neighbours):
    """Neighbour, steps, band at the samples and price of every way on."""
    reach = REACH[neighbours]
    if cell == "start":
        for other in around(start, reach):
            yield other, *plain_link(ground, start, other)
        if end in around(start, reach):
            yield "end", *plain_link(ground, start, end)
        return
    for row, col in moves(neighbours):
        other = cell[0] + row, cell[1] + col
        if 0 <= other[0] < ROWS and 0 <= other[1] < COLS:
            straight = row == 0 or col == 0
            count = 1 if straight else 2 * int(np.ceil(np.hypot(row, col) / 0.5))
            steps, top, bottom = plain_samples(ground, cell, other, count)
            run = np.hypot(steps.sum(), top[-1] - top[0])
            yield other, steps, top, bottom, run * np.mean(crossed(ground, cell, other, 4000))
    if end in around(cell, reach):
        yield "end", *plain_link(ground, cell, end)


def plain_link(ground, cell, other):
    run = np.hypot(*np.subtract(xy_of(ground.terrain, other), xy_of(ground.terrain, cell)))
    count = max(int(np.ceil(run / (0.25 * min(CELL)) - 1e-9)), 1)
    steps, top, bottom = plain_samples(ground, cell, other, count)
    factor = crossed(ground, cell, other, 500 * count).reshape(count, 500).mean(axis=1)
    return steps, top, bottom, np.sum(factor * np.hypot(steps, np.diff(top)))


def plain_samples(ground, cell, other, count):
    ends = np.array([xy_of(ground.terrain, cell), xy_of(ground.terrain, other)])
    along = np.linspace(0.0, 1.0, count + 1)[:, None]
    top, bottom = band_at(ground, ends[0] + along * (ends[1] - ends[0]))
    return np.full(count, np.hypot(*(ends[1] - ends[0])) / count), top, bottom


def crossed(ground, cell, other, count):
    """Factor of the cell at so many places between two centres."""
    along = (np.arange(count) + 0.5) / count
    r, c = (np.floor(cell[k] + (other[k] - cell[k]) * along + 0.5).astype(int) for k in (0, 1))
    return ground.factor[r, c]


def plain_step(steps, top, bottom, levels, grades):
    low, high = levels
    for step, highest, lowest in zip(steps, top[1:], bottom[1:], strict=True):
        rise = (grades[0] * step, grades[1] * step) if step > 0.0 else (0.0, 0.0)
        low, high = max(lowest, low + rise[0]), min(highest, high + rise[1])
        if not low <= high + 1e-9:
            return None
    return low, high


def xy_of(terrain, cell):
    x, y = cell_centre(terrain, *cell)
    return float(x), float(y)


def around(cell, reach):
    rows = range(max(cell[0] - reach, 0), min(cell[0] + reach + 1, ROWS))
    cols = range(max(cell[1] - reach, 0), min(cell[1] + reach + 1, COLS))
    return list(itertools.product(rows, cols))


@pytest.mark.slow
@settings(max_examples=15, deadline=None, phases=[Phase.explicit, Phase.generate])
@given(levels, prices, st.sampled_from(RULES), st.sampled_from([8, 16]))
def test_the_search_equals_its_plain_twin(z, factor, rule, neighbours):
    # Longer moves are sampled where they enter a patch as well, which the twin does not do.
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), CELL, origin=(100.0, 50.0))
    ground = make_ground(terrain, rule.slack, factor)
    start, end = (1, 0), (3, 6)
    here, there = (xy_of(terrain, cell) for cell in (start, end))
    leg = kernel_rule(ground, rule, here)
    found = search_over(make_grid(ground, neighbours), leg, here, there)
    best = plain_optimum(ground, leg, start, end, neighbours)
    if best is None:
        assert found.status != FOUND
    else:
        assert found.cost == pytest.approx(best, rel=1e-3)  # the twin samples the prices


@settings(max_examples=40, deadline=None)
@given(levels, prices, st.sampled_from(RULES))
def test_thinned_labels_are_real_lines_that_cost_no_less(z, factor, rule):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), CELL)
    ground = make_ground(terrain, rule.slack, factor)
    ends = (1.0, -4.5), (13.0, -10.5)
    leg = kernel_rule(ground, rule, ends[0])
    grid = make_grid(ground, 16)
    exact, thin = (search_over(grid, leg._replace(thin=t), *ends) for t in (0.0, 0.25 * rule.slack))
    if thin.status == FOUND:
        assert exact.status == FOUND
        assert thin.cost >= exact.cost - 1e-9


@settings(max_examples=30, deadline=None)
@given(levels, prices, st.sampled_from(RULES))
def test_what_is_found_keeps_its_rule_along_the_line(z, factor, rule):
    terrain = Terrain.from_array(z + 0.3 * np.arange(COLS), CELL)
    ground = make_ground(terrain, rule.slack, factor)
    ends = (1.0, -4.5), (13.0, -10.5)
    leg = kernel_rule(ground, rule, ends[0])
    walk = find_between(part_of(ground, *ends), leg, *ends)
    if isinstance(walk, Walk):
        assert cost_along(ground, leg, walk.xy)[0] < np.inf


@settings(max_examples=60, deadline=None)
@given(levels, st.data())
def test_refined_ground_is_the_very_same_surface(z, data):
    cost = np.ones((ROWS, COLS))
    cost[2, 3] = np.inf
    slack = 0.1 + 0.05 * z
    ground = make_ground(Terrain.from_array(z, CELL, origin=(100.0, 50.0)), slack, cost)
    ends = (103.0, 45.0), (110.0, 40.0)
    fine = refine(ground, data.draw(st.sampled_from([3, 5])), ends, 10**6)
    place = st.floats(0, 1)
    xy = np.array([[data.draw(place), data.draw(place)] for _ in range(8)])
    xy = np.array([100.5, 36.0]) + xy * [CELL[0] * COLS - 1.0, CELL[1] * ROWS - 1.0]
    for got, want in zip(band_at(fine, xy), band_at(ground, xy), strict=True):
        np.testing.assert_allclose(got, want, atol=1e-9)


def test_refined_ground_holds_both_ends_and_no_more_cells_than_asked_for():
    z = np.random.default_rng(3).normal(size=(80, 120))
    ground = make_ground(Terrain.from_array(z, 1.0), 0.3)
    ends = (20.0, -30.0), (60.0, -50.0)
    fine = refine(ground, 3, ends, 40_000)
    west, south, east, north = fine.terrain.bounds
    assert all(west < x < east and south < y < north for x, y in ends)
    assert fine.terrain.z.size <= 1.3 * 40_000
    x, y = np.random.default_rng(4).uniform(size=(2, 50))
    xy = np.column_stack([west + 1 + x * (east - west - 2), south + 1 + y * (north - south - 2)])
    np.testing.assert_allclose(band_at(fine, xy)[0], band_at(ground, xy)[0], atol=1e-9)


@pytest.mark.parametrize("steeper", [1.25, 2.0, 4.0, 8.0, 12.0])
@pytest.mark.parametrize("degrees", [0, 30])
def test_nothing_is_out_of_reach_for_the_sake_of_the_stencil(degrees, steeper):
    land = plane(degrees, steeper, apart=12.0, aside=0.0, side=61)
    got, _ = route(land)
    assert len(got) <= 8
    assert deepest_needed(land, got) <= BAND + 1e-6
    assert length_on(land, got) <= 1.005 * land.shortest


def test_a_line_round_a_cone_keeps_to_the_cone_itself():
    land = cone(2.0)
    got, _ = route(land)
    assert deepest_needed(land, got) <= BAND
    assert length_on(land, got) <= 1.01 * land.shortest


def rough(slope=0.15, side=90, seed=5):
    """Land with slopes at all scales (spectral synthesis)."""
    k = np.fft.fftfreq(side)
    scale = np.hypot(k[:, None], k[None, :])
    scale[0, 0] = 1.0
    noise = np.random.default_rng(seed).normal(size=(side, side))
    z = np.fft.ifft2(np.fft.fft2(noise) * scale**-2.0).real
    return Terrain.from_array(z * slope / np.hypot(*np.gradient(z)).mean(), 1.0)


@pytest.mark.parametrize("seed", range(4))
def test_lines_on_rough_land_keep_their_rule(seed):
    terrain, rule = rough(seed=seed), GradeRule(lowest=-0.08, highest=0.08, slack=0.3)
    ground = make_ground(terrain, rule.slack, side_slope=0.3)
    x, y = np.random.default_rng(seed).uniform(10, 80, (2, 2))
    start, end = (x[0], -y[0]), (x[1], -y[1])
    leg = kernel_rule(ground, rule, start)
    walk = find_between(part_of(ground, start, end), leg, start, end)
    if isinstance(walk, Miss):
        assert walk.nearest is not None
        return
    for xy in (walk.xy, straighten(ground, asked_of(rule), walk.xy)):
        job = job_of(terrain, start, end, rule, side_slope=0.3)
        track = track_of(job, xy)
        assert rises_between(track, -0.08, 0.08)
        assert np.max(slope_across(job, track)) <= 0.3 + 1e-3


def test_a_search_that_grows_too_large_is_thinned_and_says_so(monkeypatch):
    terrain, rule = rough(), GradeRule(lowest=-0.08, highest=0.08, slack=0.3)
    ground = make_ground(terrain, rule.slack)
    ends = (10.0, -10.0), (80.0, -75.0)
    leg = kernel_rule(ground, rule, ends[0])
    assert search_over(make_grid(ground, 32), leg, *ends, most_labels=500).status == TOO_MANY
    monkeypatch.setattr(between, "EFFORTS", ((500, 0.0, 1.0), (400_000, 0.1, 1.0)))
    walk = find_between(part_of(ground, *ends), leg, *ends)
    assert isinstance(walk, Walk)
    assert not walk.exact
    assert cost_along(ground, leg, walk.xy)[0] < np.inf
    monkeypatch.setattr(between, "EFFORTS", ((500, 0.0, 1.0),))
    with pytest.raises(MemoryError):
        find_between(part_of(ground, *ends), leg, *ends)


def test_a_miss_names_the_cell_nearest_to_the_end():
    z = np.tile(0.02 * np.arange(40.0), (20, 1))
    z[:, 25:] += 3.0  # a step that no pipe climbs
    ground = make_ground(Terrain.from_array(z, 1.0), 0.2)
    ends = (3.5, -10.5), (36.5, -10.5)
    leg = kernel_rule(ground, GradeRule(lowest=-0.1, highest=0.1, slack=0.2), ends[0])
    miss = find_between(part_of(ground, *ends), leg, *ends)
    assert isinstance(miss, Miss)
    assert miss.nearest == pytest.approx((24.5, -10.5), abs=1.0)


def test_the_slack_between_centres_is_that_of_the_ground():
    slack = np.tile(np.linspace(0.1, 0.5, COLS), (ROWS, 1))
    ground = make_ground(Terrain.from_array(np.zeros((ROWS, COLS)), 1.0), slack)
    fine = refine(ground, 3, ((1.0, -1.0), (6.0, -4.0)), 10**6)
    assert fine.slack[7, 4] == pytest.approx(bilinear(slack, np.array(2.0), np.array(1.0)))
