"""Straightening: few, long legs in place of a line over the cells, its rule kept."""

from collections.abc import Sequence

import numpy as np

from planner.routing import follow_kernel, meet_kernel
from planner.routing.asked import Asked
from planner.routing.band import band_rule, one_sided, rooted_at_end, set_out
from planner.routing.follow import grades_of, land_of
from planner.routing.follow_kernel import COLUMNS, backwards, labels_at
from planner.routing.ground import Ground, band_at
from planner.routing.line_kernel import LOOSE, Taste
from planner.routing.meet_kernel import far_labels, root_labels
from planner.routing.pipe_kernel import BAND, FREE, LIMITS, Pipe
from planner.routing.straighten_kernel import straight
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.value import FloatArray

BEND_COST = 0.2  # m of pipe; what a bend must save at least
MOST_WORK = 4_000_000  # samples of the ground looked at, about 0.2 s
PLAIN_WORK = 1_000_000  # where no rule is kept: more wins a tenth of a percent


def straighten(
    ground: Ground,
    asked: Asked,
    xy: FloatArray,
    *,
    stops: Sequence[tuple[float, float]] = (),
    bend_cost: float = BEND_COST,
    least_leg: float = 0.0,
    work: int | None = None,
) -> FloatArray:
    """A line of fewer, longer legs that costs no more and keeps its rule.

    Vertices are dropped, moved off the cell centres, joined and added, the rule tested every
    quarter of a cell at each step: grades, band, closed and void cells, slope across the trench.
    Under a rule with one limit digging is weighed as well.

    Parameters
    ----------
    asked : Asked
        What the line must keep and what it pays.
    xy : (n, 2) ndarray
        Vertices [m] of a line that keeps the rule.
    stops : sequence of (float, float)
        Vertices that must stay.
    bend_cost : float
        Price of a bend [m of pipe]; it steers the choice and is no part of a route's cost.
    least_leg : float
        A leg shorter than this [m] is charged as much as a few bends.
    work : int, optional
        Samples of the ground to look at, at most; None: as many as still win something.

    Returns
    -------
    (m, 2) ndarray
        From the same start to the same end; the line as it was where it breaks its rule.
    """
    moved = np.any(np.diff(xy, axis=0) != 0.0, axis=1)
    xy = xy[np.concatenate([[True], moved])]
    if len(xy) < 3:
        return xy
    back = one_sided(asked.rule) and rooted_at_end(asked.rule)
    way = xy[::-1] if back else xy
    row, col = grid_position(ground.terrain, way[:, 0], way[:, 1])
    land = land_of(ground)
    pipe = pipe_along(ground, asked, way)
    if pipe is None:
        return xy
    if work is None:
        work = PLAIN_WORK if asked.unlimited else MOST_WORK
    taste = Taste(float(bend_cost), float(least_leg), work)
    land = land._replace(tolerance=land.tolerance / LOOSE)
    stays = np.array([tuple(place) in set(stops) for place in way.tolist()])
    rows, cols = straight(land, pipe, taste, row, col, stays)
    made = np.column_stack(cell_centre(ground.terrain, rows, cols))
    for place in (*stops, tuple(way[0]), tuple(way[-1])):  # exactly there
        made[np.argmin(np.hypot(*(made - place).T))] = place
    return made[::-1] if back else made


def pipe_along(ground: Ground, asked: Asked, way: FloatArray) -> Pipe | None:
    """The rule along a line that sets out from its root; None where that is closed ground."""
    root = set_out(ground, (float(way[0, 0]), float(way[0, 1])), asked.prices, None)
    if root is None:
        return None
    top, bottom = (float(level[0]) for level in band_at(ground, way[-1:]))
    limits = grades_of(ground, asked, (float(way[0, 0]), float(way[0, 1])))
    back = backwards(limits, bottom, top)
    band = band_rule(asked.rule, asked.prices, asked.begins, ground.side_slope)
    kind, most = FREE, 1
    ends = [np.zeros((1, COLUMNS)), np.zeros((1, COLUMNS))]
    if one_sided(asked.rule):
        kind, most = BAND, meet_kernel.MOST_LABELS
        ends = [root_labels(root), far_labels(band, top, bottom)]
    elif not asked.unlimited:
        kind, most = LIMITS, follow_kernel.MOST_LABELS if limits.ways == 2 else 1
        ends = [labels_at(limits), labels_at(back)]
    laid = np.zeros((2, most, COLUMNS))
    for side, labels in enumerate(ends):
        laid[side, : len(labels)] = labels
    return Pipe(
        kind,
        laid,
        (len(ends[0]), len(ends[1])),
        limits,
        back,
        band,
        np.zeros((2 * most, COLUMNS)),
        np.zeros((4, meet_kernel.ROOM)),
    )
