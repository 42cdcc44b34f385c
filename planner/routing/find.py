"""`find_route`: the cheapest pipe between two points under a grade rule."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from shapely.geometry import LineString

from planner.errors import InputError, NoRoute
from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.profile.along import chainage_of, samples_along
from planner.routing.ahead_kernel import cost_ahead
from planner.routing.grid import make_grid
from planner.routing.ground import Ground, band_at, make_ground
from planner.routing.links import links
from planner.routing.obstacle import why_blocked
from planner.routing.reach import reach_of, reached_from
from planner.routing.search_kernel import BLOCKED, TOO_MANY, Found, Rule, search
from planner.routing.straighten import PART, cost_along, straighten
from planner.routing.value import Route
from planner.routing.window import windows
from planner.terrain.sample import ground_at
from planner.terrain.value import FloatArray, Terrain

MOST_LABELS = 60_000_000  # about 3 GB
SAME_PLACE = 1e-6  # m

Place = tuple[float, float]


def find_route(
    terrain: Terrain,
    start: Place,
    end: Place,
    rule: GradeRule,
    cost: npt.ArrayLike | None = None,
    *,
    way: Sequence[Place] = (),
    slack: FloatArray | None = None,
    begins: End = "open",
) -> Route:
    """Cheapest pipe from start to end that keeps the rule, over 16 neighbours, then straightened.

    The rule is tested every quarter of a cell, so no bump between cells is jumped; closed and
    void cells are never touched.

    Parameters
    ----------
    terrain : Terrain
    start, end : (float, float)
        x, y [m]; the route begins and ends exactly there.
    rule : GradeRule
    cost : (rows, cols) array-like, optional
        Factor per cell, 1 or more; infinite = closed.
    way : sequence of (float, float)
        Points the line must pass, in order.
    slack : (rows, cols) ndarray, optional
        Depth of the band cell by cell [m], in place of `rule.slack`.
    begins : {"open", "closed"}
        A line that falls away from a closed start pays for a vent there.

    Returns
    -------
    Route

    Raises
    ------
    NoRoute
        The rule can't be kept, or the ends are cut off from one another; it says what blocks.
    InputError
        The search outgrew the memory set for it.
    """
    ground = make_ground(terrain, rule.slack if slack is None else slack, cost)
    stops = _stops(start, way, end)
    legs: list[FloatArray] = []
    first = leg = _first_rule(ground, rule, stops[0], begins)
    for here, there in pairwise(stops):
        xy = _leg(ground, rule, leg, here, there)
        legs.append(xy if not legs else xy[1:])
        leg = _carried(ground, leg, rule, xy)
    xy = np.concatenate(legs)
    total = cost_along(ground, first, xy)[0]
    if not np.isfinite(total):  # each leg keeps the rule, but not all of them in one trench
        raise why_blocked(ground, rule, stops[0], stops[-1], None)
    run_xy, run = samples_along(xy, PART * min(terrain.cell))
    level = ground_at(terrain, run_xy[:, 0], run_xy[:, 1])
    return Route(LineString(xy), float(chainage_of(run, level)[-1]), total)


def _stops(start: Place, way: Sequence[Place], end: Place) -> list[Place]:
    """Start, the points to pass and end, without any that stands where the one before does."""
    stops = [(float(x), float(y)) for x, y in (start, *way, end)]
    kept = [
        here for here, there in pairwise(stops) if np.hypot(*np.subtract(here, there)) > SAME_PLACE
    ]
    return [stops[0], *kept[1:], stops[-1]]


def _leg(ground: Ground, rule: GradeRule, leg: Rule, here: Place, there: Place) -> FloatArray:
    for window in windows(ground, here, there):
        found = _search(window.ground, leg, here, there)
        if found.status == TOO_MANY:
            msg = "the land is too large to search at this cell size; use a smaller area of it"
            raise InputError(msg)
        if found.status != BLOCKED and found.cost <= window.outside:
            break
    if found.status == BLOCKED:
        near = _nearest(window.ground, leg, here, there, found.nearest)
        raise why_blocked(ground, rule, here, there, near)
    x, y = make_grid(window.ground).centre(found.nodes)
    xy = np.vstack([here, np.column_stack([x, y]), there])
    moved = np.hypot(*np.diff(xy, axis=0).T) > 1e-9
    xy = xy[np.concatenate([[True], moved])]
    if len(xy) < 2:
        msg = "the line has no length: its start and its end are the same point"
        raise NoRoute(msg, obstacle="grade", where=here, shortfall=0.0)
    xy[-1] = there
    return straighten(ground, leg, xy)


def _search(ground: Ground, leg: Rule, here: Place, there: Place) -> Found:
    grid = make_grid(ground)
    field, stencil = grid.field, grid.stencil
    entry = links(grid, here, "from", there)
    leave = links(grid, there, "to", None)
    reach = reach_of(field, stencil, leg, leave)
    ahead = cost_ahead(field, stencil, leg, leave, reach)
    away = grid.away(there)
    return Found(*search(field, stencil, leg, entry, leave, ahead, reach, away, MOST_LABELS))


def _nearest(
    ground: Ground, leg: Rule, here: Place, there: Place, settled: int
) -> tuple[FloatArray, FloatArray] | None:
    """x, y of the cell nearest to the end that a line from the start can reach, if there is one."""
    grid = make_grid(ground)
    reached = reached_from(grid.field, grid.stencil, leg, links(grid, here, "to", None))
    nearest = settled
    if reached is not None:
        miss = np.where(reached, grid.away(there), np.inf)
        nearest = int(np.argmin(miss)) if np.any(reached) else -1
    return None if nearest < 0 else grid.centre(nearest)


def _first_rule(ground: Ground, rule: GradeRule, start: Place, begins: End) -> Rule:
    top, bottom = band_at(ground, np.array([start]))
    if not np.isfinite(top[0]):
        raise why_blocked(ground, rule, start, start, None)
    price = 0.0 if rule.vent_cost is None else rule.vent_cost
    falls = (price if begins == "closed" else 0.0) if rule.vents_allowed else np.inf
    return Rule(
        grades=np.array([*rule.rising, *rule.falling]),
        ways=2 if rule.vents_allowed else 1,
        vent_cost=price,
        begin=np.array([0.0, falls]),
        low=float(bottom[0]),
        high=float(top[0]),
    )


def _carried(ground: Ground, leg: Rule, rule: GradeRule, xy: FloatArray) -> Rule:
    """The rule for the next leg: it sets out as this one arrived."""
    _, way, low, high = cost_along(ground, leg, xy)
    begin = np.array([0.0, leg.vent_cost if rule.vents_allowed else np.inf])
    return leg._replace(begin=begin if way == 0 else np.zeros(2), low=low, high=high)
