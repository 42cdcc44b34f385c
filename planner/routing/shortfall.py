"""How much level a line that only rises, or only falls, is short of, and where.

A line that falls is one that rises the other way round, so all is told of lines that rise from a
low end to a high one. One sweep from the high end says how high the pipe may lie at each cell if it
is still to come up there, `above`; one from the low end, upside down, how low it can lie there if
it has come from below, `under`. Where a cell has both, the pipe is `under - above` short. Where
the cells of the two sweeps lie apart, straight pieces from one to the other are laid across: each
needs a trench deeper by so much, and the one that needs least is the nearest miss.
"""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from planner.routing.ahead_kernel import highest_levels
from planner.routing.edge_kernel import Field, Links
from planner.routing.grid import Grid, make_grid
from planner.routing.ground import Ground, band_at
from planner.routing.links import links
from planner.routing.window import window
from planner.terrain.sample import cell_centre, grid_position
from planner.terrain.value import BoolArray, FloatArray, Terrain

Place = tuple[float, float]
Band = TypeVar("Band", Field, Links)
PART = 0.25  # of a cell, between samples
MOST_PIECES = 300  # laid across from sweep to sweep
MOST_AT_EDGE = 500  # cells on the edge of the data, from either sweep
MOST_CELLS = 8_000_000  # that are swept; a wait of some seconds


@dataclass(frozen=True, slots=True)
class Shortfall:
    """The nearest miss.

    Attributes
    ----------
    where : (float, float)
        x, y [m].
    level : float
        What is missing there [m]: the trench would have to be deeper by so much.
    edge : (float, float) or None
        x, y where what is reached comes to the edge of the data, if the levels there would allow a
        way beyond it.
    """

    where: Place
    level: float
    edge: Place | None


@dataclass(frozen=True, eq=False, slots=True)
class _Sweeps:
    """The two sweeps over (rows, cols), and the two ends; NaN where not reached."""

    ground: Ground
    edge: BoolArray
    low: Place
    high: Place
    under: FloatArray
    above: FloatArray


def shortfall(ground: Ground, low: Place, high: Place, grade: float) -> Shortfall | None:
    """By how much a line that rises by a least grade from one end to the other falls short.

    Parameters
    ----------
    ground : Ground
        Looked at around the two ends, as far again as they lie apart.
    low, high : (float, float)
        x, y of the ends [m], on open ground.
    grade : float
        Least grade, 0 or more.

    Returns
    -------
    Shortfall or None
        None if nothing is missing, or if the land between the ends is too large to tell.
    """
    part = window(ground, low, high)
    if part.terrain.z.size > MOST_CELLS:
        return None
    swept = _sweep(part, edge_cells(part.terrain, ground.terrain), low, high, grade)
    found = [*_where_both(swept), *_across(swept, grade)]
    level, where = min(found, key=lambda miss: miss[0], default=(0.0, low))
    return Shortfall(where, level, _at_edge(swept, grade)) if level > 0.0 else None


def _sweep(ground: Ground, edge: BoolArray, low: Place, high: Place, grade: float) -> _Sweeps:
    grid = make_grid(ground)
    up, down = (links(grid, end, "to", None) for end in (high, low))
    above = highest_levels(grid.field, grid.stencil, up, grade, -np.inf)
    under = -highest_levels(_turned(grid.field), grid.stencil, _turned(down), grade, -np.inf)
    return _Sweeps(ground, edge, low, high, _cells(grid, under), _cells(grid, above))


def _turned(band: Band) -> Band:
    """Upside down."""
    return band._replace(top=-band.bottom, bottom=-band.top)


def _cells(grid: Grid, levels: FloatArray) -> FloatArray:
    """(rows, cols) of what a sweep says."""
    rows, cols = (np.arange(n) for n in grid.ground.terrain.shape)
    found = levels[grid.node(rows[:, None], cols[None, :])]
    return np.where(np.isfinite(found), found, np.nan)


def _where_both(swept: _Sweeps) -> list[tuple[float, Place]]:
    """What is missing where both sweeps come."""
    missing = swept.under - swept.above
    if np.all(np.isnan(missing)):
        return []
    row, col = divmod(int(np.nanargmin(missing)), missing.shape[1])
    return [(float(missing[row, col]), _centre(swept.ground, (row, col)))]


def _across(swept: _Sweeps, grade: float) -> list[tuple[float, Place]]:
    """What is missing on straight pieces from what is reached from below to what leads up."""
    tops, bottoms = band_at(swept.ground, np.array([swept.low, swept.high]))
    pieces = [(swept.low, swept.high, float(bottoms[0]), float(tops[1]))]
    from_below, to_top = np.isfinite(swept.under), np.isfinite(swept.above)
    if from_below.any() and not to_top.any():
        pieces += [
            (_centre(swept.ground, cell), swept.high, float(swept.under[cell]), float(tops[1]))
            for cell in _nearest_cells(swept.ground, from_below, swept.high)
        ]
    elif to_top.any() and not from_below.any():
        pieces += [
            (swept.low, _centre(swept.ground, cell), float(bottoms[0]), float(swept.above[cell]))
            for cell in _nearest_cells(swept.ground, to_top, swept.low)
        ]
    elif not np.any(from_below & to_top):
        pieces += _gaps(swept, from_below, to_top)
    return [miss for piece in pieces if (miss := _missing_on(swept.ground, grade, *piece))]


