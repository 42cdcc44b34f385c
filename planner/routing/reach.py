"""From which levels a line that only rises, or only falls, reaches its end, cell by cell."""

import numpy as np

from planner.routing.ahead_kernel import highest_levels
from planner.routing.edge_kernel import Field, Links
from planner.routing.search_kernel import SWEEP_TOLERANCE, Reach, Rule
from planner.routing.stencil import Stencil
from planner.terrain.value import BoolArray, FloatArray

NO_LIMIT = np.empty(0)


def reach_of(field: Field, stencil: Stencil, rule: Rule, leave: Links) -> Reach:
    """Levels from which the end is reached over its links; no limit where both ways are open.

    A rule that keeps a line from rising or from falling bounds the level on one side; one that
    allows both, be it at the price of vents, on none.
    """
    lowest, highest = rule.grades[:2]
    if rule.ways == 2:
        return Reach(NO_LIMIT, NO_LIMIT)
    above = below = NO_LIMIT
    if lowest >= 0.0:
        above = highest_levels(field, stencil, leave, lowest, rule.low - SWEEP_TOLERANCE)
    if highest <= 0.0:
        floor = -rule.high - SWEEP_TOLERANCE
        below = -highest_levels(_upside_down(field), stencil, _turned(leave), -highest, floor)
    return Reach(above, below)


def reached_from(field: Field, stencil: Stencil, rule: Rule, back: Links) -> BoolArray | None:
    """(cells,) whether a line from the start gets there; None where `reach_of` sets no limit.

    Of a rule with limits on both sides only the one that keeps the line rising, or falling, counts.

    Parameters
    ----------
    back : Links
        From the cells to the start: the line is followed the other way round, upside down if it
        rises, so that going back it rises as well.
    """
    lowest, highest = rule.grades[:2]
    if rule.ways == 2 or (lowest < 0.0 < highest):
        return None
    if lowest >= 0.0:
        field, back, grade, level = _upside_down(field), _turned(back), lowest, -rule.low
    else:
        grade, level = -highest, rule.high
    back = back._replace(top=_capped(back, level))
    most: FloatArray = highest_levels(field, stencil, back, grade, -np.inf)
    return np.isfinite(most)


def _upside_down(field: Field) -> Field:
    return field._replace(top=-field.bottom, bottom=-field.top)


def _turned(links: Links) -> Links:
    return links._replace(top=-links.bottom, bottom=-links.top)


def _capped(links: Links, level: float) -> FloatArray:
    """The links' highest levels, at the end itself (each link's last sample) no more than given."""
    top = links.top.copy()
    last = links.sample_from[1:] - 1
    top[last] = np.minimum(top[last], level)
    return top
