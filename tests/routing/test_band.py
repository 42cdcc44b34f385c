"""The band search against every walk and every laying, and against its own symmetries."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from planner.grade.rule import GradeRule
from planner.routing.band import (
    Prices,
    State,
    band_rule,
    find_in_band,
    levels_below,
    one_sided,
    set_out,
)
from planner.routing.band_along import band_cost_along
from planner.routing.band_field import band_field
from planner.routing.band_kernel import Root
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.links import links
from planner.routing.plain import NO_LINKS
from planner.routing.walk import Miss, Walk
from planner.terrain.value import Terrain
from tests.routing.band_twin import Task, cell_ways, every_optimum, link_ways

if TYPE_CHECKING:
    from planner.grade.laying import End

CELL = (2.0, 3.0)
MOST = 16.0  # m of pipe; the twin follows no walk that is longer
RISES = GradeRule(lowest=0.02)
VENTED = GradeRule(lowest=0.02, vent_cost=2.0)
FALLS = GradeRule(highest=-0.02)


def rough(rng, rows, cols, *, holes=False):
    """Land and factors on a few oblong cells, with a band of even or uneven depth."""
    z = rng.random((rows, cols)) * rng.choice([0.5, 1.0, 2.0])
    if holes:
        z[rng.integers(rows), rng.integers(cols)] = np.nan
    slack = rng.choice([0.2, 0.6]) if rng.random() < 0.6 else rng.random((rows, cols)) * 0.6
    terrain = Terrain.from_array(z, CELL, origin=(100.0, 50.0))
    return make_ground(terrain, slack, rng.choice([1.0, 1.0, 2.0], (rows, cols)))


def question(rng):
    """A rule and its prices."""
    grade, dig = float(rng.choice([0.001, 0.02, 0.1])), float(rng.choice([0.0, 3.0, 20.0]))
    vent = float(rng.choice([0.0, 0.5, 2.0, 5.0]))
    vented = GradeRule(lowest=grade, vent_cost=vent), Prices(vent, dig)
    rises, falls = GradeRule(lowest=grade), GradeRule(highest=-grade)
    choices = [(rises, Prices(None, dig)), (falls, Prices(None, dig)), vented, vented]
    return choices[rng.integers(len(choices))]


def centre(ground, row, col):
    west, north = ground.terrain.origin
    return west + (col + 0.5) * CELL[0], north - (row + 0.5) * CELL[1]


def anywhere(rng, ground):
    west, north = ground.terrain.origin
    rows, cols = ground.terrain.shape
    return float(west + rng.random() * cols * CELL[0]), float(north - rng.random() * rows * CELL[1])


def check_field(rng, neighbours):
    """How many cell optima were compared, each open and closed at its start."""
    ground = rough(rng, 3, 4 if neighbours == 32 else 3, holes=rng.random() < 0.2)
    grid = make_grid(ground, neighbours)
    rule, prices = question(rng)
    root = centre(ground, rng.integers(3), rng.integers(3))
    field = band_field(grid, root, rule, prices)
    if field is None:
        assert set_out(ground, root, prices, None) is None
        return 0
    nodes = grid.node(*np.indices(ground.terrain.shape)).ravel()
    cost = np.stack([field.cost(begins)[nodes] for begins in ("open", "closed")], axis=1)
    twin = twin_of(ground, neighbours, rule, prices, root, links(grid, root, "from", None))[:-1]
    near = cost <= MOST
    assert np.all(twin[~near] > MOST - 1e-9)
    assert cost[near] == pytest.approx(twin[near], abs=1e-9)
    return int(near.sum())


def twin_of(ground, neighbours, rule, prices, root, entry, leave=NO_LINKS):
    begun = set_out(ground, root, prices, None)
    assert begun is not None
    grid = make_grid(ground, neighbours)
    return every_optimum(
        cell_ways(ground, neighbours),
        list(link_ways(entry, grid)),
        list(link_ways(leave, grid)),
        (begun.top, begun.level, begun.cost),
        Task(abs(rule.lowest or rule.highest), prices.vent_cost, prices.dig_cost),
        MOST,
    )


@pytest.mark.parametrize("neighbours", [8, 16, 32])
def test_every_cell_has_its_optimum(neighbours):
    rng = np.random.default_rng(neighbours)
    assert sum(check_field(rng, neighbours) for _ in range(5)) > 40


@pytest.mark.slow
@pytest.mark.parametrize("neighbours", [8, 16, 32])
def test_thousands_of_cells_have_their_optimum(neighbours):
    rng = np.random.default_rng(100 + neighbours)
    assert sum(check_field(rng, neighbours) for _ in range(100)) > 1000


def check_line(rng, neighbours):
    """Whether the cheapest line between two places anywhere was within the twin's reach."""
    ground = rough(rng, 3, 3)
    grid = make_grid(ground, neighbours)
    rule, prices = question(rng)
    start, end = anywhere(rng, ground), anywhere(rng, ground)
    begins: End = "closed" if rng.random() < 0.5 else "open"
    found = find_in_band(grid, start, end, rule, prices, begins=begins)
    here, there = (end, start) if rule.lowest is not None else (start, end)
    entry, leave = links(grid, here, "from", there), links(grid, there, "to", None)
    twin = twin_of(ground, neighbours, rule, prices, here, entry, leave)[-1]
    twin = twin[1 if begins == "closed" else 0]
    if isinstance(found, Miss):
        assert twin == np.inf
        return False
    if found.cost > MOST:
        assert twin > MOST - 1e-9
        return False
    assert found.cost == pytest.approx(twin, abs=1e-9)
    assert tuple(found.xy[0]) == start
    assert tuple(found.xy[-1]) == end
    return True


