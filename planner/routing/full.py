"""Mains and distribution: lines that run full and may sag and climb."""

from collections.abc import Sequence

from planner.grade.rule import GradeRule
from planner.routing.land import Land
from planner.routing.way import Place, Way, laid_in_pieces, route
from planner.site.value import Laying


def find_full(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place] = ()
) -> Way:
    """A line of rising and falling pieces, each crest at the price of a vent.

    Raises
    ------
    NoRoute
        The ends are cut off from one another, or the land is too flat to lay a piece.
    """
    rule = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
    line = route(land, (start, end), laying, rule, via=via)
    return Way(laid_in_pieces(land, line, laying), rule_kept=True)
