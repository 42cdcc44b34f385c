"""The one-label fields against general libraries, in the same run: time and memory.

The plain field is searched on flat ground of random cost, where the libraries' rule is the same
(dijkstra3d's differs a little: time alone is compared). The grid is made beforehand, as it serves
every search on the ground; a row of its own counts it in. Lines that rise are swept on a mountain,
all of which they reach, and on rough land, of which they reach little.
"""

from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import dijkstra3d  # type: ignore[import-not-found] # carries no types
import numpy as np
import pytest
from scipy.sparse import coo_matrix
from scipy.sparse.csgraph import dijkstra
from skimage.graph import MCP_Geometric

from planner.routing.grid import Grid, make_grid
from planner.routing.ground import make_ground
from planner.routing.links import links
from planner.routing.plain import cost_field
from planner.routing.rising import rising_field
from planner.routing.stencil import Neighbours, moves
from planner.routing.walk import Walk
from planner.terrain.value import FloatArray, Terrain
from tests.benchmarks.table import Row, median_of, medians_of, peak_bytes

LEAST_GRADE = 0.005
CELL = 5.0
Call = Callable[[], object]


def side_of(cells: int) -> int:
    """Rows and columns of a square of so many cells."""
    return int(np.sqrt(cells))


@cache
def random_cost(cells: int) -> FloatArray:
    """Factors between 1 and 10."""
    side = side_of(cells)
    return np.random.default_rng(0).uniform(1.0, 10.0, (side, side))


def middle_of(cells: int) -> tuple[int, int]:
    """Row and column."""
    return side_of(cells) // 2, side_of(cells) // 2


def grid_of(cost: FloatArray, neighbours: Neighbours) -> Grid:
    """Flat ground of a cost."""
    flat = Terrain(np.zeros(cost.shape), (1.0, 1.0))
    return make_grid(make_ground(flat, 0.0, cost), neighbours)


def place_of(grid: Grid, row: int, col: int) -> tuple[float, float]:
    """x, y of a cell."""
    x, y = grid.centre(grid.node(row, col))
    return float(x), float(y)


def ours(cells: int, neighbours: Neighbours = 8) -> Call:
    """The plain field, its grid made beforehand."""
    cost_field(grid_of(random_cost(100), neighbours), (5.5, -5.5))
    grid = grid_of(random_cost(cells), neighbours)
    place = place_of(grid, *middle_of(cells))
    return lambda: cost_field(grid, place)


def ours_with_grid(cells: int) -> Call:
    """The plain field from the array of costs."""
    cost = random_cost(cells)
    flat = Terrain(np.zeros(cost.shape), (1.0, 1.0))
    row, col = middle_of(cells)
    return lambda: cost_field(make_grid(make_ground(flat, 0.0, cost), 8), (col + 0.5, -row - 0.5))


def scikit_image(cells: int) -> Call:
    """skimage.graph.MCP_Geometric."""
    cost, middle = random_cost(cells), middle_of(cells)
    MCP_Geometric(random_cost(100)).find_costs([(5, 5)])
    return lambda: MCP_Geometric(cost).find_costs([middle])[0]


def scipy_dijkstra(cells: int) -> Call:
    """scipy.sparse.csgraph.dijkstra, the graph built in the call."""
    cost, middle = random_cost(cells), middle_of(cells)
    scipy_field(random_cost(100), (5, 5))
    return lambda: scipy_field(cost, middle)


def scipy_field(cost: FloatArray, root: tuple[int, int]) -> FloatArray:
    """Half of the moves make the graph; it is searched as undirected."""
    rows, cols = cost.shape
    node = np.arange(rows * cols, dtype=np.int32).reshape(rows, cols)
    begin, end, weight = [], [], []
    for down, right in [move for move in moves(8) if move > (0, 0)]:
        here = np.s_[: rows - down, max(-right, 0) : cols - max(right, 0)]
        there = np.s_[down:, max(right, 0) : cols + min(right, 0)]
        begin.append(node[here].ravel())
        end.append(node[there].ravel())
        weight.append((cost[here] + cost[there]).ravel() * (np.hypot(down, right) / 2.0))
    edges = np.concatenate(weight), (np.concatenate(begin), np.concatenate(end))
    graph = coo_matrix(edges, shape=(rows * cols, rows * cols)).tocsr()
    found: FloatArray = dijkstra(graph, directed=False, indices=node[root])
    return found


def dijkstra_3d(cells: int) -> Call:
    """dijkstra3d.distance_field over 8 neighbours."""
    cost, middle = random_cost(cells).astype(np.float32), middle_of(cells)
    return lambda: dijkstra3d.distance_field(cost, middle, connectivity=8)


@cache
def rough_land(cells: int) -> FloatArray:
    """Land of median slope 0.2, by spectral synthesis [m]."""
    side = side_of(cells)
    rng = np.random.default_rng(1)
    down, along = np.fft.fftfreq(side)[:, None], np.fft.rfftfreq(side)[None, :]
    wave = np.hypot(down, along)
    wave[0, 0] = np.inf
    noise = np.fft.rfft2(rng.normal(size=(side, side)))
    z = np.fft.irfft2(noise * wave**-2.0, s=(side, side))
    steep = np.hypot(*(np.diff(z[:500, :500], axis=a)[:499, :499] / CELL for a in (0, 1)))
    return np.asarray(z * 0.2 / np.median(steep))


def mountain(cells: int) -> FloatArray:
    """A rough cone of slope 0.3, nearly all of which rises to its summit [m]."""
    away = np.arange(side_of(cells)) - side_of(cells) // 2
    cone = -0.3 * CELL * np.hypot(away[:, None], away[None, :])
    return np.asarray(cone + 0.12 * rough_land(cells))