@pytest.mark.parametrize("neighbours", [8, 16])
def test_a_line_between_places_anywhere_is_the_optimum(neighbours):
    rng = np.random.default_rng(20 + neighbours)
    assert sum(check_line(rng, neighbours) for _ in range(5)) > 1


@pytest.mark.slow
@pytest.mark.parametrize("neighbours", [8, 16, 32])
def test_many_lines_between_places_anywhere_are_the_optimum(neighbours):
    rng = np.random.default_rng(200 + neighbours)
    assert sum(check_line(rng, neighbours) for _ in range(60)) > 20


def plain_lowest(ground, neighbours, grade, entry):
    """Lowest level of a pipe that climbs to each cell, each way tried until nothing changes."""
    ways = cell_ways(ground, neighbours)
    level = np.full(len(ways), np.inf)

    def climbed(way, begun):
        for step, top, bottom in zip(way.step, way.top, way.bottom, strict=True):
            begun = max(bottom, begun + grade * step)
            if begun > top + 1e-9:
                return np.inf
        return begun

    for _, way in entry:
        level[way.to] = min(level[way.to], climbed(way, -np.inf))
    changed = True
    while changed:
        changed = False
        for node in np.flatnonzero(np.isfinite(level)):
            for way in ways[node]:
                if (new := climbed(way, level[node])) < level[way.to] - 1e-12:
                    level[way.to], changed = new, True
    return level


@pytest.mark.parametrize("neighbours", [8, 16, 32])
@pytest.mark.parametrize("grade", [0.0, 0.05])
def test_levels_that_still_reach_the_end_are_known(neighbours, grade):
    rng = np.random.default_rng(neighbours)
    for _ in range(5):
        ground = rough(rng, 6, 7, holes=True)
        grid = make_grid(ground, neighbours)
        place = anywhere(rng, ground)
        far = links(grid, place, "from", None)
        rule = band_rule(GradeRule(lowest=grade), Prices(), "open", np.inf)
        free = Root(np.inf, np.array([np.inf, -np.inf]), np.zeros(2))
        below = levels_below(grid, rule, free, far)
        nodes = grid.node(*np.indices(ground.terrain.shape)).ravel()
        level = np.where(below > 0.0, grid.field.top - below + 1.0, np.inf)[nodes]
        twin = plain_lowest(ground, neighbours, grade, link_ways(far, grid))
        assert level == pytest.approx(twin, abs=1e-9)
        assert np.isfinite(twin).any()


