"""The cost from every cell to one end of a line, under a rule with one limit."""

from dataclasses import dataclass, replace

import numpy as np

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.band import (
    NOTHING_BEYOND,
    Labelling,
    Prices,
    band_rule,
    label_band,
    most_samples,
    rooted_at_end,
    set_out,
)
from planner.routing.band_field_kernel import come_to, least_costs
from planner.routing.grid import Grid
from planner.routing.label_kernel import without_spare
from planner.routing.links import links
from planner.routing.piece_kernel import SINKS
from planner.routing.plain import NO_LINKS
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.value import FloatArray


@dataclass(frozen=True, eq=False, slots=True)
class BandField:
    """All that is to be known of the lines between one end and anywhere.

    Attributes
    ----------
    root : (float, float)
        x, y of the end of a line that rises, the start of one that falls [m].
    back : bool
        Whether it is the end.
    found : Labelling
    """

    root: Place
    back: bool
    found: Labelling

    def cost(self, begins: End = "open") -> FloatArray:
        """(cells,) cost of the cheapest line [m of pipe]; infinite where none comes."""
        cost = np.empty(self.found.grid.cells)
        closing = self.found.rule.vent if begins == "closed" else 0.0
        least_costs(self.found.cells, self.found.labels, closing, cost)
        return cost

    def line(self, place: Place, begins: End = "open") -> Walk | Miss:
        """The cheapest line between the root and a place, from start to end.

        A place so near that it is linked to the root itself, without a cell between them, is
        reached over a cell all the same.
        """
        grid = self.found.grid
        leave = links(grid, place, "to", None)
        room = np.empty((2, most_samples(leave.sample_from) + 2))
        digging = self.found.digging._replace(new_height=room[0], new_weight=room[1])
        rule = self.found.rule
        rule = rule._replace(closing=rule.vent if begins == "closed" else 0.0)
        cost, label, _ = come_to(
            grid.field, rule, leave, self.found.cells, self.found.labels, digging
        )
        if not np.isfinite(cost):
            return Miss(None)
        xy = self.found.line(label, place, self.root)
        return Walk(xy if self.back else xy[::-1], float(cost))


def band_field(
    grid: Grid, root: Place, rule: GradeRule, prices: Prices, *, begins: End | None = None
) -> BandField | None:
    """Search all lines from the end, of a rule that rises, or the start, of one that falls.

    Parameters
    ----------
    grid : Grid
    root : (float, float)
        x, y [m].
    rule, prices
        As for `planner.routing.band.find_in_band`.
    begins : {"open", "closed"}, optional
        The root is the start instead, and how it is; only of a line with vents. What pieces it may
        have and where its high points are is the same read from either end.

    Returns
    -------
    BandField or None
        None where the root stands on closed ground.

    Raises
    ------
    MemoryError
        The search outgrew the memory set for it.
    """
    begun = set_out(grid.ground, root, prices, None)
    if begun is None:
        return None
    walked = band_rule(rule, prices, "open", grid.ground.side_slope)
    if begins == "closed":  # a line that sinks away from it has a high point there
        begun = begun._replace(cost=begun.cost + np.where(np.arange(2) == SINKS, walked.vent, 0.0))
    entry = links(grid, root, "from", None)
    found = label_band(grid, walked, begun, entry, NO_LINKS, NOTHING_BEYOND)
    found = replace(found, labels=without_spare(found.labels))
    return BandField(root, rooted_at_end(rule) and begins is None, found)
