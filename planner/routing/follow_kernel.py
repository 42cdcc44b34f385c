"""Compiled: what a pipe costs along a given polyline, leg by leg, by labels.

A label at a place says: a pipe gets here at this price of vents, now rising (way 0) or falling
(way 1), and its level may be anything in [low, high]. One step of horizontal length s in a way with
grades [a, b] gives

    low' = max(bottom', low + a s),    high' = min(top', high + b s),

and is possible while low' <= high'. For a line that is given these intervals are all the levels
that can be reached, no more and no less: a level between two reachable ones is reachable, since
grades between two allowed ones are allowed.

The same step serves from the other end: walked backwards, a pipe of grades [a, b] has grades
[-b, -a], rising pieces fall and falling ones rise, and a high point is a high point from either
side (`backwards`). So a line of which a part is changed need not be followed again from end to end:
labels that come from the start and labels that come from the end meet where the change ends
(`meet`), and the line can be laid if and only if two of their intervals overlap there.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.edge_kernel import TOLERANCE
from planner.routing.ground_kernel import ROUNDING, Soil, cell_at, figure, slope_of
from planner.routing.search_kernel import Rule

MOST_LABELS = 24  # open labels at one place; one where a line has one way, a handful where two
PRICE, LOW, HIGH, WAY = 0, 1, 2, 3  # columns of a label
FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


class Land(NamedTuple):
    """The ground a line crosses, and how closely it is looked at.

    Attributes
    ----------
    soil : Soil
    width, height : float
        Of a cell [m].
    side_slope : float
        Steepest slope of the ground across the trench; infinite: no limit.
    part : float
        Greatest distance of samples, in cells.
    tolerance : float
        By how much the two bounds of a level may miss one another for rounding [m].
    """

    soil: Soil
    width: float
    height: float
    side_slope: float
    part: float
    tolerance: float


class Leg(NamedTuple):
    """Fractional row and column of both ends."""

    row0: float
    col0: float
    row1: float
    col1: float


class Patch(NamedTuple):
    """A place between four centres: the first row and column, and how far beyond them."""

    r: int
    down: float
    c: int
    along: float


@njit(cache=True)
def patch_at(soil: Soil, row: float, col: float) -> Patch:
    """Where a fractional row and column lie."""
    r, down = _snapped(row, soil.z.shape[0])
    c, along = _snapped(col, soil.z.shape[1])
    return Patch(r, down, c, along)


@njit(cache=True)
def _snapped(place: float, count: int) -> tuple[int, float]:
    """First of the two centre lines around a place, and how far beyond it.

    Centre lines that rounding has just missed must not pull in their neighbours; in the outer half
    cell the nearest centre line counts.
    """
    near = np.round(place)
    if abs(place - near) < ROUNDING:
        place = near
    place = min(max(place, 0.0), count - 1.0)
    first = min(int(place), max(count - 2, 0))
    return first, place - first


@njit(cache=True)
def band_between(soil: Soil, patch: Patch) -> tuple[float, float]:
    """Highest and lowest level between four centres; NaN beside a closed cell."""
    top, bottom = 0.0, 0.0
    for i in range(2):
        down = patch.down if i else 1.0 - patch.down
        if down > 0.0:
            for j in range(2):
                weight = down * (patch.along if j else 1.0 - patch.along)
                if weight > 0.0:
                    highest, lowest, _ = cell_at(soil, patch.r + i, patch.c + j)
                    top += weight * highest
                    bottom += weight * lowest
    return top, bottom


@njit(cache=True)
def slope_across(land: Land, patch: Patch, ahead: float, left: float) -> float:
    """Slope of the ground across a direction (to the east and the north, of length 1)."""
    slope = 0.0
    for i in range(2):
        for j in range(2):
            down = patch.down if i else 1.0 - patch.down
            weight = down * (patch.along if j else 1.0 - patch.along)
            if weight > 0.0:
                cell = patch.r + i, patch.c + j
                east, north = slope_of(land.soil.z, cell[0], cell[1], land.width, land.height)
                slope += weight * (east * left - north * ahead)
    return abs(slope)


@njit(cache=True)
def cuts_corner(soil: Soil, leg: Leg, before: Patch, after: Patch) -> bool:
    """Whether a leg, stepping from a patch to a diagonal one, cuts the corner of a closed one."""
    if before.r == after.r or before.c == after.c:
        return False
    # The centre that all four patches share, and where the leg crosses its row.
    row, col = max(before.r, after.r), max(before.c, after.c)
    part = (row - leg.row0) / (leg.row1 - leg.row0)
    crossing = leg.col0 + part * (leg.col1 - leg.col0)
    if abs(crossing - col) < ROUNDING:
        return False
    row_first = (crossing < col) == (before.c < after.c)
    r, c = (after.r, before.c) if row_first else (before.r, after.c)
    for i in range(2):
        for j in range(2):
            if not np.isfinite(cell_at(soil, r + i, c + j)[0]):
                return True
    return False


@njit(cache=True)
def over_leg(
    land: Land,
    rule: Rule,
    leg: Leg,
    labels: FloatArray,
    count: int,
    spare: FloatArray,
    most: float,
) -> tuple[int, float, int]:
    """Carry labels over a straight leg.

    Parameters
    ----------
    labels, spare : (most labels, 4), (2 * most labels, 4)
        The first `count` labels are changed in place.
    most : float
        Price of the leg at which to give up.

    Returns
    -------
    (count, metres, samples)
        No label where the leg can't be laid; the price of its length; how many places were looked
        at.
    """
    soil = land.soil
    down, right = leg.row1 - leg.row0, leg.col1 - leg.col0
    length = np.hypot(down * land.height, right * land.width)
    if length == 0.0 or count == 0:
        return count, 0.0, 0
    pieces = max(int(np.ceil(np.hypot(down, right) / land.part - ROUNDING)), 1)
    step = length / pieces
    ahead, left = right * land.width / length, -down * land.height / length
    down, right = down / pieces, right / pieces
    patch = patch_at(soil, leg.row0, leg.col0)
    level = band_between(soil, patch)[0]
    limited = land.side_slope < np.inf
    steep = limited and not slope_across(land, patch, ahead, left) <= land.side_slope
    metres, k = 0.0, 0
    while k < pieces and not steep:
        k += 1
        before, level_before = patch, level
        row, col = leg.row0 + down * k, leg.col0 + right * k
        patch = patch_at(soil, row, col)
        level, bottom = band_between(soil, patch)
        if not bottom <= level or cuts_corner(soil, leg, before, patch):
            break
        steep = limited and not slope_across(land, patch, ahead, left) <= land.side_slope
        price = _price(soil, row - 0.5 * down, col - 0.5 * right)
        metres += np.hypot(step, level - level_before) * price
        count = over_step(rule, step, level, bottom, land.tolerance, labels, count, spare)
        if count == 0 or metres > most:
            break
    else:
        if not steep:
            return count, metres, k
    return 0, np.inf, k


@njit(cache=True)
def _price(soil: Soil, row: float, col: float) -> float:
    """Of a metre, in the cell that holds a place."""
    rows, cols = soil.z.shape
    r = min(max(int(row + 0.5), 0), rows - 1)
    return figure(soil.cost, r, min(max(int(col + 0.5), 0), cols - 1))


@njit(cache=True)
def over_step(
    rule: Rule,
    step: float,
    top: float,
    bottom: float,
    tolerance: float,
    labels: FloatArray,
    count: int,
    spare: FloatArray,
) -> int:
    """Carry labels one step on, in place; how many are left."""
    if rule.ways == 1:
        low = max(bottom, labels[0, LOW] + rule.grades[0] * step)
        high = min(top, labels[0, HIGH] + rule.grades[1] * step)
        labels[0, LOW], labels[0, HIGH] = low, high
        return 1 if low <= high + tolerance else 0
    made = 0
    for m in range(count):
        for onward in range(2):
            low = max(bottom, labels[m, LOW] + rule.grades[2 * onward] * step)
            high = min(top, labels[m, HIGH] + rule.grades[2 * onward + 1] * step)
            if low <= high + tolerance:
                vent = rule.vent_cost if labels[m, WAY] == 0.0 and onward == 1 else 0.0
                made = _put(spare, made, labels[m, PRICE] + vent, low, high, onward)
    count = 0
    for m in range(made):
        if count < labels.shape[0] and not _beaten(labels, count, spare[m]):
            labels[count] = spare[m]
            count += 1
    return count


@njit(cache=True)
def _put(labels: FloatArray, count: int, price: float, low: float, high: float, way: float) -> int:
    """Add a label where its price belongs; how many there are then."""
    m = count
    while m > 0 and labels[m - 1, PRICE] > price:
        labels[m] = labels[m - 1]
        m -= 1
    labels[m, PRICE], labels[m, LOW], labels[m, HIGH], labels[m, WAY] = price, low, high, way
    return count + 1


@njit(cache=True)
def _beaten(labels: FloatArray, count: int, label: FloatArray) -> bool:
    """Whether one of some cheaper labels allows all that this one does."""
    for n in range(count):
        if (
            labels[n, WAY] == label[WAY]
            and labels[n, LOW] <= label[LOW] + TOLERANCE
            and labels[n, HIGH] >= label[HIGH] - TOLERANCE
        ):
            return True
    return False


@njit(cache=True)
def set_out(rule: Rule, labels: FloatArray) -> int:
    """Labels at the start of a line."""
    count = 0
    for way in range(rule.ways):
        if rule.begin[way] < np.inf:
            count = _put(labels, count, rule.begin[way], rule.low, rule.high, way)
    return count


@njit(cache=True)
def backwards(rule: Rule, low: float, high: float) -> Rule:
    """The rule of a line walked from its end, where it may arrive either way in [low, high]."""
    grades = np.empty(4)
    for way in range(rule.ways):
        other = rule.ways - 1 - way
        grades[2 * way], grades[2 * way + 1] = -rule.grades[2 * other + 1], -rule.grades[2 * other]
    return Rule(grades, rule.ways, rule.vent_cost, np.zeros(2), low, high)


@njit(cache=True)
def meet(
    rule: Rule, labels: FloatArray, count: int, back: FloatArray, back_count: int, tolerance: float
) -> float:
    """Price of the vents of a line from labels that come from its two ends; infinite if none."""
    best = np.inf
    for m in range(count):
        for n in range(back_count):
            low = max(labels[m, LOW], back[n, LOW])
            high = min(labels[m, HIGH], back[n, HIGH])
            if low <= high + tolerance:
                crest = rule.ways == 2 and labels[m, WAY] == 0.0 and back[n, WAY] == 0.0
                price = labels[m, PRICE] + back[n, PRICE] + (rule.vent_cost if crest else 0.0)
                best = min(best, price)
    return best


@njit(cache=True)
def follow(
    land: Land, rule: Rule, rows: FloatArray, cols: FloatArray
) -> tuple[float, int, float, float]:
    """Cost of the cheapest laying along a polyline.

    Parameters
    ----------
    rows, cols : (n,) ndarray
        Vertices as fractional rows and columns.

    Returns
    -------
    (cost, way, low, high)
        Infinite cost where the rule can't be kept; the way and the level's bounds at the end.
    """
    labels, spare = np.empty((MOST_LABELS, 4)), np.empty((2 * MOST_LABELS, 4))
    count, total = set_out(rule, labels), 0.0
    for i in range(rows.size - 1):
        leg = Leg(rows[i], cols[i], rows[i + 1], cols[i + 1])
        count, metres, _ = over_leg(land, rule, leg, labels, count, spare, np.inf)
        if count == 0:
            return np.inf, 0, 0.0, 0.0
        total += metres
    return labels[0, PRICE] + total, int(labels[0, WAY]), labels[0, LOW], labels[0, HIGH]
