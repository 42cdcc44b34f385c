"""Delivery: from the ram to the tank, rising all the way, or with every high point vented."""

from collections.abc import Sequence

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.land import Land
from planner.routing.way import Place, Way, laid_in_pieces, route
from planner.site.value import Laying


def find_delivery(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place] = ()
) -> Way:
    """A line that rises by at least the least grade all the way; else one with priced vents.

    Raises
    ------
    NoRoute
        The ends are cut off from one another.
    """
    rising = GradeRule(lowest=laying.least_grade)
    vented = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
    try:
        line = route(land, (start, end), laying, rising, via=via, begins="closed")
    except NoRoute as blocked:
        if blocked.obstacle not in ("grade", "fall"):
            raise
        line = route(land, (start, end), laying, vented, via=via, begins="closed")
    laid = laid_in_pieces(land, line, laying, "closed")
    return Way(laid, rule_kept=not laid.high_points)
