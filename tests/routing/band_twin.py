"""The slow twin of the band search: every walk, every choice of joints, levels in closed form.

It knows the grid by geometry alone and shares nothing with the kernels but the links at the ends.
"""

from dataclasses import dataclass

import numpy as np

from planner.routing.stencil import crossed, moves, sampled
from planner.terrain.sample import bilinear


@dataclass
class Way:
    """An edge: where it leads, its price of length, its factor, and the band at its samples."""

    to: int
    cost: float
    factor: float
    step: np.ndarray
    top: np.ndarray
    bottom: np.ndarray


@dataclass
class Task:
    grade: float
    vent: float | None
    dig: float


def cell_ways(ground, neighbours):
    """For each cell of a small ground, numbered row by row, the moves that stay on open ground."""
    rows, cols = ground.terrain.shape
    found: list[list[Way]] = [[] for _ in range(rows * cols)]
    for node in range(rows * cols):
        r, c = divmod(node, cols)
        for down, along in moves(neighbours):
            if 0 <= r + down < rows and 0 <= c + along < cols:
                way = move_way(ground, r, c, down, along)
                if np.all(np.isfinite(way.top)) and np.isfinite(ground.top[r, c]):
                    found[node].append(way)
    return found


def move_way(ground, r, c, down, along):
    part = np.array(sampled(down, along))
    width, height = ground.terrain.cell
    place = r + down * part[1:], c + along * part[1:]
    run = float(np.hypot(down * height, along * width))
    rise = ground.top[r + down, c + along] - ground.top[r, c]
    factor = sum(ground.factor[r + i, c + j] * share for i, j, share in crossed(down, along))
    return Way(
        to=(r + down) * ground.terrain.shape[1] + c + along,
        cost=float(factor * np.hypot(run, rise)),
        factor=float(factor),
        step=np.diff(part) * run,
        top=bilinear(ground.top, *place),
        bottom=bilinear(ground.bottom, *place),
    )


def link_ways(links, grid):
    """(cell or the number of cells, `Way`) of each link at an end."""
    rows, cols = grid.ground.terrain.shape
    for e, node in enumerate(links.node):
        part = slice(links.sample_from[e], links.sample_from[e + 1])
        r, c = divmod(int(node), grid.columns)
        cell = (r + grid.first[0]) * cols + c + grid.first[1]
        cell = rows * cols if node == grid.cells else cell
        yield (
            cell,
            Way(
                cell,
                float(links.cost[e]),
                float(links.factor[e]),
                links.step[part],
                links.top[part],
                links.bottom[part],
            ),
        )


class Line:
    """A walk from the root: samples and places where pieces may join, and what each costs."""

    def __init__(self, task, top, level, begin):
        self.task = task
        self.run, self.top, self.bottom, self.price = [0.0], [top], [-np.inf], []
        self.level = level  # of a pipe that sets out sinking: its highest, climbing: its lowest
        self.at = [0]
        self.sunk, self.climbed = [np.inf], [np.inf]  # cheapest that comes so to each place
        self.begin = begin  # price of setting out so
        self.metres = 0.0

    def extended(self, way):
        line = Line.__new__(Line)
        line.task, line.level, line.begin = self.task, self.level, self.begin
        line.run = self.run + list(self.run[-1] + np.cumsum(way.step))
        line.top, line.bottom = self.top + list(way.top), self.bottom + list(way.bottom)
        line.price = self.price + [self.task.dig * way.factor] * way.step.size
        line.at = [*self.at, len(line.run) - 1]
        line.metres = self.metres + way.cost
        line.sunk, line.climbed = [*self.sunk, np.inf], [*self.climbed, np.inf]
        line.come()
        return line

    def come(self):
        """Cheapest layings that come to the last place sinking and climbing."""
        n = len(self.at) - 1
        for i in range(n):
            turned = self.begin[0] if i == 0 else self.climbed[i] + (self.task.vent or 0.0)
            if turned < np.inf:
                self.sunk[n] = min(self.sunk[n], turned + self.piece(i, n, climbs=False))
            turned = self.begin[1] if i == 0 else self.sunk[i]
            if self.task.vent is not None and turned < np.inf:
                self.climbed[n] = min(self.climbed[n], turned + self.piece(i, n, climbs=True))

    def piece(self, i, n, *, climbs):
        """Price of the digging of a piece; infinite where it leaves the band."""
        a, b = self.at[i], self.at[n]
        run, top = np.array(self.run[a : b + 1]), np.array(self.top[a : b + 1])
        bottom, grade = np.array(self.bottom[a : b + 1]), self.task.grade
        away = run[:, None] - run[None, :]  # from sample j (column) to sample k (row)
        if climbs:
            # As high as each later sample lets it be; as low as each earlier one makes it be.
            highest = np.min(np.where(away <= 0.0, top[None, :] + grade * away, np.inf), axis=1)
            lowest = bottom if i > 0 else np.array([self.level[1], *bottom[1:]])
        else:
            cap = top if i > 0 else np.array([self.level[0], *top[1:]])
            highest = np.min(np.where(away >= 0.0, cap[None, :] - grade * away, np.inf), axis=1)
            lowest = bottom
        if not np.all(highest >= lowest - 1e-9):
            return np.inf
        depth = top - highest
        return float(np.sum(0.5 * (depth[1:] + depth[:-1]) * np.diff(run) * self.price[a:b]))


def every_optimum(ways, entry, leave, root, task, most, depth=7):
    """Least cost at each cell, open and closed, and at the far end, of all walks up to a cost.

    Parameters
    ----------
    most : float
        Walks whose length alone costs more are not followed.
    """
    far = len(ways)
    cost = np.full((far + 1, 2), np.inf)
    line = Line(task, *root)
    stack = [line.extended(way) for _, way in entry if way.cost <= most]
    where = [way.to for _, way in entry if way.cost <= most]
    while stack:
        line, node = stack.pop(), where.pop()
        best = min(line.sunk[-1], line.climbed[-1])
        cost[node, 0] = min(cost[node, 0], line.metres + best)
        dear = min(line.sunk[-1], line.climbed[-1] + (task.vent or 0.0))
        cost[node, 1] = min(cost[node, 1], line.metres + dear)
        if node == far or best == np.inf or len(line.at) > depth:
            continue
        onward = ways[node] + [way for cell, way in leave if cell == node]
        for way in onward:
            if line.metres + way.cost <= most:
                stack.append(line.extended(way))
                where.append(far if any(way is w for _, w in leave) else way.to)
    return cost
