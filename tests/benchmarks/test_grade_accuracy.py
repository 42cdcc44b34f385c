"""How near to the shortest lines come whose grade is at its limit, and how long that takes.

On planes and cones the shortest line is known (`tests.routing.graded`). Lines that come out shorter
use the band at their ends and count as exact.

    python -m tests.benchmarks.test_grade_accuracy        # a line for each case
"""

import time
from collections.abc import Iterator
from statistics import median

import numpy as np
import pytest

from planner.routing.between import find_between
from planner.routing.ground import make_ground
from planner.routing.straighten import straighten
from planner.routing.walk import Walk
from planner.terrain.value import FloatArray
from tests.benchmarks.table import Row, median_of, table
from tests.routing.graded import (
    BAND,
    SAG,
    Land,
    asked_of,
    deepest_needed,
    kernel_rule,
    lands,
    length_on,
    part_of,
    route,
)

pytestmark = [pytest.mark.benchmark, pytest.mark.slow]
MEAN, WORST = 0.005, 0.02  # of the shortest, what lines may be longer


def error(land: Land, xy: FloatArray) -> float:
    """By what share a line is longer than the shortest; 0 where it is not."""
    return max(float(length_on(land, xy)) / float(land.shortest) - 1.0, 0.0)


def measured(land: Land) -> tuple[float, float, int, float]:
    """Errors over the cells and straightened, bends, and depth of the band taken [m]."""
    xy, cells = route(land)
    return error(land, cells), error(land, xy), len(xy) - 2, deepest_needed(land, xy)


def rows(cells: int) -> Iterator[Row]:
    """Seconds of search and straightening, over all cases; `cells` is given by the cases."""
    del cells
    search, straight, lengths = [], [], []
    for land in lands():
        ground = make_ground(land.terrain, BAND - SAG)
        rule = kernel_rule(ground, land.rule, land.start)
        part = part_of(ground, land.start, land.end)
        walk = find_between(part, rule, land.start, land.end)
        assert isinstance(walk, Walk)

        def search_once(part=part, rule=rule, land=land):
            return find_between(part, rule, land.start, land.end)

        def straighten_once(ground=ground, land=land, xy=walk.xy):
            return straighten(ground, asked_of(land.rule), xy)

        search.append(median_of(search_once))
        straight.append(median_of(straighten_once))
        lengths.append(land.terrain.z.size)
    size = int(np.mean(lengths))
    yield Row("line between limits, steep land: search", size, 32, median(search))
    yield Row("line between limits, steep land: straightening", size, 32, median(straight))


def test_lines_at_the_limit_are_as_short_as_can_be() -> None:
    errors = []
    for land in lands():
        _, straightened, bends, depth = measured(land)
        assert depth <= BAND, land.name
        assert bends <= (4 if "plane" in land.name else 30), land.name
        errors.append(straightened)
    assert np.mean(errors) <= MEAN
    assert np.max(errors) <= WORST


def main() -> None:
    """Print every case."""
    print("case: error over the cells, straightened, bends, depth of band taken, ms")  # noqa: T201
    for land in lands():
        over_cells, straightened, bends, depth = measured(land)
        begun = time.perf_counter()
        route(land)
        spent = 1e3 * (time.perf_counter() - begun)
        told = f"{over_cells:8.2%} {straightened:8.2%} {bends:4} {depth:8.4f} m {spent:8.0f} ms"
        print(f"{land.name:60}{told}")  # noqa: T201
    print(table(rows(0)))  # noqa: T201


if __name__ == "__main__":
    main()