def hilly(rng, rows=14, cols=18):
    """Land with hollows and humps of half a metre on a slope."""
    east = np.arange(cols)
    z = 0.06 * east + 0.5 * rng.random((rows, cols))
    factor = np.ones((rows, cols))
    factor[:, 5:12] = rng.choice([1.0, 1.5, 2.0], (rows, 7))  # away from where ends are linked
    return z, factor


def line(grid, start, end, rule, prices, **options) -> Walk:
    """A line that there is."""
    found = find_in_band(grid, start, end, rule, prices, **options)
    assert isinstance(found, Walk)
    return found


def searched(z, factor, start, end, rule, prices, *, cell=CELL, slack=0.4, **options):
    """Cost of the line between two cells, given by row and column."""
    terrain = Terrain.from_array(z, cell)
    grid = make_grid(make_ground(terrain, slack, factor), options.pop("neighbours", 16))
    here, there = (((c + 0.5) * cell[0], -(r + 0.5) * cell[1]) for r, c in (start, end))
    found = find_in_band(grid, here, there, rule, prices, **options)
    return found.cost if isinstance(found, Walk) else np.inf


Array = np.ndarray[Any, np.dtype[Any]]
TURNS: dict[str, Callable[[Array], Array]] = {
    "mirror": lambda grid: grid[:, ::-1],
    "upside": lambda grid: grid[::-1],
    "rotate": np.rot90,
    "transpose": lambda grid: grid.T,
}


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("rule", [RISES, VENTED, FALLS])
def test_turned_land_costs_the_same(turn, rule):
    z, factor = hilly(np.random.default_rng(3))
    prices = Prices(rule.vent_cost, 1.5)
    ends = ((3, 15), (11, 2)) if rule is FALLS else ((11, 2), (3, 15))
    cells = np.arange(z.size).reshape(z.shape)
    turned = [
        tuple(int(i[0]) for i in np.nonzero(TURNS[turn](cells) == cells[end])) for end in ends
    ]
    cell = CELL[::-1] if turn in {"rotate", "transpose"} else CELL
    cost = searched(z, factor, *ends, rule, prices, slack=0.7)
    assert cost < np.inf
    there = TURNS[turn](z), TURNS[turn](factor)
    again = searched(*there, turned[0], turned[1], rule, prices, cell=cell, slack=0.7)
    assert again == pytest.approx(cost)


@pytest.mark.parametrize("rule", [RISES, VENTED])
def test_lifted_land_costs_the_same_and_land_twice_as_large_twice_as_much(rule):
    z, factor = hilly(np.random.default_rng(4))
    prices, ends = Prices(rule.vent_cost, 1.5), ((11, 2), (3, 15))
    cost = searched(z, factor, *ends, rule, prices, slack=0.7)
    assert cost < np.inf
    lifted = searched(z + 1000.0, factor, *ends, rule, prices, slack=0.7)
    assert lifted == pytest.approx(cost, abs=1e-8)
    # A trench twice as deep and as long has four times the section, so its price is halved.
    dear = Prices(rule.vent_cost and 2.0 * rule.vent_cost, 0.75)
    large = (2.0 * CELL[0], 2.0 * CELL[1])
    twice = searched(2.0 * z, factor, *ends, rule, dear, cell=large, slack=1.4)
    assert twice == pytest.approx(2.0 * cost)


def test_a_line_that_rises_is_a_line_that_falls_walked_the_other_way():
    z, factor = hilly(np.random.default_rng(5))
    prices, ends = Prices(None, 1.5), ((11, 2), (3, 15))
    rises = searched(z, factor, *ends, RISES, prices, slack=0.7)
    assert rises < np.inf
    assert searched(z, factor, *ends[::-1], FALLS, prices, slack=0.7) == pytest.approx(rises)


def test_a_vented_line_costs_the_same_both_ways():
    z, factor = hilly(np.random.default_rng(6))
    prices, ends = Prices(2.0, 4.0), ((11, 2), (3, 15))
    there = searched(z, factor, *ends, VENTED, prices)
    assert searched(z, factor, *ends[::-1], VENTED, prices) == pytest.approx(there)


