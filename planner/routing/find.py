"""`find_route`: the cheapest pipe between two points under a grade rule."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt
from shapely.geometry import LineString

from planner.errors import OutsideRange
from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.asked import Asked
from planner.routing.band import Prices, State, one_sided, rooted_at_end
from planner.routing.ground import Ground, make_ground
from planner.routing.leg import Leg, find_leg
from planner.routing.obstacle import hopeless, why_blocked
from planner.routing.price import price_along
from planner.routing.stencil import Neighbours
from planner.routing.straighten import BEND_COST, straighten
from planner.routing.value import Route
from planner.terrain.value import FloatArray, Terrain

SAME_PLACE = 1e-6  # m
LEAST_LEG = 3.0  # cells

Place = tuple[float, float]


def find_route(  # noqa: PLR0913 - what a line is asked, each by its name
    terrain: Terrain,
    start: Place,
    end: Place,
    rule: GradeRule,
    cost: npt.ArrayLike | None = None,
    *,
    way: Sequence[Place] = (),
    slack: FloatArray | None = None,
    begins: End = "open",
    dig_cost: float = 0.0,
    side_slope: float = np.inf,
    bend_cost: float = BEND_COST,
    least_leg: float | None = None,
    neighbours: Neighbours = 16,
) -> Route:
    """Cheapest pipe from start to end that keeps the rule, searched over cells, then straightened.

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
    dig_cost : float
        Price of a square metre of the trench's section below the least cover [m of pipe]; it is
        weighed under rules with one limit.
    side_slope : float
        Steepest slope of the ground across the trench, rise over run.
    bend_cost, least_leg : float, optional
        Price of a bend [m of pipe] and length of a leg worth setting out [m], by default three
        cells; they steer the straightening and are no part of the route's cost.
    neighbours : {8, 16, 32}
        Cells that each cell is joined to.

    Returns
    -------
    Route

    Raises
    ------
    NoRoute
        The rule can't be kept, or the ends are cut off from one another; it says what blocks.
    OutsideRange
        A price or a limit is negative or NaN, or a place is not finite.
    InputError
        The search outgrew the memory set for it.
    """
    least_leg = LEAST_LEG * max(terrain.cell) if least_leg is None else least_leg
    _check(dig_cost=dig_cost, side_slope=side_slope, bend_cost=bend_cost, least_leg=least_leg)
    depth = rule.slack if slack is None else slack
    ground = make_ground(terrain, depth, cost, side_slope=side_slope)
    asked = Asked(rule, Prices(rule.vent_cost, dig_cost), begins)
    stops = _stops(start, way, end)
    names = ["start", *["way point"] * (len(stops) - 2), "end"]
    if (blocked := hopeless(ground, rule, stops, names)) is not None:
        raise blocked
    if len(stops) == 2 and _same(stops[0], stops[1]):
        raise why_blocked(ground, rule, stops[0], stops[1])
    legs = _legs(ground, asked, stops, neighbours)
    xy = _joined([leg.walk.xy for leg in legs])
    if not np.isfinite(price_along(ground, asked, xy).cost):
        # Each leg keeps the rule, but not all of them in one trench.
        raise why_blocked(ground, rule, stops[0], stops[-1])
    xy = straighten(ground, asked, xy, stops=stops, bend_cost=bend_cost, least_leg=least_leg)
    paid = price_along(ground, asked, xy)
    return Route(
        line=LineString(xy),
        length=paid.length,
        cost=paid.cost,
        vents=paid.vents,
        digging=paid.digging,
        proven=all(leg.proven for leg in legs),
    )


def _check(**values: float) -> None:
    for name, value in values.items():
        if not value >= 0.0:
            msg = f"the {name} is {value}; it must be 0 or more"
            raise OutsideRange(msg)


def _stops(start: Place, way: Sequence[Place], end: Place) -> list[Place]:
    """Start, the points to pass and end, without any that stands where the one before does."""
    stops = [(float(x), float(y)) for x, y in (start, *way, end)]
    if not np.all(np.isfinite(stops)):
        msg = f"the places of the line are {stops}; each must be two finite numbers, x and y in m"
        raise OutsideRange(msg)
    kept = [here for here, there in pairwise(stops) if not _same(here, there)]
    return [stops[0], *kept[1:], stops[-1]]


def _same(here: Place, there: Place) -> bool:
    return float(np.hypot(here[0] - there[0], here[1] - there[1])) <= SAME_PLACE


def _legs(ground: Ground, asked: Asked, stops: list[Place], neighbours: Neighbours) -> list[Leg]:
    """The legs from stop to stop, searched away from the root; each begins as the last one came."""
    order = list(enumerate(pairwise(stops)))
    if one_sided(asked.rule) and rooted_at_end(asked.rule):
        order.reverse()
    legs: dict[int, Leg] = {}
    carried: State | None = None
    for k, (here, there) in order:
        piece = asked if k == 0 else asked.from_open()
        legs[k] = find_leg(ground, piece, here, there, neighbours, carried)
        if one_sided(asked.rule):
            carried = price_along(ground, piece, legs[k].walk.xy, carried).state
    return [legs[k] for k in range(len(order))]


def _joined(lines: list[FloatArray]) -> FloatArray:
    return np.concatenate([lines[0], *(line[1:] for line in lines[1:])])
