"""What a given line costs under any kind of rule."""

import numpy as np

from planner.profile.along import samples_along
from planner.routing.asked import Asked
from planner.routing.band import State, one_sided
from planner.routing.band_along import BARRED, Along, band_cost_along
from planner.routing.follow import PART, grades_of, land_of
from planner.routing.follow_kernel import follow
from planner.routing.ground import Ground, band_at, price_at
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray


def price_along(
    ground: Ground, asked: Asked, xy: FloatArray, carried: State | None = None
) -> Along:
    """Cost of a line, sampled every quarter cell, laid as cheaply as its rule allows.

    Digging is priced under rules with one limit. With limits on both sides, or none, the line is
    priced by its length, its ground and its vents.

    Parameters
    ----------
    xy : (n, 2) ndarray
        Vertices [m] from start to end.
    carried : State, optional
        How the pipe stands at the root, for rules with one limit (`find_in_band`).

    Returns
    -------
    Along
        Infinite cost where the rule can't be kept or the line is closed.
    """
    if one_sided(asked.rule):
        prices, begins = asked.prices, asked.begins
        return band_cost_along(ground, asked.rule, prices, xy, begins=begins, carried=carried)
    rule = grades_of(ground, asked, (float(xy[0, 0]), float(xy[0, 1])))
    row, col = grid_position(ground.terrain, xy[:, 0], xy[:, 1])
    cost = float(follow(land_of(ground), rule, row, col)[0])
    if not np.isfinite(cost):
        return BARRED
    metres, length = _metres(ground, xy)
    vents = round((cost - metres) / rule.vent_cost) if rule.vent_cost > 0.0 else 0
    return Along(cost=cost, vents=vents, length=length)


def _metres(ground: Ground, xy: FloatArray) -> tuple[float, float]:
    """Price of a line's length, and the length itself, in three dimensions."""
    samples, run = samples_along(xy, PART * min(ground.terrain.cell))
    top, _ = band_at(ground, samples)
    steps = np.hypot(np.diff(run), np.diff(top))
    factor = price_at(ground, (samples[1:] + samples[:-1]) / 2.0)
    return float(np.sum(factor * steps)), float(np.sum(steps))
