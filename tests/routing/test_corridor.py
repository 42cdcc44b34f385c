"""Corridors: what they prove of the rest of the ground holds, and walls hold in them."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.routing import corridor
from planner.routing.coarse import make_coarse
from planner.routing.corridor import Part, corridors, parts
from planner.routing.grid import make_grid
from planner.routing.ground import Ground, make_ground
from planner.routing.plain import cost_field, find_plain
from planner.routing.walk import Walk
from planner.terrain.value import Terrain
from tests.benchmarks.table import peak_bytes

CELL = (2.0, 3.0)


def rough(rng: np.random.Generator, shape: tuple[int, int]) -> Ground:
    z = np.cumsum(np.cumsum(rng.normal(0.0, 0.2, shape), axis=0), axis=1)
    cost = rng.choice([1.0, 1.0, 1.5, 6.0], shape) * rng.choice([1.0, 1.3])
    cost[rng.random(shape) < 0.05] = np.inf
    return make_ground(Terrain.from_array(z, CELL), 0.2, cost)


def two_ends(rng, ground):
    (r0, c0), (r1, c1) = rng.permutation(np.argwhere(ground.open_cells))[:2]
    return tuple(((c + 0.5) * CELL[0], -(r + 0.5) * CELL[1]) for r, c in ((r0, c0), (r1, c1)))


def by_way_of(ground, neighbours, here, there):
    """(rows, cols) cost of the cheapest line by way of each cell, on the whole ground."""
    grid = make_grid(ground, neighbours)
    rows, cols = np.ogrid[: ground.terrain.shape[0], : ground.terrain.shape[1]]
    total = np.zeros(ground.terrain.shape)
    for end in (here, there):
        cost = cost_field(grid, end).cost[grid.node(rows, cols)]
        total = total + np.where(cost > 0.0, cost, np.inf)
    return total


@given(
    seed=st.integers(0, 99_999),
    side=st.integers(2, 5),
    neighbours=st.sampled_from([8, 16, 32]),
    width=st.floats(1.0, 12.0),
)
@settings(max_examples=25, deadline=None)
def test_what_a_part_proves_holds_on_the_whole(seed, side, neighbours, width):
    rng = np.random.default_rng(seed)
    ground = rough(rng, (int(rng.integers(12, 45)), int(rng.integers(12, 45))))
    here, there = two_ends(rng, ground)
    through = by_way_of(ground, neighbours, here, there)
    best = find_plain(make_grid(ground, neighbours), here, there)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(corridor, "SMALL", 0)
        coarse = make_coarse(ground, side)
        patch.setattr(corridor, "LARGE", 0)
        patch.setattr(corridor, "LEAST_MARGIN", 2.0)
        seen = list(parts(ground, here, there, neighbours, coarse=coarse, width=width))
    assert seen[-1].grid.whole
    assert seen[-1].proves(1e30)
    for part in seen:
        held = np.kron(part.blocks, np.ones((part.side, part.side), dtype=bool))
        held = held[: through.shape[0], : through.shape[1]]
        leaving = np.inf if part.grid.whole else np.min(through[~held], initial=np.inf)
        assert part.straight_outside <= part.outside
        assert part.outside <= leaving + 1e-9
        found = find_plain(part.grid, here, there)
        if isinstance(found, Walk) and part.proves(found.cost):
            assert isinstance(best, Walk)
            assert found.cost == pytest.approx(best.cost, abs=1e-9)


def test_proofs_do_close_before_the_whole_is_searched():
    rng = np.random.default_rng(4)
    z = np.cumsum(rng.normal(0.0, 0.1, (700, 600)), axis=0)
    ground = make_ground(Terrain.from_array(z, 1.0), 0.2)
    here, there = (100.0, -100.0), (420.0, -560.0)
    seen = []
    for part in corridors(ground, make_coarse(ground), here, there, 16):
        found = find_plain(part.grid, here, there)
        assert isinstance(found, Walk)
        seen.append(part.proves(found.cost))
    assert seen[-1]
    near = next(iter(parts(ground, here, (130.0, -140.0), 16)))
    found = find_plain(near.grid, here, (130.0, -140.0))
    assert isinstance(found, Walk)
    assert not near.grid.whole
    assert near.proves(found.cost)


def first_corridor(ground: Ground, here, there) -> Part:
    return next(iter(corridors(ground, make_coarse(ground), here, there, 16)))


def walled(angle: str, at: int, thick: int, gap: int) -> Ground:
    cost = np.ones((560, 560))
    rows, cols = np.indices(cost.shape)
    along, across = {
        "across": (cols, rows),
        "down": (rows, cols),
        "oblique": (cols, rows + (cols + 1) // 2 - 140),
        "diagonal": (cols, rows + cols - 280),
    }[angle]
    cost[(across >= at) & (across < at + thick)] = np.inf
    opened = (along == gap) & (across > at - 3) & (across < at + thick + 3)
    cost[opened] = 1.0
    return make_ground(Terrain.from_array(np.zeros(cost.shape), 1.0), 0.1, cost)


@pytest.mark.parametrize("angle", ["across", "down", "oblique", "diagonal"])
@pytest.mark.parametrize(
    ("at", "thick"), [(280, 1), (287, 1), (283, 1), (279, 4), (286, 5), (270, 21)]
)
def test_the_only_gap_in_a_wall_is_in_the_first_corridor(angle, at, thick):
    ground = walled(angle, at, thick, 411)
    here, there = (80.0, -150.0), (150.0, -430.0)
    if angle == "down":
        here, there = (150.0, -80.0), (430.0, -150.0)
    best = find_plain(make_grid(ground, 16), here, there)
    assert isinstance(best, Walk)
    found = find_plain(first_corridor(ground, here, there).grid, here, there)
    assert isinstance(found, Walk)
    assert found.cost == pytest.approx(best.cost, rel=1e-3)


@pytest.mark.parametrize("angle", ["across", "down", "oblique", "diagonal"])
def test_a_wall_without_a_gap_holds_in_every_part(angle):
    ground = walled(angle, 281, 1, 9999)
    here, there = (80.0, -60.0), (450.0, -500.0)
    for part in corridors(ground, make_coarse(ground), here, there, 16):
        assert not isinstance(find_plain(part.grid, here, there), Walk)


def test_a_corridor_between_two_walls_narrower_than_a_block_is_found():
    cost = np.full((560, 560), np.inf)
    cost[30:60, :] = 1.0
    cost[500:530, :] = 1.0
    rows, cols = np.indices(cost.shape)
    cost[np.abs(rows - cols) < 2] = 1.0
    ground = make_ground(Terrain.from_array(np.zeros(cost.shape), 1.0), 0.1, cost)
    here, there = (500.0, -45.0), (20.0, -515.0)
    assert isinstance(find_plain(first_corridor(ground, here, there).grid, here, there), Walk)


def test_ends_off_the_land_or_in_a_closed_block_leave_only_the_whole():
    ground = make_ground(Terrain.from_array(np.zeros((600, 600)), 1.0), 0.1)
    assert list(corridors(ground, make_coarse(ground), (10.0, -10.0), (900.0, -500.0))) == []


def test_small_ground_is_searched_as_it_is():
    ground = make_ground(Terrain.from_array(np.zeros((300, 400)), 1.0), 0.1)
    assert [part.kind for part in parts(ground, (1.0, -1.0), (350.0, -250.0))] == ["whole"]


def test_larger_ground_first_around_the_ends_or_in_corridors():
    ground = make_ground(Terrain.from_array(np.zeros((600, 700)), 1.0), 0.1)
    near, far = (1.0, -1.0), (650.0, -550.0)
    assert [part.kind for part in parts(ground, near, (60.0, -50.0))] == ["near", "whole"]
    assert [part.kind for part in parts(ground, near, far)] == ["whole"]
    assert [part.kind for part in parts(ground, near, far, whole=400_000)] == [
        "corridor",
        "corridor",
        "whole",
    ]


def corridor_of_nine_million():  # run in a process of its own
    small = make_ground(Terrain.from_array(np.zeros((600, 600)), 1.0), 0.1)
    for part in corridors(small, make_coarse(small), (20.0, -20.0), (580.0, -570.0)):
        find_plain(part.grid, (20.0, -20.0), (580.0, -570.0))
        part.proves(1e9)
    z = np.add.outer(np.sin(np.arange(3000) / 50.0), np.cos(np.arange(3000) / 70.0))
    ground = make_ground(Terrain.from_array(z, 1.0), 0.1)

    def search():
        ends = (100.0, -200.0), (2900.0, -2700.0)
        part = first_corridor(ground, *ends)
        found = find_plain(part.grid, *ends)
        assert isinstance(found, Walk)
        return part.proves(found.cost), part

    return search


@pytest.mark.slow
def test_a_corridor_takes_memory_for_itself_alone():
    # The whole takes 24 bytes a cell for its arrays and 9 for each of three searches: 460 MB. A
    # corridor takes whole pages, 512 cells of each row it crosses.
    assert peak_bytes(__name__, "corridor_of_nine_million") < 200e6
