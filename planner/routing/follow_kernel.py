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
from planner.routing.ground_kernel import ROUNDING, Soil, cell_at, slope_of
from planner.routing.piece_kernel import Strip
from planner.routing.search_kernel import Rule

MOST_LABELS = 24  # open labels at one place; one where a line has one way, a handful where two
PRICE, LOW, HIGH, WAY = 0, 1, 2, 3  # columns of a label
COLUMNS = 4
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


class Course(NamedTuple):
    """What lies along a line: the band, and the price of a metre in the step before each sample."""

    strip: Strip
    factor: FloatArray


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
    return _patch(soil.z.shape[0], soil.z.shape[1], row, col)


@njit(cache=True)
def _patch(rows: int, cols: int, row: float, col: float) -> Patch:
    r, down = _snapped(row, rows)
    c, along = _snapped(col, cols)
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


class Corners(NamedTuple):
    """Highest and lowest levels of the four centres around a patch: west and east, north, south."""

    top0: float
    top1: float
    top2: float
    top3: float
    bottom0: float
    bottom1: float
    bottom2: float
    bottom3: float


@njit(cache=True)
def corners_of(soil: Soil, patch: Patch) -> Corners:
    """Levels around a patch, read once for all the samples in it."""
    r, c = min(patch.r + 1, soil.z.shape[0] - 1), min(patch.c + 1, soil.z.shape[1] - 1)
    top0, bottom0, _ = cell_at(soil, patch.r, patch.c)
    top1, bottom1, _ = cell_at(soil, patch.r, c)
    top2, bottom2, _ = cell_at(soil, r, patch.c)
    top3, bottom3, _ = cell_at(soil, r, c)
    return Corners(top0, top1, top2, top3, bottom0, bottom1, bottom2, bottom3)


@njit(cache=True)
def band_within(corners: Corners, patch: Patch) -> tuple[float, float]:
    """As `band_between`, from the levels around the patch; NaN if any of them is closed."""
    south, east = patch.down, patch.along
    north, west = 1.0 - south, 1.0 - east
    top = north * (west * corners.top0 + east * corners.top1)
    top += south * (west * corners.top2 + east * corners.top3)
    bottom = north * (west * corners.bottom0 + east * corners.bottom1)
    bottom += south * (west * corners.bottom2 + east * corners.bottom3)
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
def cuts_corner(soil: Soil, before: Patch, after: Patch) -> bool:
    """Whether the line between two open samples, a short step apart, runs through a closed patch.

    It may cut the corner of a third patch, or begin and end on lines between patches, where what
    lies beyond has no weight: each piece between such lines is looked at in its middle.
    """
    row0, row1 = before.r + before.down, after.r + after.down
    col0, col1 = before.c + before.along, after.c + after.along
    first, second = _crossing(row0, row1), _crossing(col0, col1)
    if first > second:
        first, second = second, first
    for begin, end in ((0.0, first), (first, second), (second, 1.0)):
        if end - begin > ROUNDING:
            at = 0.5 * (begin + end)
            middle = patch_at(soil, row0 + at * (row1 - row0), col0 + at * (col1 - col0))
            top, bottom = band_between(soil, middle)
            if not bottom <= top:
                return True
    return False


@njit(cache=True)
def _crossing(a: float, b: float) -> float:
    """Where between two places, 0 to 1, a line of centres is crossed; 1: nowhere."""
    line = np.floor(max(a, b))
    if min(a, b) < line < max(a, b):
        return float((line - a) / (b - a))
    return 1.0


@njit(cache=True)
def is_shut(corners: Corners) -> bool:
    """Whether a corner of a patch is closed."""
    sums = corners.top0 + corners.top1 + corners.top2 + corners.top3
    return bool(sums != sums)  # noqa: PLR0124 - NaN alone differs from itself


@njit(cache=True)
def samples_of(land: Land, leg: Leg) -> int:
    """How many samples a leg has, the one it sets out from left out."""
    cells = np.hypot(leg.row1 - leg.row0, leg.col1 - leg.col0)
    return max(int(np.ceil(cells / land.part - ROUNDING)), 1)


