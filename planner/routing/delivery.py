"""Delivery: from the ram to the tank, rising all the way, or with every high point vented."""

from collections.abc import Sequence

from planner.grade.rule import GradeRule
from planner.routing.land import Land
from planner.routing.way import Place, Way, laid_in_pieces, route
from planner.site.value import Laying


def find_delivery(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place] = ()
) -> Way:
    """The cheapest line of rising and falling pieces, each high point at the price of a vent.

    A detour, a deeper trench and a vent are weighed against each other by what they cost; the rule
    is kept where the line rises all the way.

    Raises
    ------
    NoRoute
        The ends are cut off from one another, or the land is too flat to lay a piece.
    """
    rule = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
    line = route(land, (start, end), laying, rule, via=via, begins="closed")
    laid = laid_in_pieces(land, line, laying, "closed")
    return Way(laid, rule_kept=not laid.high_points)
