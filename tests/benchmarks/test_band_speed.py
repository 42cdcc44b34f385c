"""The band search of a whole field: a trench of 0.2 m, vents and digging, on rough land."""

from collections.abc import Iterator

import pytest

from planner.grade.rule import GradeRule
from planner.routing.band import Prices
from planner.routing.band_field import band_field
from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.plain import cost_field
from planner.routing.stencil import Neighbours
from planner.terrain.value import FloatArray, Terrain
from tests.benchmarks.table import Row, medians_of, peak_bytes
from tests.benchmarks.test_field_speed import CELL, Call, middle_of, place_of, rough_land

SLACK = 0.2  # m
RULE = GradeRule(lowest=0.005, slack=SLACK, vent_cost=30.0)
VENTS, DIGGING = Prices(30.0), Prices(30.0, 1.0)
KINDS = {"vents": VENTS, "vents, digging": DIGGING}


def searches(z: FloatArray, neighbours: Neighbours) -> dict[str, Call]:
    """The band fields and, for comparison, the plain one, their grid made beforehand."""
    grid = make_grid(make_ground(Terrain(z, (CELL, CELL)), SLACK), neighbours)
    place = place_of(grid, *middle_of(z.size))
    return {
        "plain": lambda: cost_field(grid, place),
        **{
            name: (lambda prices=prices: band_field(grid, place, RULE, prices))  # type: ignore[misc]
            for name, prices in KINDS.items()
        },
    }


def search(cells: int, neighbours: Neighbours, kind: str) -> Call:
    """One of them, compiled."""
    z = rough_land(cells)
    searches(z[:20, :20].copy(), neighbours)[kind]()
    return searches(z, neighbours)[kind]


def rows(cells: int) -> Iterator[Row]:
    """With vents alone and with digging, over 8, 16 and 32 neighbours."""
    counts: tuple[Neighbours, ...] = (8, 16, 32)
    for neighbours in counts:
        seconds = medians_of(searches(rough_land(cells), neighbours), 7 if neighbours == 8 else 3)
        for kind in KINDS:
            what = f"band field, 0.2 m, {kind}"
            ratio = seconds[kind] / seconds["plain"]
            size = peak_bytes(__name__, "search", cells, neighbours, kind) / cells
            yield Row(what, cells, neighbours, seconds[kind], ratio, "plain field", size)


@pytest.mark.benchmark
@pytest.mark.timeout(0)
def test_four_million_cells_take_eight_seconds_at_most() -> None:
    ways = searches(rough_land(4_000_000), 8)
    assert medians_of({"vents": ways["vents"]}, 3)["vents"] <= 8.0
