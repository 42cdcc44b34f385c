"""What the compiled sweeps are told of each move: the cells it crosses, the pieces that count."""

from functools import lru_cache
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from planner.routing.cost_kernel import Crossing, IndexArray
from planner.routing.rising_kernel import Pieces
from planner.routing.stencil import Neighbours, corners, crossed, moves, patches, sampled


@lru_cache(maxsize=64)
def crossing_of(neighbours: Neighbours, columns: int) -> Crossing:
    """What the moves cross in a grid of so many columns, and what must be open for each."""
    move, ends, pair_from, corner_from = [], [], [0], [0]
    pairs: list[tuple[float, int, int]] = []
    corner: list[int] = []
    for rows, cols in moves(neighbours):
        far = rows * columns + cols
        cells = [(share, row * columns + col) for row, col, share in crossed(rows, cols)]
        middle = len(cells) // 2  # an even number, alike from both ends
        pairs += [(*cells[p], cells[-1 - p][1]) for p in range(1, middle)]
        pair_from.append(len(pairs))
        touched = {
            row * columns + col
            for part in sampled(rows, cols)
            for row, col, _ in corners(rows * part, cols * part)
        }
        corner += sorted(touched - {0, far})
        corner_from.append(len(corner))
        move.append(far)
        ends.append(cells[0][0])
    plain = int(np.sum(np.diff(pair_from) == 0))
    return Crossing(
        move=offsets(move),
        plain=plain,
        end_share=np.array(ends),
        pair_from=np.array(pair_from),
        pair_share=np.array([pair[0] for pair in pairs], dtype=np.float64),
        near=offsets([pair[1] for pair in pairs]),
        far=offsets([pair[2] for pair in pairs]),
        beyond=offsets(sorted({*move, *corner} - {*move[:plain]})),
        corner_from=np.array(corner_from),
        corner=offsets(corner),
        columns=columns,
    )


@lru_cache(maxsize=64)
def pieces_of(neighbours: Neighbours, columns: int, cell: tuple[float, float]) -> Pieces:
    """The pieces of each move that stand for all its pieces."""
    begin, length, corner, weight = [0], [], [], []
    for rows, cols in moves(neighbours):
        for t0, t1 in extreme_pieces(rows, cols):
            length.append(float(np.hypot(rows * cell[1], cols * cell[0])) * (t1 - t0))
            rise = dict.fromkeys(_patch(rows, cols, (t0 + t1) / 2.0), 0.0)
            for sign, part in ((-1.0, t0), (1.0, t1)):
                for row, col, share in corners(rows * part, cols * part):
                    rise[row, col] += sign * share
            corner.append([row * columns + col for row, col in rise])
            weight.append(list(rise.values()))
        begin.append(len(length))
    return Pieces(np.array(begin), np.array(length), offsets(corner), np.array(weight))


def extreme_pieces(rows: int, cols: int) -> list[tuple[float, float]]:
    """First and last piece of each patch a move passes; none where it keeps to a line of centres.

    In a patch the ground along a move is a parabola and the pieces are of one length, so that their
    grades lie between those of the first and the last.
    """
    if rows == 0 or cols == 0:
        return []
    pieces = list(pairwise(sampled(rows, cols)))
    found = []
    for begin, end in pairwise(patches(rows, cols)):
        inside = [(t0, t1) for t0, t1 in pieces if begin < (t0 + t1) / 2.0 < end]
        found += [inside[0], inside[-1]] if len(inside) > 1 else inside
    return found


def offsets(signed: npt.ArrayLike) -> IndexArray:
    """Offsets as unsigned numbers that wrap around."""
    return np.array(signed, dtype=np.int64).view(np.uint64)


def _patch(rows: int, cols: int, part: float) -> list[tuple[int, int]]:
    """The four cells around a place on a move."""
    row, col = int(np.floor(rows * part)), int(np.floor(cols * part))
    return [(row, col), (row, col + 1), (row + 1, col), (row + 1, col + 1)]
