"""The cheapest line under a rule with one limit: a least rise, with or without vents, or fall."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.routing.ahead_kernel import highest_levels
from planner.routing.band_kernel import (
    TOO_MANY,
    Beyond,
    Cells,
    Root,
    Rule,
    search_band,
    trace,
)
from planner.routing.band_reach_kernel import lowest_levels
from planner.routing.edge_kernel import Field, Links
from planner.routing.fields import SAME
from planner.routing.grid import Grid
from planner.routing.ground import Ground, band_at
from planner.routing.label_kernel import Labels, make_labels, make_queue
from planner.routing.links import links
from planner.routing.piece_kernel import CLIMBS, SINKS, Digging, make_digging, make_strip
from planner.routing.plain import NO_LINKS, cost_field
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.value import FloatArray

ENDLESS = int(np.iinfo(np.int64).max)
# By how much digging may be dearer and count as no worse; nodes looked at, about 100 a µs.
EFFORTS = ((0.0, 30_000_000), (np.inf, ENDLESS))
MOST_LABELS = 60_000_000  # about 3 GB
WIDTH = 0.02  # of a bucket, in shortest moves: few labels at a time; any width is exact
LABELS_A_CELL, LEAST_LABELS = 100, 1_000_000  # far more than any search needs
FLATTEST = 1e-3  # grade that sets how finely levels are sorted
OUTGROWN = "the search has outgrown the memory set for it"
NO_BOUND = np.empty(0)
NOTHING_BEYOND = Beyond(NO_BOUND, np.inf, NO_BOUND)


@dataclass(frozen=True, slots=True)
class Prices:
    """What is paid beside the length of pipe.

    Attributes
    ----------
    vent_cost : float or None
        Of a high point [m of pipe]; None: no high points.
    dig_cost : float
        Of a square metre of the trench's section below the least cover [m of pipe].
    """

    vent_cost: float | None = None
    dig_cost: float = 0.0


@dataclass(frozen=True, slots=True)
class State:
    """How a pipe stands where one leg of a line ends and the next begins.

    Attributes
    ----------
    climbs : bool
        Walking away from the line's root (`root_of`).
    level : float
        Lowest level if it climbs, highest if it sinks [m].
    """

    climbs: bool
    level: float


def one_sided(rule: GradeRule) -> bool:
    """Whether a rule has one limit, so that this search is the one to use."""
    return (rule.lowest is None) != (rule.highest is None)


def rooted_at_end(rule: GradeRule) -> bool:
    """Whether the search walks back from the end: so it does for a line that rises."""
    return rule.lowest is not None


def find_in_band(
    grid: Grid,
    start: Place,
    end: Place,
    rule: GradeRule,
    prices: Prices,
    *,
    begins: End = "open",
    carried: State | None = None,
) -> Walk | Miss:
    """The cheapest line between two places under a rule with one limit.

    The optimum over all lines on the grid's moves and all layings in its band of length times the
    ground's factor, digging and vents; exact where the walk says so (`EFFORTS`).

    Parameters
    ----------
    grid : Grid
    start, end : (float, float)
        x, y [m].
    rule : GradeRule
        With one limit; its slack and vent cost don't count, but the band of the grid and `prices`.
    prices : Prices
        A vent cost needs a rule that rises.
    begins : {"open", "closed"}
        A line that falls away from a closed start pays for a vent there.
    carried : State, optional
        How the pipe stands at the root, the end of a line that rises or the start of one that
        falls, where that is a way point and the line beyond is known; by default it may lie at
        any level. Legs are searched in this order, away from the root of the whole line.

    Returns
    -------
    Walk or Miss
        `Miss.nearest` is the cell nearest to the end that a line from the start comes to.

    Raises
    ------
    MemoryError
        The search outgrew the memory set for it.
    """
    back = rooted_at_end(rule)
    here, there = (end, start) if back else (start, end)
    root = set_out(grid.ground, here, prices, carried)
    if root is None:
        return Miss(None)
    entry, leave = links(grid, here, "from", there), links(grid, there, "to", None)
    task = band_rule(rule, prices, begins, grid.ground.side_slope)
    ahead = cost_field(grid, there, here)
    below = levels_below(grid, task, root, links(grid, there, "from", None))
    beyond = Beyond(ahead.cost, ahead.final, below)
    for effort in _efforts(task):
        try:
            found = label_band(grid, effort, root, entry, leave, beyond)
            break
        except MemoryError:
            if effort.patience == ENDLESS:
                raise
    if found.label == 0:
        return Miss(_nearest(grid, start, end, task, back))
    xy = found.line(found.label, there, here)
    cost = float(found.labels.cost[found.label])
    return Walk(xy if back else xy[::-1], cost, exact=effort.loose == 0.0)


def _efforts(task: Rule) -> Iterator[Rule]:
    """The rule, loose where digging leaves more pieces to compare than there is time for.

    On flat land a piece that climbs has many ways to dig, each best for some end of it. A loose
    search keeps the one that has cost least so far: on real ground it found the same line each time
    in a twentieth of the time, but it proves nothing.
    """
    if task.vented and task.dig > 0.0:
        for loose, patience in EFFORTS:
            yield task._replace(loose=loose, patience=patience)
    else:
        yield task


@dataclass(frozen=True, eq=False, slots=True)
class Labelling:
    """What a search came to.

    Attributes
    ----------
    grid : Grid
    rule : Rule
    cells : Cells
    labels : Labels
    digging : Digging
    label : int
        The one at the far end; 0 where none comes there.
    """

    grid: Grid
    rule: Rule
    cells: Cells
    labels: Labels
    digging: Digging
    label: int

    def line(self, label: int, far: Place, root: Place) -> FloatArray:
        """(n, 2) vertices [m] of a label's pipe, from the far end to the root."""
        nodes = trace(self.labels, label)
        x, y = self.grid.centre(nodes[nodes < self.grid.cells])
        xy = np.vstack([far, np.column_stack([x, y]), root])
        apart = np.hypot(*np.diff(xy, axis=0).T) > SAME
        kept = xy[:-1][np.concatenate([[True], apart[:-1]])]
        if len(kept) > 1 and np.hypot(*(kept[-1] - xy[-1])) <= SAME:
            kept = kept[:-1]
        return np.vstack([kept, xy[-1:]])


