"""The cheapest line whose grade is kept between limits, on land that may be far steeper.

On land steeper than the limit a pipe runs aslant, and over the cells it can only do so in the
directions of the stencil. So the search climbs a ladder: more neighbours, as long as they make the
line cheaper; and where there is no line over the widest stencil, smaller cells, until a staircase
of them lies inside the band. What the directions cost in length, straightening wins back: on even
land a line that keeps the grade is as long as the rise asks for, whichever way it turns
(`planner.routing.straighten_kernel`).
"""

from collections.abc import Callable
from dataclasses import replace
from functools import partial

import numpy as np

from planner.routing.corridor import Part
from planner.routing.follow import cost_along
from planner.routing.grid import Grid, corridor_grid, make_grid
from planner.routing.ground import Ground, band_at
from planner.routing.links import links
from planner.routing.plain import cost_field
from planner.routing.reach import reach_of, reached_from
from planner.routing.refine import refine
from planner.routing.search_kernel import (
    BLOCKED,
    FOUND,
    TOO_MANY,
    Beyond,
    Cells,
    Found,
    Rule,
    search,
)
from planner.routing.stencil import Neighbours
from planner.routing.walk import Miss, Place, Walk
from planner.terrain.sample import grid_position
from planner.terrain.value import FloatArray

STENCILS: tuple[Neighbours, ...] = (32, 80, 176)
# Parts a side of a cell is cut into, odd (`refine`), and the stencil over them.
SMALLER: tuple[tuple[int, Neighbours], ...] = ((3, 80), (5, 32))
MOST_CELLS = 3_000_000  # of refined ground
PAYS = 0.98  # of the cost, what a wider stencil must come to for the next to be tried
NEAR_BOUND = 1.02  # of the least there can be: near enough
# Labels at most; what two of them must differ by, as a share of the band; the bounds' weight. The
# first is exact. A tenth of the band costs some 0.1 % of length and spares nine labels in ten; the
# last searches little more than the way it finds.
EFFORTS = ((20_000, 0.0, 1.0), (300_000, 0.1, 1.0), (1_000_000, 0.25, 1.1), (4_000_000, 0.5, 1.3))
CLOSER = (1_000_000, 0.02, 1.0)  # where a thinned search found nothing
MARGINS = (0.01, 0.05)  # of the band, above and below
SAME = 1e-9  # m; vertices closer than this are one


def find_between(part: Part, rule: Rule, start: Place, end: Place) -> Walk | Miss:
    """The cheapest line between two places whose grades are kept between limits.

    Parameters
    ----------
    part : Part
        Of the ground, to search.
    rule : Rule
        As the line sets out.
    start, end : (float, float)
        x, y [m].

    Returns
    -------
    Walk or Miss
        Exact over the stencil where it says so (`Walk.exact`).

    Raises
    ------
    MemoryError
        The search outgrew the memory set for it.
    """
    ground = part.grid.ground
    rule = rule._replace(side_slope=ground.side_slope)
    best: Walk | Miss = Miss(None)
    for neighbours in STENCILS:
        found = _walk(partial(_grid, part, neighbours), ground, rule, start, end)
        if isinstance(found, Miss):
            best = found if isinstance(best, Miss) else best
            continue
        pays = isinstance(best, Miss) or found.cost < PAYS * best.cost
        best = found if isinstance(best, Miss) or found.cost < best.cost else best
        if not pays or found.cost <= NEAR_BOUND * _bound(ground, rule, start, end):
            break
    if isinstance(best, Walk):
        return best
    for parts, over in SMALLER:
        fine = refine(ground, parts, (start, end), MOST_CELLS)
        found = _walk(partial(make_grid, neighbours=over), fine, rule, start, end)
        if isinstance(found, Walk):
            return found
    return best


def _grid(part: Part, neighbours: Neighbours, ground: Ground) -> Grid:
    """The cells of a part, joined to so many neighbours."""
    if part.grid.whole:
        return make_grid(ground, neighbours)
    return corridor_grid(ground, neighbours, part.blocks, part.side)


def _bound(ground: Ground, rule: Rule, start: Place, end: Place) -> float:
    """What a line costs at least: straight, and as long as the rise takes at the limit."""
    top, bottom = band_at(ground, np.array([start, end], dtype=np.float64))
    run = float(np.hypot(end[0] - start[0], end[1] - start[1]))
    if rule.ways == 1 and bottom[1] > rule.high and rule.grades[1] > 0.0:
        run = max(run, float(bottom[1] - rule.high) / float(rule.grades[1]))
    if rule.ways == 1 and top[1] < rule.low and rule.grades[0] < 0.0:
        run = max(run, float(rule.low - top[1]) / -float(rule.grades[0]))
    return float(ground.cost.min() * np.hypot(run, top[1] - top[0]))


