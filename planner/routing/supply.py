"""Supply, waste and overflow: lines that fall all the way and may run part full."""

from collections.abc import Sequence

from planner.errors import NoRoute
from planner.grade.rule import GradeRule
from planner.routing.land import Land
from planner.routing.way import Place, Way, laid_falling, laid_in_pieces, route
from planner.site.value import Laying


def find_falling(
    land: Land, start: Place, end: Place, laying: Laying, via: Sequence[Place] = ()
) -> Way:
    """A line that falls by at least the least grade all the way, no sag at all.

    Where the land allows none, the best line with rises in it is shown instead, its rule broken.

    Raises
    ------
    NoRoute
        The end lies too high, or the ends are cut off from one another.
    """
    falling = GradeRule(highest=-laying.least_grade)
    try:
        line = route(land, (start, end), laying, falling, via=via)
    except NoRoute as blocked:
        if blocked.obstacle != "grade":
            raise
        either = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
        line = route(land, (start, end), laying, either, via=via)
        return Way(laid_in_pieces(land, line, laying), rule_kept=False)
    laid = laid_falling(land, line, laying)
    if laid is None:  # sampled finer, the trench is a hair too shallow somewhere
        return Way(laid_in_pieces(land, line, laying), rule_kept=False)
    return Way(laid, rule_kept=True)
