"""The cheapest line whose grade is kept between limits, on land that may be far steeper."""

import numpy as np

from planner.routing.grid import Grid
from planner.routing.ground import band_at
from planner.routing.links import links
from planner.routing.plain import cost_field
from planner.routing.reach import reach_of
from planner.routing.search_kernel import Beyond, Cells, Found, Rule, search
from planner.routing.walk import Place
from planner.terrain.sample import grid_position


def search_between(
    grid: Grid, rule: Rule, start: Place, end: Place, weight: float, most_labels: int
) -> Found:
    entry = links(grid, start, "from", end)
    leave = links(grid, end, "to", None)
    reach = reach_of(grid.field, grid.stencil, rule, leave)
    ahead = cost_field(grid, end, start)
    top, bottom = band_at(grid.ground, np.array([end], dtype=np.float64))
    row, col = grid_position(grid.ground.terrain, *end)
    beyond = Beyond(
        ahead.cost,
        ahead.final,
        grid.columns,
        float(row) - grid.first[0],
        float(col) - grid.first[1],
        *grid.ground.terrain.cell,
        float(bottom[0]),
        float(top[0]),
        weight,
    )
    cells = Cells(
        grid.zeros(np.int32, 2, 2), grid.zeros(np.float64, 6, 6), grid.zeros(np.int32, 1, 1)
    )
    return Found(
        *search(grid.field, grid.stencil, rule, entry, leave, beyond, reach, cells, most_labels)
    )
