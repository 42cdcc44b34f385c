"""The neighbours of a cell, and where the ground between two of them is sampled.

Between two centres the ground is the bilinear surface of the cells around; along an edge it is
quadratic from patch to patch, so it is tested every quarter cell. A corner that is closed or void
is NaN and fails every test: no edge slips through a wall, not even a wall one cell thin.
"""

from math import gcd
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

Neighbours = Literal[8, 16, 32, 80, 176]
REACH: dict[Neighbours, int] = {8: 1, 16: 2, 32: 3, 80: 5, 176: 8}
QUARTER = 0.25  # of a cell, greatest distance of samples along an edge
PRICE_SAMPLES = 40  # along an edge, for the share of each cell it crosses


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
        straight = rows == 0 or cols == 0  # bilinear is linear there: the end alone decides
        # Even, so that the middle of a long move, where it crosses a line of centres, is a sample.
        count = 1 if straight else 2 * int(np.ceil(np.hypot(rows, cols) / QUARTER / 2.0))
        for k in range(1, count + 1):
            step.append(length / count)
            for offset, share in _corners(rows * k / count, cols * k / count, columns):
                corner.append(offset)
                weight.append(share)
            corner_from.append(len(corner))
        sample_from.append(len(step))
        cells, shares = _crossed(rows, cols, columns)
        price_cell += cells
        price_share += shares
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


def _corners(row: float, col: float, columns: int) -> list[tuple[int, float]]:
    r0, c0 = int(np.floor(row + 1e-12)), int(np.floor(col + 1e-12))
    fr, fc = row - r0, col - c0
    return [
        ((r0 + dr) * columns + c0 + dc, wr * wc)
        for dr, wr in ((0, 1.0 - fr), (1, fr))
        for dc, wc in ((0, 1.0 - fc), (1, fc))
        if wr * wc > 1e-12
    ]


def _crossed(rows: int, cols: int, columns: int) -> tuple[list[int], list[float]]:
    along = (np.arange(PRICE_SAMPLES) + 0.5) / PRICE_SAMPLES
    flat = np.floor(rows * along + 0.5) * columns + np.floor(cols * along + 0.5)
    cells, counts = np.unique(flat.astype(np.int64), return_counts=True)
    return cells.tolist(), (counts / PRICE_SAMPLES).tolist()