def test_what_is_dearer_or_more_narrow_never_costs_less():
    z, factor = hilly(np.random.default_rng(7))
    ends = ((11, 2), (3, 15))
    costs = [
        searched(z, factor, *ends, VENTED, Prices(vent, dig), slack=slack, begins=begins)
        for vent, dig, slack, begins in [
            (1.0, 0.0, 0.8, "open"),
            (1.0, 2.0, 0.8, "open"),
            (5.0, 2.0, 0.8, "open"),
            (5.0, 2.0, 0.3, "open"),
            (5.0, 2.0, 0.3, "closed"),
        ]
    ]
    assert costs == sorted(costs)
    assert costs[0] < costs[-1]


@pytest.mark.parametrize("rule", [RISES, VENTED])
def test_a_field_and_the_line_to_one_of_its_places_agree(rule):
    """Whole field without any bound against one line with bounds, levels and costs ahead."""
    rng = np.random.default_rng(8)
    z, factor = hilly(rng)
    ground = make_ground(Terrain.from_array(z, CELL), 0.7, factor)
    grid, prices = make_grid(ground, 16), Prices(rule.vent_cost, 2.0)
    end = (29.0, -11.0)
    field = band_field(grid, end, rule, prices)
    assert field is not None
    both: tuple[End, End] = ("open", "closed")
    for begins in both:
        for _ in range(10):
            start = anywhere(rng, ground)
            if np.hypot(start[0] - end[0], start[1] - end[1]) < 9.0:
                continue  # linked to the end itself
            alone = find_in_band(grid, start, end, rule, prices, begins=begins)
            told = field.line(start, begins)
            if isinstance(alone, Miss):
                assert isinstance(told, Miss)
                continue
            assert isinstance(told, Walk)
            assert told.cost == pytest.approx(alone.cost, abs=1e-9)
            assert tuple(told.xy[0]) == start
            assert tuple(told.xy[-1]) == end


def test_ground_too_steep_across_the_trench_is_closed():
    """On a plane that falls to the south a line due east keeps its level, and its side slope."""
    rows, cols = 9, 12
    z = np.tile(-0.3 * CELL[1] * np.arange(rows)[:, None], (1, cols))
    terrain = Terrain.from_array(z, CELL)
    ends = (5.0, -13.5), (19.0, -13.5)
    level = GradeRule(lowest=-0.01)
    for limit, passes in ((0.31, True), (0.29, False)):
        grid = make_grid(make_ground(terrain, 0.1, side_slope=limit), 8)
        assert isinstance(find_in_band(grid, *ends, level, Prices()), Walk) == passes


def test_a_dyke_is_vented_dug_through_or_walked_round_as_prices_are():
    z = np.tile(0.1 * np.arange(40.0), (30, 1))
    z[:24, 20] += 1.0
    ground = make_ground(Terrain.from_array(z, 1.0), 1.5)
    grid, rule = make_grid(ground, 16), GradeRule(lowest=0.01)
    ends = (5.5, -5.5), (35.5, -5.5)
    chosen = {}
    for name, prices in {
        "vent": Prices(1.0, 50.0),
        "dig": Prices(100.0, 0.5),
        "detour": Prices(100.0, 100.0),
    }.items():
        walk = line(grid, *ends, rule, prices)
        along = band_cost_along(ground, rule, prices, walk.xy)
        chosen[name] = (along.vents, along.digging > 0.1, bool(np.min(walk.xy[:, 1]) < -23.0))
    assert chosen == {
        "vent": (1, False, False),
        "dig": (0, True, False),
        "detour": (0, False, True),
    }


def test_the_nearest_miss_is_the_last_cell_a_line_can_come_to():
    z = np.tile(0.1 * np.arange(40.0), (9, 1))
    z[:, 20] += 2.0  # a dyke across the whole land
    grid = make_grid(make_ground(Terrain.from_array(z, 1.0), 0.3), 8)
    ends = (5.5, -4.5), (35.5, -4.5)
    found = find_in_band(grid, *ends, GradeRule(lowest=0.005), Prices())
    assert found == Miss((20.5, -4.5))
    found = find_in_band(grid, *ends[::-1], GradeRule(highest=-0.005), Prices())
    assert isinstance(found, Miss)
    assert found.nearest == (21.5, -4.5)
    z[:, 20] = np.nan
    grid = make_grid(make_ground(Terrain.from_array(z, 1.0), 0.3), 8)
    found = find_in_band(grid, *ends, GradeRule(lowest=0.005), Prices(3.0))
    assert found == Miss((19.5, -4.5))


