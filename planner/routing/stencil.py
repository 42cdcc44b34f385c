"""The neighbours of a cell, and where the ground between two of them is sampled.

Between two centres the ground is the bilinear surface of the cells around; along an edge it is
quadratic from patch to patch, so it is tested where a patch begins and every quarter cell. A corner
that is closed or void is NaN and fails every test: no edge slips through a wall, not even a wall
one cell thin.
"""

from functools import lru_cache
from itertools import pairwise
from math import gcd
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

Neighbours = Literal[8, 16, 32, 80, 176]
REACH: dict[Neighbours, int] = {8: 1, 16: 2, 32: 3, 80: 5, 176: 8}
QUARTER = 0.25  # of a cell, greatest distance of samples along an edge
ROUNDING = 1e-12  # of a cell, and of a move


class Stencil(NamedTuple):
    """Moves to neighbours, flat arrays for the compiled search.

    Attributes
    ----------
    move, run : (K,)
        Offset of the neighbour's flat index; horizontal distance [m].
    east, north : (K,)
        Direction of each move, a unit vector on the ground.
    sample_from : (K + 1,)
        Where each move's samples begin in `step`; the last sample is the neighbour's centre.
    step : (S,)
        Horizontal distance from the sample before [m].
    corner_from : (S + 1,)
        Where each sample's corners begin in `corner` and `weight`.
    corner, weight : (C,)
        Offsets and bilinear weights.
    price_from, price_cell, price_share : (K + 1,), (P,), (P,)
        The cells each move crosses and the share of its length in each.
    """

    move: NDArray[np.int64]
    run: NDArray[np.float64]
    east: NDArray[np.float64]
    north: NDArray[np.float64]
    sample_from: NDArray[np.int64]
    step: NDArray[np.float64]
    corner_from: NDArray[np.int64]
    corner: NDArray[np.int64]
    weight: NDArray[np.float64]
    price_from: NDArray[np.int64]
    price_cell: NDArray[np.int64]
    price_share: NDArray[np.float64]


def moves(neighbours: Neighbours) -> list[tuple[int, int]]:
    """(rows, cols) of every move: all within reach that no shorter move repeats, nearest first."""
    reach = REACH[neighbours]
    within = range(-reach, reach + 1)
    found = [(r, c) for r in within for c in within if gcd(r, c) == 1]
    return sorted(found, key=lambda move: (np.hypot(*move), move))


@lru_cache(maxsize=64)
def make_stencil(cell: tuple[float, float], columns: int, neighbours: Neighbours = 16) -> Stencil:
    """Stencil for cells of the given width and height [m] in a grid of so many columns."""
    move, run, east, north, step, corner, weight = [], [], [], [], [], [], []
    sample_from, corner_from, price_from = [0], [0], [0]
    price_cell: list[int] = []
    price_share: list[float] = []
    for rows, cols in moves(neighbours):
        length = float(np.hypot(rows * cell[1], cols * cell[0]))
        move.append(rows * columns + cols)
        run.append(length)
        east.append(cols * cell[0] / length)
        north.append(-rows * cell[1] / length)
        for t0, t1 in pairwise(sampled(rows, cols)):
            step.append(length * (t1 - t0))
            for row, col, share in corners(rows * t1, cols * t1):
                corner.append(row * columns + col)
                weight.append(share)
            corner_from.append(len(corner))
        sample_from.append(len(step))
        for row, col, share in crossed(rows, cols):
            price_cell.append(row * columns + col)
            price_share.append(share)
        price_from.append(len(price_cell))
    return Stencil(
        np.array(move),
        np.array(run),
        np.array(east),
        np.array(north),
        np.array(sample_from),
        np.array(step),
        np.array(corner_from),
        np.array(corner),
        np.array(weight),
        np.array(price_from),
        np.array(price_cell),
        np.array(price_share),
    )


def patches(rows: int, cols: int) -> list[float]:
    """Parts of a move, from 0 to 1, at which it passes from one bilinear patch into the next.

    Patches meet on the lines of centres. Along such a line the ground is straight from centre to
    centre, and a move along it is one patch long.
    """
    return _distinct([k / abs(n) for n in (rows, cols) if n for k in range(abs(n) + 1)])


def sampled(rows: int, cols: int) -> list[float]:
    """Parts of a move, from 0 to 1, where it is tested: each patch in equal steps."""
    if rows == 0 or cols == 0:  # the ground is straight there: the end alone decides
        return [0.0, 1.0]
    found = [0.0]
    for t0, t1 in pairwise(patches(rows, cols)):
        count = int(np.ceil(np.hypot(rows, cols) * (t1 - t0) / QUARTER - ROUNDING))
        found += [t0 + (t1 - t0) * k / count for k in range(1, count + 1)]
    return found


def corners(row: float, col: float) -> list[tuple[int, int, float]]:
    """(row, col, weight) of the cells between which a point is interpolated, bilinear."""
    r0, c0 = int(np.floor(row + ROUNDING)), int(np.floor(col + ROUNDING))
    fr, fc = row - r0, col - c0
    return [
        (r0 + dr, c0 + dc, wr * wc)
        for dr, wr in ((0, 1.0 - fr), (1, fr))
        for dc, wc in ((0, 1.0 - fc), (1, fc))
        if wr * wc > ROUNDING
    ]


def crossed(rows: int, cols: int) -> list[tuple[int, int, float]]:
    """(row, col, share) of the cells a move crosses, and the share of its length in each.

    A cell whose corner alone is touched has no share.
    """
    edges = [(k + 0.5) / abs(n) for n in (rows, cols) if n for k in range(abs(n))]
    return [
        (int(np.floor(rows * middle + 0.5)), int(np.floor(cols * middle + 0.5)), t1 - t0)
        for t0, t1 in pairwise(_distinct([0.0, *edges, 1.0]))
        for middle in [(t0 + t1) / 2.0]
    ]


def _distinct(parts: list[float]) -> list[float]:
    """In order, each once, though rounding tells equal ones apart."""
    parts = sorted(parts)
    return [t for k, t in enumerate(parts) if k == 0 or t - parts[k - 1] > ROUNDING]
