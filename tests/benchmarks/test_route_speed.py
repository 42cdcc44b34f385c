"""A whole route, straightened, against scikit-image's over the same random costs: time and cost.

scikit-image runs over the centres of eight neighbours, ours over sixteen and is straightened then.
Both are priced alike: each leg by the cells it crosses.
"""

from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest
from scipy.ndimage import gaussian_filter
from skimage.graph import MCP_Geometric

from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.find import find_route
from planner.routing.ground import make_ground
from planner.routing.price import price_along
from planner.routing.value import Route
from planner.terrain.sample import cell_centre
from planner.terrain.value import FloatArray, Terrain
from tests.benchmarks.table import Row, medians_of
from tests.benchmarks.test_field_speed import side_of

PATCH = 12.0  # cells, of ground that is alike
Cell = tuple[int, int]


@cache
def patchy_cost(cells: int) -> FloatArray:
    """Factors between 1 and 10, in patches as ground has them."""
    side = side_of(cells)
    noise = gaussian_filter(np.random.default_rng(1).normal(size=(side, side)), PATCH)
    cost: FloatArray = np.clip(np.exp(1.0 + 0.8 * noise / noise.std()), 1.0, 10.0)
    return cost


def ends_of(cells: int) -> tuple[Cell, Cell]:
    """Row and column of two places far apart."""
    side = side_of(cells)
    return (side // 10, side // 10), (side * 9 // 10, side * 8 // 10)


def ours(cost: FloatArray, ends: tuple[Cell, Cell]) -> Route:
    """`find_route` without limits of grade."""
    flat = Terrain(np.zeros(cost.shape), (1.0, 1.0))
    start, end = ((col + 0.5, -row - 0.5) for row, col in ends)
    return find_route(flat, start, end, GradeRule(), cost)


def theirs(cost: FloatArray, ends: tuple[Cell, Cell]) -> list[Cell]:
    """Cells of scikit-image's route; its search stops at the end as well."""
    search = MCP_Geometric(cost)
    search.find_costs([ends[0]], [ends[1]])
    found: list[Cell] = search.traceback(ends[1])
    return found


def priced(cost: FloatArray, path: list[Cell]) -> float:
    """What a route over cells costs, by the rule of ours."""
    flat = Terrain(np.zeros(cost.shape), (1.0, 1.0))
    xy = np.column_stack(cell_centre(flat, *np.transpose(path)))
    return price_along(make_ground(flat, 0.0, cost), Asked(GradeRule(), Prices()), xy).cost


def rows(cells: int) -> Iterator[Row]:
    """Time against scikit-image, and by how much the route is cheaper."""
    cost, ends = patchy_cost(cells), ends_of(cells)
    ours(patchy_cost(10_000), ends_of(10_000))
    seconds = medians_of({"ours": lambda: ours(cost, ends), "theirs": lambda: theirs(cost, ends)})
    saved = 1.0 - ours(cost, ends).cost / priced(cost, theirs(cost, ends))
    what = f"whole route, straightened, {saved:.1%} cheaper"
    ratio = seconds["theirs"] / seconds["ours"]
    yield Row(what, cells, 16, seconds["ours"], ratio, "scikit-image, 8 neighbours")


@pytest.mark.benchmark
@pytest.mark.timeout(0)
def test_a_route_is_faster_and_cheaper() -> None:
    cells = 4_000_000  # at 1 M it is about twice as fast: making the blocks of a corridor counts
    (row,) = rows(cells)
    cost, ends = patchy_cost(cells), ends_of(cells)
    assert row.ratio is not None
    assert row.ratio >= 3.0
    assert ours(cost, ends).cost <= 0.985 * priced(cost, theirs(cost, ends))
