"""Links: how an end of a line, which may lie anywhere, joins the cells around it."""

from typing import Literal

import numpy as np

from planner.profile.along import samples_along
from planner.routing.edge_kernel import Links
from planner.routing.grid import Grid
from planner.routing.ground import Ground, band_at, slope_at
from planner.routing.straighten import PART
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.value import FloatArray

Place = tuple[float, float]


def links(grid: Grid, place: Place, direction: Literal["from", "to"], other: Place | None) -> Links:
    """Edges between an end and the cells around it, and the other end where that is near."""
    ground, reach = grid.ground, grid.pad
    rows, cols = ground.terrain.shape
    row, col = grid_position(ground.terrain, *place)
    r0, c0 = int(np.floor(row + 0.5)), int(np.floor(col + 0.5))
    targets: list[tuple[int, Place]] = []
    for r in range(max(r0 - reach, 0), min(r0 + reach + 1, rows)):
        for c in range(max(c0 - reach, 0), min(c0 + reach + 1, cols)):
            x, y = cell_centre(ground.terrain, r, c)
            targets.append((int(grid.node(r, c)), (float(x), float(y))))
    near = reach * max(ground.terrain.cell)
    if other is not None and np.hypot(other[0] - place[0], other[1] - place[1]) <= near:
        targets.append((grid.cells, other))
    made = [
        (node, *over)
        for node, target in targets
        if (over := _over(ground, place, target, direction)) is not None
    ]
    empty = np.empty(0)
    return Links(
        node=np.array([link[0] for link in made], dtype=np.int64),
        cost=np.array([link[1] for link in made], dtype=np.float64),
        factor=np.array([link[2] for link in made], dtype=np.float64),
        across=np.array([link[3] for link in made], dtype=np.float64),
        sample_from=np.cumsum([0, *(link[4].size for link in made)], dtype=np.int64),
        step=np.concatenate([empty, *(link[4] for link in made)]),
        top=np.concatenate([empty, *(link[5] for link in made)]),
        bottom=np.concatenate([empty, *(link[6] for link in made)]),
    )


def _over(
    ground: Ground, place: Place, target: Place, direction: Literal["from", "to"]
) -> tuple[float, float, float, FloatArray, FloatArray, FloatArray] | None:
    """Price, factor, slope across, steps and band of a straight link; None where it is closed.

    A link of no length has one sample.
    """
    ends = np.array([place, target] if direction == "from" else [target, place])
    if np.allclose(ends[0], ends[1], rtol=0.0, atol=1e-9):
        top, bottom = band_at(ground, ends[1:])
        return (0.0, 1.0, 0.0, np.zeros(1), top, bottom) if np.isfinite(top[0]) else None
    xy, run = samples_along(ends, PART * min(ground.terrain.cell))
    top, bottom = band_at(ground, xy)
    if not np.all(np.isfinite(top)):
        return None
    middle = (xy[1:] + xy[:-1]) / 2.0
    row, col = grid_position(ground.terrain, middle[:, 0], middle[:, 1])
    rows, cols = ground.terrain.shape
    factor = ground.factor[
        np.clip(np.floor(row + 0.5), 0, rows - 1).astype(np.int64),
        np.clip(np.floor(col + 0.5), 0, cols - 1).astype(np.int64),
    ]
    step = np.diff(run)
    price = float(np.sum(factor * np.hypot(step, np.diff(top))))
    mean = float(np.sum(factor * step) / np.sum(step))
    return price, mean, _across(ground, xy), step, top[1:], bottom[1:]


def _across(ground: Ground, xy: FloatArray) -> float:
    if not np.isfinite(ground.side_slope):
        return 0.0
    east, north = slope_at(ground, xy)
    ahead, left = (xy[-1] - xy[0]) / np.hypot(*(xy[-1] - xy[0]))
    return float(np.max(np.abs(east * left - north * ahead)))
