"""One route over large land, with a trench of 0.2 m and vents, in a corridor: time, memory, gap.

The corridor is 96 cells wide in the mean; land is rough at all scales. "From the terrain" counts in
all that is read of it: blocks of cells, the corridor, its grid. The gap is that to the search of
the whole, over several pairs of ends.
"""

import subprocess
import sys
from collections.abc import Iterator

import numpy as np
import pytest

from planner.grade.rule import GradeRule
from planner.routing.band import Prices, find_in_band
from planner.routing.coarse import make_coarse
from planner.routing.corridor import WIDTH, corridors
from planner.routing.find import find_route
from planner.routing.grid import Grid, make_grid
from planner.routing.ground import Ground, make_ground
from planner.routing.stencil import Neighbours
from planner.routing.walk import Place, Walk
from planner.terrain.value import FloatArray, Terrain
from tests.benchmarks.table import Row, medians_of, peak, peak_bytes
from tests.benchmarks.test_field_speed import CELL, Call, rough_land

SLACK, VENT = 0.2, 30.0  # m, m of pipe
RULE = GradeRule(lowest=0.005, slack=SLACK, vent_cost=VENT)
PRICES = Prices(VENT)
TILE = 2500  # cells; larger land repeats a piece of it, on long waves
WAVES = ((5100.0, 7300.0), (8900.0, 4700.0))  # cells
STEEP = 0.1
PAIRS = 4
SECONDS = {4_000_000: 0.5, 25_000_000: 1.5, 100_000_000: 6.0}
MOST_MEMORY = 3e9  # bytes, of the whole process, at 100 million cells


def land(cells: int) -> FloatArray:
    """Rough land [m], made without the memory that waves of all lengths would take."""
    if cells <= TILE**2:
        return rough_land(cells)
    side = int(np.sqrt(cells))
    piece, z = rough_land(TILE**2), np.empty((side, side))
    for row in range(0, side, TILE):
        for col in range(0, side, TILE):
            part = z[row : row + TILE, col : col + TILE]
            part[:] = piece[: part.shape[0], : part.shape[1]]
    for down, along in WAVES:
        high = STEEP * CELL * min(down, along) / (2.0 * np.pi)
        wave = np.sin(2.0 * np.pi * np.arange(side) / along)
        for row in range(side):
            z[row] += high * np.cos(2.0 * np.pi * row / down) * wave
    return z


def ends(cells: int, pair: int = 0) -> tuple[Place, Place]:
    """Two places far apart, turned about the middle from pair to pair."""
    size = int(np.sqrt(cells)) * CELL
    turn = 0.7 + 1.3 * pair
    away = 0.42 * size * np.array([np.cos(turn), np.sin(turn)])
    middle = np.array([0.5, -0.5]) * size
    here, there = middle + away, middle - away
    return (float(here[0]), float(here[1])), (float(there[0]), float(there[1]))


def ground_of(z: FloatArray) -> Ground:
    return make_ground(Terrain(z, (CELL, CELL)), SLACK)


def in_corridor(ground: Ground, pair: int, neighbours: Neighbours) -> Walk:
    """The line in the first corridor, from the terrain."""
    here, there = ends(ground.terrain.z.size, pair)
    coarse = make_coarse(ground, vent_cost=VENT)
    part = next(iter(corridors(ground, coarse, here, there, neighbours)))
    return in_grid(part.grid, here, there)


def in_grid(grid: Grid, here: Place, there: Place) -> Walk:
    found = find_in_band(grid, here, there, RULE, PRICES)
    assert isinstance(found, Walk)
    return found


def warm(neighbours: Neighbours) -> None:
    in_corridor(ground_of(rough_land(250_000)), 0, neighbours)


def search(cells: int, neighbours: Neighbours) -> Call:
    """The search in a corridor, for the memory it takes."""
    warm(neighbours)
    ground = ground_of(land(cells))
    return lambda: in_corridor(ground, 0, neighbours)


def gaps(ground: Ground, neighbours: Neighbours) -> list[float]:
    """By how much the line in the corridor costs more than the best, pair by pair [%]."""
    grid = make_grid(ground, neighbours)
    found = []
    for pair in range(PAIRS):
        best = in_grid(grid, *ends(ground.terrain.z.size, pair)).cost
        found.append(100.0 * (in_corridor(ground, pair, neighbours).cost / best - 1.0))
    return found


def rows(cells: int) -> Iterator[Row]:
    """The corridor against the whole, over 8 and 16 neighbours."""
    ground = ground_of(land(cells))
    both: tuple[Neighbours, ...] = (8, 16)
    for neighbours in both:
        grid = make_grid(ground, neighbours)
        seconds = medians_of(
            {
                "corridor": lambda n=neighbours: in_corridor(ground, 0, n),  # type: ignore[misc]
                "whole": lambda grid=grid: in_grid(grid, *ends(cells)),  # type: ignore[misc]
            },
            3,
        )
        gap = gaps(ground, neighbours)
        what = (
            f"route, band and vents, corridor of {WIDTH:g} cells; "
            f"gap {np.mean(gap):.2f} %, at most {max(gap):.2f} %"
        )
        size = peak_bytes(__name__, "search", cells, neighbours) / cells
        ratio = seconds["whole"] / seconds["corridor"]
        yield Row(what, cells, neighbours, seconds["corridor"], ratio, "the whole", size)


def growth() -> Iterator[Row]:
    """The corridor alone, from a quarter of a million to 25 million cells."""
    for cells in (250_000, 1_000_000, 4_000_000, 9_000_000, 25_000_000):
        ground = ground_of(land(cells))
        seconds = medians_of({"": lambda ground=ground: in_corridor(ground, 0, 8)}, 3)[""]  # type: ignore[misc]
        yield Row("route in a corridor, band and vents", cells, 8, seconds)


@pytest.mark.benchmark
@pytest.mark.timeout(0)
@pytest.mark.parametrize("cells", [4_000_000, 25_000_000, 100_000_000])
def test_a_route_in_a_corridor_keeps_its_time(cells: int) -> None:
    warm(8)
    ground = ground_of(land(cells))
    assert medians_of({"": lambda: in_corridor(ground, 0, 8)}, 3)[""] <= SECONDS[cells]


def print_whole_process(cells: int) -> None:
    """Run all of `find_route` on large land and print the greatest memory of the process."""
    terrain = Terrain(land(cells), (CELL, CELL))
    route = find_route(terrain, *ends(cells), RULE)
    print(route.length, peak())  # noqa: T201 - read by the test


@pytest.mark.benchmark
@pytest.mark.timeout(0)
def test_a_hundred_million_cells_fit_in_three_gigabytes() -> None:
    code = f"from {__name__} import print_whole_process; print_whole_process(100_000_000)"
    done = subprocess.run(  # noqa: S603 - our own code
        [sys.executable, "-c", code], check=True, capture_output=True, text=True
    )
    assert int(done.stdout.split()[1]) <= MOST_MEMORY