# The innermost loop of all straightening, kept in one piece.
@njit(cache=True)
def sample_leg(  # noqa: C901, PLR0911, PLR0915
    land: Land, leg: Leg, course: Course, at: int, most: float
) -> tuple[int, float, float]:
    """Lay out the band along a straight leg, from sample `at` of a course on.

    Parameters
    ----------
    most : float
        Price at which to give up.

    Returns
    -------
    (end, metres, top)
        The sample after the last; the price of the leg's length, infinite where it can't be laid
        or costs too much; the highest level where it sets out.
    """
    # Helpers take numbers here, no arrays: each array handed over costs as much as a sample.
    soil = land.soil
    rows, cols = soil.z.shape
    down, right = leg.row1 - leg.row0, leg.col1 - leg.col0
    length = np.hypot(down * land.height, right * land.width)
    if length == 0.0:
        return at, 0.0, np.nan
    pieces = samples_of(land, leg)
    step = length / pieces
    ahead, left = right * land.width / length, -down * land.height / length
    down, right = down / pieces, right / pieces
    patch = _patch(rows, cols, leg.row0, leg.col0)
    corners = corners_of(soil, patch)
    level, shut = band_between(soil, patch)[0], is_shut(corners)
    top = level
    limited, one_price = land.side_slope < np.inf, soil.cost.size == 1
    if limited and not slope_across(land, patch, ahead, left) <= land.side_slope:
        return at, np.inf, top
    price, metres = soil.cost[0, 0], 0.0
    for k in range(1, pieces + 1):
        before, level_before = patch, level
        row, col = leg.row0 + down * k, leg.col0 + right * k
        patch, was_shut = _patch(rows, cols, row, col), shut
        if patch.r != before.r or patch.c != before.c:
            corners = corners_of(soil, patch)
            shut = is_shut(corners)
        level, bottom = band_within(corners, patch)
        if shut:  # a closed corner may have no weight
            level, bottom = band_between(soil, patch)
        if not bottom <= level:
            return at + k, np.inf, top
        diagonal = patch.r != before.r and patch.c != before.c
        if (shut or was_shut or diagonal) and cuts_corner(soil, before, patch):
            return at + k, np.inf, top
        if limited:  # in the middle of the step as well: the ground may twist
            middle = _patch(rows, cols, row - 0.5 * down, col - 0.5 * right)
            steep = not slope_across(land, middle, ahead, left) <= land.side_slope
            if steep or not slope_across(land, patch, ahead, left) <= land.side_slope:
                return at + k, np.inf, top
        if not one_price:
            r = min(max(int(row - 0.5 * down + 0.5), 0), rows - 1)
            price = soil.cost[r, min(max(int(col - 0.5 * right + 0.5), 0), cols - 1)]
        metres += np.sqrt(step * step + (level - level_before) ** 2) * price
        if metres > most:
            return at + k, np.inf, top
        s = at + k - 1
        course.strip.step[s], course.strip.top[s] = step, level
        course.strip.bottom[s], course.factor[s] = bottom, price
    return at + pieces, metres, top


@njit(cache=True)
def over_course(
    rule: Rule,
    tolerance: float,
    strip: Strip,
    span: tuple[int, int],
    labels: FloatArray,
    count: int,
    spare: FloatArray,
) -> int:
    """Carry labels over the samples from `span[0]` to `span[1]`.

    Parameters
    ----------
    labels, spare : (most labels, 4), (2 * most labels, 4)
        The first `count` labels are changed in place.

    Returns
    -------
    int
        How many are left; none where the rule can't be kept.
    """
    if count == 0:
        return 0
    if rule.ways == 2:
        for s in range(span[0], span[1]):
            band = strip.top[s], strip.bottom[s]
            count = over_step(rule, strip.step[s], *band, tolerance, labels, count, spare)
            if count == 0:
                break
        return count
    low, high = labels[0, LOW], labels[0, HIGH]
    least, most = rule.grades[0], rule.grades[1]
    for s in range(span[0], span[1]):
        low = max(strip.bottom[s], low + least * strip.step[s])
        high = min(strip.top[s], high + most * strip.step[s])
        if not low <= high + tolerance:
            return 0
    labels[0, LOW], labels[0, HIGH] = low, high
    return 1


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
    """Carry labels of a line with two ways one step on, in place; how many are left."""
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
    labels, spare = np.empty((MOST_LABELS, COLUMNS)), np.empty((2 * MOST_LABELS, COLUMNS))
    count, total = set_out(rule, labels), 0.0
    course = make_course(longest_leg(land, rows, cols))
    for i in range(rows.size - 1):
        leg = Leg(rows[i], cols[i], rows[i + 1], cols[i + 1])
        end, metres, _ = sample_leg(land, leg, course, 0, np.inf)
        total += metres
        if metres == np.inf:
            return np.inf, 0, 0.0, 0.0
        count = over_course(rule, land.tolerance, course.strip, (0, end), labels, count, spare)
        if count == 0:
            return np.inf, 0, 0.0, 0.0
    return labels[0, PRICE] + total, int(labels[0, WAY]), labels[0, LOW], labels[0, HIGH]


@njit(cache=True)
def labels_at(rule: Rule) -> FloatArray:
    """Labels at the start of a line, (k, 4)."""
    labels = np.zeros((MOST_LABELS, COLUMNS))
    return labels[: set_out(rule, labels)].copy()


@njit(cache=True)
def longest_leg(land: Land, rows: FloatArray, cols: FloatArray) -> int:
    """Samples of the longest leg of a polyline."""
    most = 1
    for i in range(rows.size - 1):
        most = max(most, samples_of(land, Leg(rows[i], cols[i], rows[i + 1], cols[i + 1])))
    return most


@njit(cache=True)
def make_course(samples: int) -> Course:
    """Room for so many samples."""
    room = np.empty((4, samples))
    return Course(Strip(room[0], room[1], room[2]), room[3])