def _walk(
    grid_of: Callable[[Ground], Grid], ground: Ground, rule: Rule, start: Place, end: Place
) -> Walk | Miss:
    """The cheapest line over one stencil, as exactly as the number of labels allows.

    The samples of a move are not those of the line, and between them the ground may stand a
    little higher: where the line breaks the rule by that, it is searched for in a narrower band.
    """
    miss: Miss | None = None
    for margin in (0.0, *MARGINS):
        grid, narrow = grid_of(_narrower(ground, margin)), rule
        if margin > 0.0:
            spare = margin * float(np.max(ground.slack))
            narrow = rule._replace(low=rule.low + spare, high=rule.high - spare)
        run = partial(search_over, grid, start=start, end=end)
        found, exact = _search_within_bounds(run, grid, narrow)
        if found.status != FOUND:
            return miss or Miss(_nearest(grid, narrow, start, end, found.nearest))
        x, y = grid.centre(found.nodes)
        xy = _without_doubles(np.vstack([start, np.column_stack([x, y]), end]))
        if np.isfinite(cost_along(ground, rule, xy)[0]):
            return Walk(xy, float(found.cost), exact and margin == 0.0)
        miss = Miss(_nearest(grid, narrow, start, end, found.nearest))
    return miss or Miss(None)


def _narrower(ground: Ground, margin: float) -> Ground:
    """The ground with a band narrower by a share of its greatest depth, above and below."""
    if margin == 0.0:
        return ground
    spare = margin * float(np.max(ground.slack))
    terrain = replace(ground.terrain, z=ground.terrain.z - spare)
    return replace(ground, terrain=terrain, slack=ground.slack - 2.0 * spare)


def _search_within_bounds(run: Callable[..., Found], grid: Grid, rule: Rule) -> tuple[Found, bool]:
    """The first search that comes to an end, with ever fewer labels, and whether it is exact."""
    slack = float(np.max(grid.ground.slack))
    for most, thin, weight in EFFORTS:
        found = run(rule._replace(thin=thin * slack), weight=weight, most_labels=most)
        if found.status != TOO_MANY:
            break
    else:
        msg = "the search has outgrown the memory set for it"
        raise MemoryError(msg)
    if found.status == BLOCKED and thin > 0.0:
        most, closer, weight = CLOSER
        found = run(rule._replace(thin=closer * slack), weight=weight, most_labels=most)
    return found, thin == 0.0


def search_over(
    grid: Grid,
    rule: Rule,
    start: Place,
    end: Place,
    weight: float = 1.0,
    most_labels: int = 4_000_000,
) -> Found:
    """One search over the moves of a grid, exact unless `rule.thin` or `weight` say otherwise."""
    entry, leave = links(grid, start, "from", end), links(grid, end, "to", None)
    reach = reach_of(grid.field, grid.stencil, rule, leave)
    ahead = cost_field(grid, end, start)
    top, bottom = band_at(grid.ground, np.array([end], dtype=np.float64))
    row, col = grid_position(grid.ground.terrain, *end)
    beyond = Beyond(
        ahead.cost,
        ahead.final,
        grid.columns,
        float(row) - grid.first[0],
        float(col) - grid.first[1],
        *grid.ground.terrain.cell,
        float(bottom[0]),
        float(top[0]),
        weight,
    )
    cells = Cells(
        grid.zeros(np.int32, 2, 2), grid.zeros(np.float64, 6, 6), grid.zeros(np.int32, 1, 1)
    )
    found = search(grid.field, grid.stencil, rule, entry, leave, beyond, reach, cells, most_labels)
    return Found(*found)


def _nearest(grid: Grid, rule: Rule, start: Place, end: Place, settled: int) -> Place | None:
    """The cell nearest to the end that a line from the start can reach, if there is one.

    Where sweeps from the end rule out the start the search does not begin; then a sweep from the
    start says how far a line comes.
    """
    nearest = settled
    reached = reached_from(grid.field, grid.stencil, rule, links(grid, start, "to", None))
    if reached is not None:
        nodes = np.flatnonzero(reached)
        x, y = grid.centre(nodes)
        nearest = int(nodes[np.argmin(np.hypot(x - end[0], y - end[1]))]) if nodes.size else -1
    if nearest < 0:
        return None
    x, y = grid.centre(nearest)
    return float(x), float(y)


def _without_doubles(xy: FloatArray) -> FloatArray:
    """A line without vertices that stand where the one before does, both ends kept."""
    moved = np.hypot(*np.diff(xy, axis=0).T) > SAME
    return np.vstack([xy[:1], xy[1:-1][moved[:-1]], xy[-1:]])
