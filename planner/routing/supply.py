"""Supply, waste and overflow: lines that fall all the way and may run part full."""

from collections.abc import Sequence
from dataclasses import replace

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.land import Land
from planner.routing.way import Place, Way, laid_falling, laid_in_pieces, route
from planner.site.value import Laying


def find_falling(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place] = ()
) -> Way:
    """A line that falls by at least the least grade all the way, no sag at all.

    Where a greatest grade is asked for it is kept as well. Where the land allows no such line the
    best one is shown that breaks the rule by less: too steep in places, or with rises in it.

    Raises
    ------
    NoRoute
        The end lies too high, or the ends are cut off from one another.
    """
    if laying.greatest_grade is not None:
        gentle = _falling(land, start, end, laying, via)
        if gentle is not None:
            return gentle
        steep = _falling(land, start, end, replace(laying, greatest_grade=None), via)
        if steep is not None:
            return replace(steep, rule_kept=False)
    elif (way := _falling(land, start, end, laying, via)) is not None:
        return way
    either = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
    line = route(land, (start, end), laying, either, via=via)
    return Way(laid_in_pieces(land, line, laying), rule_kept=False)


def _falling(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place]
) -> Way | None:
    """A line that keeps the grades of its laying, or None where the land has none.

    Sampled finer than in the search, its trench may be a hair too shallow somewhere: then it is
    laid as a line with rises is.
    """
    greatest = laying.greatest_grade
    rule = GradeRule(lowest=None if greatest is None else -greatest, highest=-laying.least_grade)
    try:
        line = route(land, (start, end), laying, rule, via=via)
    except NoRoute as blocked:
        if blocked.obstacle != "grade":
            raise
        return None
    laid = laid_falling(land, line, laying)
    if laid is not None:
        return Way(laid, rule_kept=True)
    return None if greatest is not None else Way(laid_in_pieces(land, line, laying), False)