def rising(z: FloatArray, neighbours: Neighbours) -> tuple[Call, Grid]:
    """The sweep from the summit, its grid made beforehand."""
    grid = make_grid(make_ground(Terrain(z, (CELL, CELL)), 0.0), neighbours)
    row, col = np.unravel_index(int(np.argmax(z)), z.shape)
    place = place_of(grid, int(row), int(col))
    return (lambda: rising_field(grid, place, LEAST_GRADE)), grid


def plain_rows(cells: int) -> Iterator[Row]:
    """The plain field, and the libraries."""
    libraries = {
        "scikit-image MCP_Geometric": scikit_image,
        "scipy dijkstra, graph built": scipy_dijkstra,
        "dijkstra3d distance_field": dijkstra_3d,
    }
    module = "tests.benchmarks.test_field_speed"
    ways = {name: make(cells) for name, make in libraries.items()}
    seconds = medians_of(ways | {"own": ours(cells), "with grid": ours_with_grid(cells)})
    del ways
    own, with_grid = seconds["own"], seconds["with grid"]
    size = peak_bytes(module, "ours", cells) / cells
    for name, make in libraries.items():
        theirs = peak_bytes(module, make.__name__, cells) / cells
        yield Row(name, cells, 8, seconds[name], None, "", theirs)
        yield Row("plain field", cells, 8, own, seconds[name] / own, name.split()[0], size)
    name = "scikit-image MCP_Geometric"
    ratio = seconds[name] / with_grid
    yield Row("plain field, grid made", cells, 8, with_grid, ratio, name.split()[0])
    wide: tuple[Neighbours, ...] = (16, 32)
    for neighbours in wide:
        yield Row("plain field", cells, neighbours, median_of(ours(cells, neighbours)))


def rising_rows(cells: int) -> Iterator[Row]:
    """Lines that rise, on land all of which they reach and on land of which they reach little."""
    for name, z in (("mountain", mountain(cells)), ("rough land", rough_land(cells))):
        counts: tuple[Neighbours, ...] = (8, 16, 32)
        for neighbours in counts:
            call, grid = rising(z, neighbours)
            field: Any = call()
            reached = np.count_nonzero(field.onward) / z.size
            what = f"rising field, {name}, {reached:.1%} reached"
            yield Row(what, cells, neighbours, median_of(call))
            del call, grid, field


def moved_rows(cells: int) -> Iterator[Row]:
    """A start moved on the cached field of the end, and the links of an end alone."""
    field: Any = ours(cells, 16)()
    side = side_of(cells)
    place = (0.83 * side, -0.91 * side)
    assert isinstance(field.route_from(place), Walk)
    yield Row("start moved, field cached", cells, 16, median_of(lambda: field.route_from(place)))
    yield Row("links of an end", cells, 16, median_of(lambda: links(field.grid, place, "to", None)))


def rows(cells: int) -> Iterator[Row]:
    """All of it."""
    yield from plain_rows(cells)
    yield from moved_rows(cells)
    yield from rising_rows(cells)


@pytest.mark.benchmark
@pytest.mark.timeout(0)
@pytest.mark.parametrize(("cells", "least"), [(1_000_000, 5.0), (4_000_000, 6.0)])
def test_the_plain_field_is_far_faster_and_smaller(cells: int, least: float) -> None:
    found = list(plain_rows(cells))
    own = {row.against: row for row in found if row.what == "plain field" and row.against}
    scikit = next(row for row in found if row.what.startswith("scikit-image"))
    assert own["scikit-image"].ratio >= least  # type: ignore[operator]
    assert own["scipy"].ratio >= least  # type: ignore[operator]
    assert own["dijkstra3d"].ratio >= 1.5  # type: ignore[operator]
    assert own["scipy"].bytes_a_cell <= scikit.bytes_a_cell / 4.0  # type: ignore[operator]
    theirs = np.asarray(scikit_image(cells)())
    field: Any = ours(cells)()
    side = side_of(cells)
    own_cost = field.cost.reshape(side + 2, side + 2)[1:-1, 1:-1]
    np.testing.assert_allclose(own_cost, theirs, rtol=1e-6, atol=1e-6)
    np.testing.assert_allclose(
        own_cost.ravel(), np.asarray(scipy_dijkstra(cells)()), rtol=1e-6, atol=1e-6
    )


@pytest.mark.benchmark
@pytest.mark.timeout(0)
@pytest.mark.parametrize(("neighbours", "seconds"), [(8, 0.5), (16, 0.6)])
def test_all_of_four_million_cells_rise_in_half_a_second(
    neighbours: Neighbours, seconds: float
) -> None:
    z = mountain(4_000_000)
    call, _ = rising(z, neighbours)
    field: Any = call()
    assert np.count_nonzero(field.onward) >= 0.99 * z.size
    assert median_of(call) <= seconds


@pytest.mark.benchmark
@pytest.mark.timeout(0)
@pytest.mark.parametrize("neighbours", [8, 16, 32])
def test_little_of_twenty_five_million_cells_takes_no_time(neighbours: Neighbours) -> None:
    call, _ = rising(rough_land(25_000_000), neighbours)
    assert median_of(call) <= 0.05


@pytest.mark.benchmark
def test_a_moved_start_is_answered_at_once() -> None:
    moved, linked = moved_rows(4_000_000)
    assert moved.seconds <= 1e-3
    assert linked.seconds <= 2e-4