def _nearest_cells(ground: Ground, cells: BoolArray, place: Place) -> list[tuple[int, ...]]:
    rows, cols = np.nonzero(cells)
    x, y = cell_centre(ground.terrain, rows, cols)
    first = np.argsort(np.hypot(x - place[0], y - place[1]), kind="stable")[:MOST_PIECES]
    return [(int(rows[k]), int(cols[k])) for k in first]


def _gaps(
    swept: _Sweeps, from_below: BoolArray, to_top: BoolArray
) -> list[tuple[Place, Place, float, float]]:
    """Pieces from the rim of what is reached from below, each to the nearest cell that leads up.

    Half of them the shortest there are, half spread over all the rim.
    """
    away, (to_row, to_col) = ndimage.distance_transform_edt(
        ~to_top, sampling=swept.ground.terrain.cell[::-1], return_indices=True
    )
    rows, cols = np.nonzero(from_below & ~ndimage.binary_erosion(from_below))
    order = np.argsort(away[rows, cols], kind="stable")
    half = MOST_PIECES // 2
    spread = order[half :: max(-(-(order.size - half) // half), 1)]
    pieces = []
    for k in [*order[:half], *spread]:
        here = int(rows[k]), int(cols[k])
        there = int(to_row[here]), int(to_col[here])
        places = _centre(swept.ground, here), _centre(swept.ground, there)
        pieces.append((*places, float(swept.under[here]), float(swept.above[there])))
    return pieces


def _missing_on(
    ground: Ground, grade: float, here: Place, there: Place, low: float, high: float
) -> tuple[float, Place] | None:
    """Extra depth [m] that a straight piece needs, from a level to one, and where it needs it."""
    if here == there:
        return low - high, here
    along = _samples(ground.terrain, here, there)
    xy = np.array(here) + along[:, None] * np.subtract(there, here)
    run = along * float(np.hypot(*np.subtract(there, here)))
    top, bottom = band_at(ground, xy)
    if not np.all(np.isfinite(top)):
        return None
    bottom[0], top[-1] = max(bottom[0], low), min(top[-1], high)
    lowest = np.maximum.accumulate(bottom - grade * run) + grade * run
    k = int(np.argmax(lowest - top))
    return max(float(lowest[k] - top[k]), 0.0), (float(xy[k, 0]), float(xy[k, 1]))


def _samples(terrain: Terrain, here: Place, there: Place) -> FloatArray:
    """Shares of the way at a quarter cell and wherever it crosses a line of cell centres.

    There the ground has its ridges, which samples would miss by an eighth of a cell.
    """
    row, col = grid_position(terrain, [here[0], there[0]], [here[1], there[1]])
    pieces = int(np.ceil(np.hypot(row[1] - row[0], col[1] - col[0]) / PART)) or 1
    shares = [np.arange(pieces + 1) / pieces]
    for a, b in (row, col):
        lines = np.arange(np.ceil(min(a, b)), np.floor(max(a, b)) + 1.0)
        shares.append((lines - a) / (b - a) if a != b else np.empty(0))
    return np.unique(np.clip(np.concatenate(shares), 0.0, 1.0))


def _at_edge(swept: _Sweeps, grade: float) -> Place | None:
    """Where the line might leave the data, if it might come back to a cell that leads up."""
    leaves, returns = (_thinned(swept.edge, levels) for levels in (swept.under, swept.above))
    if not (len(leaves) and len(returns)):
        return None
    height, width = swept.ground.terrain.cell[::-1]
    (row, col), (to_row, to_col) = leaves.T, returns.T
    apart = np.hypot(
        height * np.subtract.outer(row, to_row), width * np.subtract.outer(col, to_col)
    )
    spare = swept.above[to_row, to_col][None, :] - swept.under[row, col][:, None]
    fits = (spare >= grade * apart) & (apart > 0.0)
    if not fits.any():
        return None
    nearest = int(np.argmin(np.where(fits, apart, np.inf))) // len(returns)
    return _centre(swept.ground, (int(leaves[nearest, 0]), int(leaves[nearest, 1])))


def _thinned(edge: BoolArray, levels: FloatArray) -> npt.NDArray[np.int64]:
    """(n, 2) cells on the edge that a sweep reaches, not too many of them."""
    cells = np.argwhere(edge & np.isfinite(levels))
    return cells[:: max(len(cells) // MOST_AT_EDGE, 1)]


def edge_cells(part: Terrain, whole: Terrain) -> BoolArray:
    """(rows, cols) cells of a part at which the data of the whole ends.

    That is at the border of its grid, or at a void that reaches the border.
    """
    outside = np.zeros((part.shape[0] + 2, part.shape[1] + 2), dtype=np.bool_)
    west, south, east, north = (
        abs(ends - border) < min(part.cell) / 2.0
        for ends, border in zip(part.bounds, whole.bounds, strict=True)
    )
    outside[:, 0] |= west
    outside[:, -1] |= east
    outside[0] |= north
    outside[-1] |= south
    void = outside | np.pad(np.isnan(part.z), 1)
    outside = ndimage.binary_propagation(outside, mask=void)
    edge: BoolArray = ndimage.binary_dilation(outside)[1:-1, 1:-1] & np.isfinite(part.z)
    return edge


def _centre(ground: Ground, cell: tuple[int, ...]) -> Place:
    x, y = cell_centre(ground.terrain, cell[0], cell[1])
    return float(x), float(y)