def test_an_end_on_closed_ground_is_a_miss_without_a_place():
    z = np.tile(0.1 * np.arange(10.0), (9, 1))
    z[4, 8] = np.nan
    grid = make_grid(make_ground(Terrain.from_array(z, 1.0), 0.3), 8)
    assert find_in_band(grid, (2.5, -4.5), (8.5, -4.5), RISES, Prices()) == Miss(None)
    assert isinstance(find_in_band(grid, (8.5, -4.5), (2.5, -4.5), RISES, Prices()), Miss)


def test_a_leg_goes_on_as_the_one_before_it_arrived():
    """The level at a way point is what the legs have in common: the second is held to it."""
    z = np.tile(0.1 * np.arange(40.0), (9, 1))
    z[:, 20:] -= 0.5  # a step down: only a trench on its near side passes it rising
    ground = make_ground(Terrain.from_array(z, 1.0), 0.6)
    grid, rule = make_grid(ground, 8), GradeRule(lowest=0.005)
    start, way, end = (14.5, -4.5), (18.5, -4.5), (30.5, -4.5)
    last = line(grid, way, end, rule, Prices())
    along = band_cost_along(ground, rule, Prices(), last.xy)
    assert along.state is not None
    assert not along.state.climbs
    assert along.state.level < 1.85 - 0.2  # lower than the ground at the way point
    assert isinstance(find_in_band(grid, start, way, rule, Prices(), carried=along.state), Walk)
    below = State(climbs=False, level=1.85 - 0.59)
    steep = GradeRule(lowest=0.1)
    assert isinstance(find_in_band(grid, start, way, steep, Prices()), Walk)
    assert isinstance(find_in_band(grid, start, way, steep, Prices(), carried=below), Walk)
    gentle = make_grid(make_ground(Terrain.from_array(z * 0.0, 1.0), 0.6), 8)
    low = State(climbs=False, level=-0.59)
    assert isinstance(find_in_band(gentle, start, way, steep, Prices()), Walk)
    assert isinstance(find_in_band(gentle, start, way, steep, Prices(), carried=low), Miss)


def test_a_leg_that_turns_where_the_one_before_it_climbed_pays_a_vent():
    z = np.tile(0.1 * np.arange(20.0), (5, 1))
    grid = make_grid(make_ground(Terrain.from_array(z, 1.0), 0.2), 8)
    ends = (4.5, -2.5), (14.5, -2.5)
    rule, prices = GradeRule(lowest=0.05), Prices(7.0)
    free = line(grid, *ends, rule, prices)
    after = line(grid, *ends, rule, prices, carried=State(climbs=True, level=1.3))
    assert after.cost == pytest.approx(free.cost + 7.0)


def test_no_pipe_turns_twice_in_one_place():
    """Too flat to rise for long, too steep to fall over a cell: the line has to step back.

    Seen from the end the land climbs by half the least grade, so that a pipe which climbs as well
    is at the top after 6 m; to sink over the next cell it would have to dig 0.45 m.
    """
    z = np.tile(-0.15 * np.arange(12.0), (1, 1))
    ends = (1.5, -1.5), (34.5, -1.5)
    rule, prices = GradeRule(lowest=0.1), Prices(1.0)
    for slack, steps_back in ((0.3, True), (0.46, False)):
        grid = make_grid(make_ground(Terrain.from_array(z, 3.0), slack), 8)
        east = np.diff(line(grid, *ends, rule, prices).xy[:, 0])
        assert np.all(east != 0.0)
        assert np.any(east < 0.0) == steps_back


def test_rules_with_one_limit_are_known():
    assert one_sided(RISES)
    assert one_sided(VENTED)
    assert one_sided(FALLS)
    assert not one_sided(GradeRule())
    assert not one_sided(GradeRule(lowest=-0.1, highest=0.1))