def label_band(
    grid: Grid, rule: Rule, root: Root, entry: Links, leave: Links, beyond: Beyond
) -> Labelling:
    """Search from a root to the far end, or over the whole grid where `leave` holds no links.

    Raises
    ------
    MemoryError
        The search outgrew the memory set for it.
    """
    most = most_labels(grid)
    cells, labels = _cells(grid), make_labels(most)
    samples = max(most_samples(grid.stencil.sample_from), most_samples(entry.sample_from))
    samples = max(samples, most_samples(leave.sample_from))
    digging = make_digging(2 * most if rule.dig > 0.0 and rule.vented else 2, samples)
    found = search_band(
        grid.field,
        grid.stencil,
        rule,
        root,
        entry,
        leave,
        beyond,
        cells,
        labels,
        digging,
        make_queue(most, WIDTH * float(np.min(grid.stencil.run))),
        make_strip(samples),
    )
    if found.status == TOO_MANY:
        raise MemoryError(OUTGROWN)
    return Labelling(grid, rule, cells, labels, digging, int(found.label))


def most_labels(grid: Grid) -> int:
    """How many labels a search may make."""
    return min(MOST_LABELS, LABELS_A_CELL * grid.cells + LEAST_LABELS)


def most_samples(sample_from: npt.NDArray[np.int64]) -> int:
    """Samples of the longest of some moves or links."""
    return int(np.max(np.diff(sample_from), initial=0))


def _cells(grid: Grid) -> Cells:
    return Cells(
        room=grid.zeros(np.float64, 2, 2),
        waiting=grid.zeros(np.int32, 2, 2),
        settled=grid.zeros(np.int32, 2, 2),
        seen=grid.zeros(np.uint8, 1, 1),
        leaving=grid.zeros(np.int32),
    )


