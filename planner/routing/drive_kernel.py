"""Compiled: straight drive pipes from chambers to rams, every pair tried.

A drive pipe is a chord: from the ground at the chamber to the ground at the ram, straight in plan
and profile. There is nothing to search; each pair either keeps the rule or does not, and the tests
go from the cheapest to the dearest: within reach, falls, length over fall, length for the bore,
and last the ground under it every half cell. Rams come sorted by their cell, row by row, so that
from a chamber only those in its reach are looked at.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.ground_kernel import Soil, band_here

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
PART = 0.5  # of a cell, greatest distance of samples along a pipe
FIGURES = 6  # chamber, ram, fall, length, propped, dug


class Limits(NamedTuple):
    """What a drive pipe must keep.

    Attributes
    ----------
    propped, dug : float
        Farthest above and below the ground [m].
    least, most : float
        Length over fall.
    lengths : (k, 2)
        Least and most length [m]; any one of them will do.
    """

    propped: float
    dug: float
    least: float
    most: float
    lengths: FloatArray


class Places(NamedTuple):
    """Points as fractional rows and columns, and the ground's level there [m]."""

    row: FloatArray
    col: FloatArray
    level: FloatArray


@njit(cache=True)
def suits(limits: Limits, fall: float, length: float) -> bool:
    """Whether a pipe falls, and is as long as its fall and its bore want."""
    if not (fall > 0.0 and limits.least * fall <= length <= limits.most * fall):
        return False
    for k in range(limits.lengths.shape[0]):
        if limits.lengths[k, 0] <= length <= limits.lengths[k, 1]:
            return True
    return False


@njit(cache=True)
def clearance(
    soil: Soil,
    limits: Limits,
    start: tuple[float, float, float],
    end: tuple[float, float, float],
) -> tuple[bool, float, float]:
    """Whether a chord between two (row, col, level) is clear, and the most propped and dug in.

    It is not where it stands or lies too far off the ground, or over a closed or void cell.
    """
    down, along, drop = end[0] - start[0], end[1] - start[1], end[2] - start[2]
    pieces = max(int(np.ceil(np.hypot(down, along) / PART)), 1)
    propped = dug = 0.0
    for k in range(pieces + 1):
        share = k / pieces
        ground = band_here(soil, start[0] + share * down, start[1] + share * along)[0]
        depth = ground - (start[2] + share * drop)
        if not -limits.propped <= depth <= limits.dug:
            return False, propped, dug
        propped, dug = max(propped, -depth), max(dug, depth)
    return True, propped, dug


@njit(cache=True)
def pairs(
    soil: Soil, cell: FloatArray, limits: Limits, chambers: Places, rams: Places, keys: IntArray
) -> FloatArray:
    """Every pair that keeps the limits.

    Parameters
    ----------
    cell : (2,) ndarray
        Width and height of a cell [m].
    rams : Places
        Sorted by `keys`.
    keys : (m,) int ndarray
        Row times columns plus column of each ram's cell.

    Returns
    -------
    (k, 6) ndarray
        Chamber and ram as indices, fall, length, most propped, most dug in [m]; by chamber.
    """
    rows, cols = soil.z.shape
    found, count = np.empty((64, FIGURES)), 0
    lowest = rams.level.min() if rams.level.size else 0.0
    for c in range(chambers.row.size):
        row, col, level = chambers.row[c], chambers.col[c], chambers.level[c]
        reach = min(limits.lengths[:, 1].max(), limits.most * (level - lowest))
        if not reach > 0.0:
            continue
        tall, wide = reach / cell[1] + 1.0, reach / cell[0] + 1.0
        left, right = int(max(col - wide, 0.0)), int(min(col + wide, cols - 1.0))
        for r in range(int(max(row - tall, 0.0)), int(min(row + tall, rows - 1.0)) + 1):
            first = np.searchsorted(keys, r * cols + left)
            for m in range(first, keys.size):
                if keys[m] > r * cols + right:
                    break
                fall = level - rams.level[m]
                east, north = (rams.col[m] - col) * cell[0], (rams.row[m] - row) * cell[1]
                length = np.sqrt(east * east + north * north + fall * fall)
                if not suits(limits, fall, length):
                    continue
                clear, propped, dug = clearance(
                    soil,
                    limits,
                    (row, col, level),
                    (rams.row[m], rams.col[m], rams.level[m]),
                )
                if not clear:
                    continue
                if count == found.shape[0]:
                    more = np.empty((2 * count, FIGURES))
                    more[:count] = found
                    found = more
                found[count, 0], found[count, 1] = c, m
                found[count, 2], found[count, 3] = fall, length
                found[count, 4], found[count, 5] = propped, dug
                count += 1
    return found[:count].copy()


@njit(cache=True)
def best_elbow(
    soil: Soil,
    cell: FloatArray,
    limits: Limits,
    ends: tuple[tuple[float, float, float], tuple[float, float, float]],
    elbows: Places,
    least_cosine: float,
) -> int:
    """Of many elbows, the one at which a clear pipe in two legs turns least; -1 if there is none.

    Both legs fall, and their lengths together suit the whole fall.

    Parameters
    ----------
    ends : ((row, col, level), (row, col, level))
    least_cosine : float
        Of the turn, in three dimensions.
    """
    best, straightest = -1, least_cosine
    start, end = ends
    for k in range(elbows.row.size):
        elbow = (elbows.row[k], elbows.col[k], elbows.level[k])
        if not start[2] > elbow[2] > end[2]:
            continue
        x1, y1 = (elbow[1] - start[1]) * cell[0], (elbow[0] - start[0]) * cell[1]
        x2, y2 = (end[1] - elbow[1]) * cell[0], (end[0] - elbow[0]) * cell[1]
        z1, z2 = elbow[2] - start[2], end[2] - elbow[2]
        one = np.sqrt(x1 * x1 + y1 * y1 + z1 * z1)
        two = np.sqrt(x2 * x2 + y2 * y2 + z2 * z2)
        cosine = (x1 * x2 + y1 * y2 + z1 * z2) / (one * two)
        if not (cosine > straightest and suits(limits, start[2] - end[2], one + two)):
            continue
        if clearance(soil, limits, start, elbow)[0] and clearance(soil, limits, elbow, end)[0]:
            best, straightest = k, cosine
    return best
