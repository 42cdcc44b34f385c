"""Small rough ground for the sweeps, its symmetries, and their slow twins."""

from heapq import heappop, heappush

import numpy as np
from hypothesis import strategies as st

from planner.routing.grid import make_grid
from planner.routing.ground import make_ground
from planner.routing.links import links
from planner.routing.stencil import crossed, moves, sampled
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain

CELLS = [(1.0, 1.0), (2.0, 0.7), (0.5, 1.5)]
NEIGHBOURS = [8, 16, 32]
seeds = st.integers(0, 100_000)


def rough(seed, *, rows=7, cols=9, dearest=5.0, closed=0.12):
    """Levels with voids, and factors of which some are infinite."""
    rng = np.random.default_rng(seed)
    z = rng.uniform(0.0, 3.0, (rows, cols))
    cost = dearest ** rng.uniform(0.0, 1.0, z.shape)
    z[rng.random(z.shape) < closed / 2] = np.nan
    cost[rng.random(z.shape) < closed / 2] = np.inf
    return z, cost


def grid_of(z, cost, cell, neighbours, **rule):
    return make_grid(make_ground(Terrain.from_array(z, cell), 0.0, cost, **rule), neighbours)


def grid_on(land, cell, neighbours):
    """The grid of levels and costs that come as one."""
    z, cost = land
    return grid_of(z, cost, cell, neighbours)


def place_in(grid, row, col):
    """x, y of a fractional row and column."""
    width, height = grid.ground.terrain.cell
    return (col + 0.5) * width, -(row + 0.5) * height


def mirrors(z, cost, cell, ends):
    """The same ground mirrored, turned and transposed; ends are fractional rows and columns."""
    rows, cols = z.shape
    turned = (cell[1], cell[0])
    yield z[::-1], cost[::-1], cell, [(rows - 1 - r, c) for r, c in ends]
    yield z[:, ::-1], cost[:, ::-1], cell, [(r, cols - 1 - c) for r, c in ends]
    yield z.T, cost.T, turned, [(c, r) for r, c in ends]
    yield np.rot90(z), np.rot90(cost), turned, [(cols - 1 - c, r) for r, c in ends]


def plain_field(grid, root, passes):
    """(rows, cols) least cost to a place by Dijkstra's search with a heap.

    `passes(levels, steps)`: whether a move over ground with these samples is allowed.
    """
    ground, (rows, cols) = grid.ground, grid.ground.terrain.shape
    leave = links(grid, root, "to", None)
    cost = np.full((rows, cols), np.inf)
    queue: list[tuple[float, int, int]] = []
    for e, node in enumerate(leave.node):
        r, c = divmod(int(node), grid.columns)
        r, c = r + grid.first[0], c + grid.first[1]
        part = slice(*leave.sample_from[e : e + 2])
        levels = np.append(ground.top[r, c], leave.top[part])
        if passes(levels, leave.step[part]):
            heappush(queue, (float(leave.cost[e]), r, c))
    while queue:
        price, r, c = heappop(queue)
        if price >= cost[r, c]:
            continue
        cost[r, c] = price
        for down, right in moves(grid.stencil.move.size):
            here = r - down, c - right
            if 0 <= here[0] < rows and 0 <= here[1] < cols and cost[here] == np.inf:
                step = plain_move(grid, here, (down, right), passes)
                heappush(queue, (price + step, *here))
    return cost


def plain_move(grid, here, move, passes):
    """Cost of a move from a cell, infinite where it is not allowed."""
    ground, (width, height) = grid.ground, grid.ground.terrain.cell
    run = np.hypot(move[0] * height, move[1] * width)
    part = np.array(sampled(*move))
    open_ground = Terrain(ground.top, ground.terrain.cell)
    x, y = place_in(grid, here[0] + move[0] * part, here[1] + move[1] * part)
    levels = ground_at(open_ground, x, y)
    if not np.all(np.isfinite(levels)) or not passes(levels, run * np.diff(part)):
        return np.inf
    factor = sum(
        share * ground.factor[here[0] + down, here[1] + right]
        for down, right, share in crossed(*move)
    )
    return float(factor * np.hypot(run, levels[-1] - levels[0]))


def costs_of(grid, cost):
    """(rows, cols) costs of a field, infinite where never reached."""
    rows, cols = grid.ground.terrain.shape
    found = cost[grid.node(np.arange(rows)[:, None], np.arange(cols)[None, :])]
    return np.where(found == 0.0, np.inf, found)
