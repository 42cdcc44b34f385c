"""Straightening by the price of the whole line, for what no part of it can be priced by.

Digging is such a price: how deep a pipe lies at one place hangs on the ground far along the line.
So each trial prices the whole line, and their number is bounded.
"""

from collections.abc import Callable

import numpy as np

from planner.terrain.value import FloatArray

Price = Callable[[FloatArray], float]
TURN = 2.399963  # radians between the directions of two rounds: the golden angle, never repeating
WAYS = 4  # in which a vertex is moved in one round
FIRST_STEP, LAST_STEP = 1.0, 0.1  # cells
GAIN = 1e-3  # m of pipe that a move must save
SHORT = 3.0  # price of a metre that a leg is short of the least leg
BARREN = 3  # lengths of cut at which nothing was dropped


class Trials:
    """The best line so far, and how many more may be tried."""

    def __init__(self, xy: FloatArray, worth: Price, most: int) -> None:
        self.xy, self.worth, self.left = xy, worth, most
        self.paid = worth(xy)

    def take(self, xy: FloatArray, gain: float) -> bool:
        """Take a line in place of the best if it saves so much."""
        if self.left <= 0:
            return False
        self.left -= 1
        paid = self.worth(xy)
        if not paid <= self.paid - gain:
            return False
        self.xy, self.paid = xy, paid
        return True


def settle(xy: FloatArray, price: Price, shape: Price, cell: float, most: int) -> FloatArray:
    """Drop and move vertices while the whole line gets cheaper.

    Parameters
    ----------
    xy : (n, 2) ndarray
        Vertices [m].
    price : function of (n, 2) vertices
        Cost of a line [m of pipe], infinite where it is not allowed.
    shape : function of (n, 2) vertices
        What its bends and short legs are charged [m of pipe] (`price_of_shape`).
    cell : float
        Side of a cell [m].
    most : int
        Lines tried at most.
    """
    trials = Trials(xy, lambda line: price(line) + shape(line), most)
    _drop(trials)
    _slide(trials, cell)
    return trials.xy


def price_of_shape(xy: FloatArray, bend_cost: float, least_leg: float) -> float:
    """What a line's bends cost, and what its legs are short of the least leg [m of pipe]."""
    short = np.maximum(least_leg - np.hypot(*np.diff(xy, axis=0).T), 0.0)
    return bend_cost * (len(xy) - 2) + SHORT * float(short.sum())


def _drop(trials: Trials) -> None:
    """Drop vertices, short cuts first."""
    cut, barren = 2, 0
    while cut < len(trials.xy) and barren < BARREN:
        first, before = 0, len(trials.xy)
        while first + cut < len(trials.xy):
            gone = np.s_[first + 1 : first + cut]
            if not trials.take(np.delete(trials.xy, gone, axis=0), 0.0):
                first += 1
        barren = barren + 1 if len(trials.xy) == before else 0
        cut = max(cut + 1, 3 * cut // 2)


def _slide(trials: Trials, cell: float) -> None:
    """Move each vertex by steps that grow where they succeed and shrink where they do not."""
    stride, turn = np.full(len(trials.xy), FIRST_STEP), 0
    while trials.left > 0 and np.any(stride[1:-1] >= LAST_STEP):
        k = 1
        while k < len(trials.xy) - 1:
            if trials.take(np.delete(trials.xy, k, axis=0), 0.0):
                stride = np.delete(stride, k)
                continue
            if stride[k] >= LAST_STEP:
                moved = [_moved(trials, k, turn, way, stride[k] * cell) for way in range(WAYS)]
                stride[k] *= 2.0 if any(moved) else 0.5
            k += 1
        turn += 1


def _moved(trials: Trials, k: int, turn: int, way: int, step: float) -> bool:
    angle = turn * TURN + 2.0 * np.pi * way / WAYS
    xy = trials.xy.copy()
    xy[k] += step * np.array([np.cos(angle), np.sin(angle)])
    return trials.take(xy, GAIN)