def band_rule(rule: GradeRule, prices: Prices, begins: End, side_slope: float) -> Rule:
    """The rule as walked away from the root."""
    lowest, highest = rule.rising
    vent = 0.0 if prices.vent_cost is None else float(prices.vent_cost)
    return Rule(
        grade=float(lowest if rooted_at_end(rule) else -highest),
        vented=prices.vent_cost is not None,
        vent=vent,
        dig=float(prices.dig_cost),
        closing=vent if begins == "closed" else 0.0,
        side_slope=float(side_slope),
    )


def set_out(ground: Ground, place: Place, prices: Prices, carried: State | None) -> Root | None:
    """Where the walk begins; None on closed ground."""
    tops, bottoms = band_at(ground, np.array([place], dtype=np.float64))
    top, bottom = float(tops[0]), float(bottoms[0])
    if not np.isfinite(top):
        return None
    level, cost = np.array([top, bottom]), np.zeros(2)
    if carried is not None:
        level[int(carried.climbs)] = carried.level
    if prices.vent_cost is None:
        cost[CLIMBS] = np.inf
    elif carried is not None and carried.climbs:
        cost[SINKS] = prices.vent_cost
    return Root(top, level, cost)


def levels_below(grid: Grid, rule: Rule, root: Root, far: Links) -> FloatArray:
    """`Beyond.below`, where the pipe may not climb.

    Raises
    ------
    MemoryError
    """
    if rule.vented or rule.grade < 0.0:
        return NO_BOUND
    below = grid.zeros(np.float64)
    most = most_labels(grid)
    width = WIDTH * float(np.min(grid.stencil.run)) * max(rule.grade, FLATTEST)
    if not lowest_levels(
        grid.field,
        grid.stencil,
        rule.grade,
        far,
        float(root.level[SINKS]),
        below,
        make_labels(most),
        make_queue(most, width),
        make_strip(most_samples(grid.stencil.sample_from)),
    ):
        raise MemoryError(OUTGROWN)
    return below


def upside_down(field: Field) -> Field:
    """The ground seen from below: what climbs in it sinks."""
    return field._replace(top=-field.bottom, bottom=-field.top)


def _nearest(grid: Grid, start: Place, end: Place, rule: Rule, back: bool) -> Place | None:
    """The cell nearest to the end that a line from the start comes to, whatever it costs."""
    one_way = not rule.vented and rule.grade >= 0.0
    come_to = _by_levels if one_way else _by_labels
    x, y = grid.centre(come_to(grid, start, rule, back))
    if x.size == 0:
        return None
    best = int(np.argmin(np.hypot(x - end[0], y - end[1])))
    return float(x[best]), float(y[best])


def _by_levels(grid: Grid, start: Place, rule: Rule, back: bool) -> npt.NDArray[np.int64]:
    """Cells that a line comes to which only rises, or only falls: one level a cell tells."""
    field, out = grid.field, links(grid, start, "to", None)
    if back:  # a line that rises sinks upside down
        field, out = upside_down(field), out._replace(top=-out.bottom, bottom=-out.top)
    return np.flatnonzero(
        np.isfinite(highest_levels(field, grid.stencil, out, rule.grade, -np.inf))
    )


def _by_labels(grid: Grid, start: Place, rule: Rule, back: bool) -> npt.NDArray[np.int64]:
    """Cells that a line comes to which may rise and fall."""
    root = set_out(grid.ground, start, Prices(0.0 if rule.vented else None), None)
    if root is None:
        return np.empty(0, np.int64)
    entry = links(grid, start, "from", None)
    field = grid.field
    if back and not rule.vented:  # a line that rises sinks upside down
        field = upside_down(field)
        entry = entry._replace(top=-entry.bottom, bottom=-entry.top)
        root = Root(-root.level[CLIMBS], -root.level[::-1], root.cost)
    found = label_band(
        replace(grid, field=field), rule._replace(dig=0.0), root, entry, NO_LINKS, NOTHING_BEYOND
    )
    return np.flatnonzero(found.cells.seen[:-1])
