"""Compiled: a line as it is straightened, and the one way to change it.

A change puts other vertices in place of those between two and touches no leg but theirs. Labels
from the one end of the line stand at the first of the two, labels from the other at the last
(`planner.routing.pipe_kernel`), so that only the changed legs are looked at, and the answer is that
of the whole line, vents and digging included. Changes run from the first vertex to the last; the
labels from the far end are made once a pass, those from the root as it goes on.

What is paid: the cost of the line, a price for each bend, and the price of a few bends for a leg
shorter than the least leg. No change makes the line itself dearer than it was at first.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.follow_kernel import (
    Course,
    Land,
    Leg,
    longest_leg,
    make_course,
    sample_leg,
    samples_of,
)
from planner.routing.ground_kernel import band_here
from planner.routing.meet_kernel import PRICE
from planner.routing.pipe_kernel import FREE, Pipe, carry, meet

EVEN = 1e-9  # m; a shorter list of vertices may cost more by rounding
# A line's bounds may miss three times: from its start, where labels meet, and from its end. So
# moves are held to a small part of what the line as a whole is.
LOOSE = 100.0
FIRST_STEP = 1.0  # cells, of a slide
SHORT = 3.0  # bends that a leg is worth which is all but as long as the least leg; of none, twice
FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]
ROW, COL, METRES, STRIDE, STAYS = 0, 1, 2, 3, 4
AHEAD, BACK = 0, 1
COUNT, FRESH, WORK = 0, 1, 2
LENGTH, EXTRAS, MOST = 0, 1, 2


class Taste(NamedTuple):
    """What bends and short legs cost: `bend` and `least_leg` in m; `work` samples at most."""

    bend: float
    least_leg: float
    work: int


class Line(NamedTuple):
    """The line as it stands, and what was found along it; with room for more vertices.

    Attributes
    ----------
    vertex : (room, 5)
        Row, column, price of the leg to the next vertex (its length alone), next step of the
        vertex's slide in cells, whether it must stay (1).
    labels : (2, room, most, 4)
        Labels at each vertex from the root (0) and from the far end (1).
    counts : (2, room)
        How many there are.
    trial, trial_labels, trial_counts : (4, 3), (4, most, 4), (4,)
        A change that is tried: row and column of its vertices, price of its legs, labels.
    hand : (most, 4)
        Labels under way.
    course : Course
        The ground along the legs at hand.
    state : (3,)
        Number of vertices; the last vertex whose labels from the root are fresh; samples looked
        at.
    paid : (3,)
        Price of the line's length; of its vents and digging; the most that both may come to.
    """

    vertex: FloatArray
    labels: FloatArray
    counts: IntArray
    trial: FloatArray
    trial_labels: FloatArray
    trial_counts: IntArray
    hand: FloatArray
    course: Course
    state: IntArray
    paid: FloatArray


@njit(cache=True)
def begin(land: Land, pipe: Pipe, rows: FloatArray, cols: FloatArray, stays: BoolArray) -> Line:
    """A line of some vertices, not priced yet; those that `stays` tells are never moved."""
    n, most = rows.size, pipe.spare.shape[0] // 2
    room = 2 * n + 16
    width = pipe.spare.shape[1]
    # A leg may come to join any two vertices, by way of a few tried ones.
    down, right = np.max(rows) - np.min(rows), np.max(cols) - np.min(cols)
    span = np.array([0.0, 4.0 * down + 8.0]), np.array([0.0, 4.0 * right + 8.0])
    samples = 2 * longest_leg(land, *span) + longest_leg(land, rows, cols)
    line = Line(
        np.zeros((room, 5)),
        np.zeros((2, room, most, width)),
        np.zeros((2, room), np.int64),
        np.zeros((4, 3)),
        np.zeros((4, most, width)),
        np.zeros(4, np.int64),
        np.zeros((most, width)),
        make_course(samples),
        np.zeros(3, np.int64),
        np.zeros(3),
    )
    line.state[COUNT] = n
    for i in range(n):
        line.vertex[i, ROW], line.vertex[i, COL] = rows[i], cols[i]
        line.vertex[i, STRIDE], line.vertex[i, STAYS] = FIRST_STEP, 1.0 if stays[i] else 0.0
    return line


@njit(cache=True)
def price(line: Line, land: Land, pipe: Pipe) -> bool:
    """Prices of all legs, and labels from both ends; whether the line keeps its rule."""
    n = line.state[COUNT]
    line.paid[LENGTH] = 0.0
    for i in range(n - 1):
        leg = _leg(line, i, i + 1)
        line.vertex[i, METRES] = sample_leg(land, leg, line.course, 0, np.inf)[1]
        line.paid[LENGTH] += line.vertex[i, METRES]
    look_back(line, land, pipe)
    look_ahead(line, land, pipe, n - 1)
    line.paid[EXTRAS] = meet(
        pipe,
        line.labels[AHEAD, n - 1],
        line.counts[AHEAD, n - 1],
        line.labels[BACK, n - 1],
        line.counts[BACK, n - 1],
        LOOSE * land.tolerance,
    )
    line.paid[MOST] = line.paid[LENGTH] + line.paid[EXTRAS]
    return bool(line.paid[MOST] < np.inf)


@njit(cache=True)
def _leg(line: Line, i: int, j: int) -> Leg:
    vertex = line.vertex
    return Leg(vertex[i, ROW], vertex[i, COL], vertex[j, ROW], vertex[j, COL])


@njit(cache=True)
def _over(line: Line, land: Land, pipe: Pipe, side: int, i: int, j: int, count: int) -> int:
    """Carry the labels in hand over the leg from vertex i to vertex j beside it."""
    end, _, top = sample_leg(land, _leg(line, i, j), line.course, 0, np.inf)
    line.state[WORK] += end
    loose = LOOSE * land.tolerance if side == AHEAD else land.tolerance
    return carry(pipe, side, line.course, (0, end), top, line.hand, count, loose)


@njit(cache=True)
def _put_down(labels: FloatArray, count: int, to: FloatArray) -> None:
    for m in range(count):
        for k in range(labels.shape[1]):
            to[m, k] = labels[m, k]


@njit(cache=True)
def _set_out(line: Line, pipe: Pipe, side: int, i: int) -> int:
    """Labels at an end of the line, vertex i, in hand as well; how many there are."""
    count = pipe.begin[side]
    line.counts[side, i] = count
    _put_down(pipe.ends[side], count, line.labels[side, i])
    _put_down(pipe.ends[side], count, line.hand)
    return count


@njit(cache=True)
def look_back(line: Line, land: Land, pipe: Pipe) -> None:
    """Begin a pass: labels from the far end at every vertex, and none yet from the root."""
    last = line.state[COUNT] - 1
    count = _set_out(line, pipe, AHEAD, 0)
    line.state[FRESH] = 0
    count = _set_out(line, pipe, BACK, last)
    if pipe.kind == FREE:
        line.counts[:, : last + 1] = 1
        line.state[FRESH] = last
        return
    for i in range(last - 1, -1, -1):
        count = _over(line, land, pipe, BACK, i + 1, i, count)
        line.counts[BACK, i] = count
        _put_down(line.hand, count, line.labels[BACK, i])


@njit(cache=True)
def look_ahead(line: Line, land: Land, pipe: Pipe, i: int) -> None:
    """Labels from the root at vertex i, after changes before it."""
    first = line.state[FRESH]
    if first >= i:
        return
    count = line.counts[AHEAD, first]
    _put_down(line.labels[AHEAD, first], count, line.hand)
    for k in range(first, i):
        count = _over(line, land, pipe, AHEAD, k, k + 1, count)
        line.counts[AHEAD, k + 1] = count
        _put_down(line.hand, count, line.labels[AHEAD, k + 1])
    line.state[FRESH] = i


@njit(cache=True)
def length_of(land: Land, leg: Leg) -> float:
    """Of a leg, on the map [m]."""
    down, right = leg.row1 - leg.row0, leg.col1 - leg.col0
    return float(np.hypot(down * land.height, right * land.width))


@njit(cache=True)
def leg_length(line: Line, land: Land, k: int) -> float:
    """Of the leg from vertex k to the next, on the map [m]."""
    return length_of(land, _leg(line, k, k + 1))


@njit(cache=True)
def _short(taste: Taste, length: float) -> float:
    """Price of a leg shorter than the least leg."""
    if length >= taste.least_leg:
        return 0.0
    return SHORT * taste.bend * (2.0 - length / taste.least_leg)


@njit(cache=True)
def worth(line: Line, land: Land, taste: Taste, i: int, j: int) -> float:
    """What the legs between two vertices are paid for: length, bends, and that they are short."""
    paid = taste.bend * (j - i - 1)
    for k in range(i, j):
        paid += line.vertex[k, METRES] + _short(taste, leg_length(line, land, k))
    return paid


@njit(cache=True)
def change(
    line: Line, land: Land, pipe: Pipe, taste: Taste, i: int, j: int, made: int, gain: float
) -> bool:
    """Put the first `made` of `line.trial` in place of the vertices between i and j if that pays.

    Returns
    -------
    bool
        Whether it saves `gain` at least, keeps the rule, and was done.
    """
    for k in range(i + 1, j):
        if line.vertex[k, STAYS] == 1.0:
            return False
    before = line.paid[EXTRAS] + worth(line, land, taste, i, j)
    flat, short = _flat(line, land, taste, i, j, made)
    most = before - gain - taste.bend * made - short
    length = line.paid[LENGTH]
    for k in range(i, j):
        length -= line.vertex[k, METRES]
    most = min(most, line.paid[MOST] + EVEN - length)
    ahead, count = line.labels[AHEAD, i], line.counts[AHEAD, i]
    back, back_count = line.labels[BACK, j], line.counts[BACK, j]
    if pipe.kind != FREE:
        most -= _least(back, back_count)
    if not flat <= most - (_least(ahead, count) if pipe.kind != FREE else 0.0):
        return False
    metres = _legs(line, land, pipe, i, j, made, most)
    extras = np.inf
    if metres < np.inf:
        count = line.trial_counts[made]
        tolerance = land.tolerance
        extras = meet(pipe, line.trial_labels[made], count, back, back_count, tolerance)
        most += _least(back, back_count) if pipe.kind != FREE else 0.0
    if not metres + extras <= most:
        return False
    line.paid[LENGTH], line.paid[EXTRAS] = length + metres, extras
    _accept(line, i, j, made)
    return True


@njit(cache=True)
def _least(labels: FloatArray, count: int) -> float:
    """Price of the cheapest label; infinite if there is none."""
    least = np.inf
    for m in range(count):
        least = min(least, labels[m, PRICE])
    return least


@njit(cache=True)
def _legs(line: Line, land: Land, pipe: Pipe, i: int, j: int, made: int, most: float) -> float:
    """Price of the tried legs' length, and their labels; infinite where they can't be laid.

    First all of the ground is looked at, then the pipe: where it costs too much, none is laid.
    """
    count = line.counts[AHEAD, i]
    most -= _least(line.labels[AHEAD, i], count) if pipe.kind != FREE else 0.0
    metres, begin_at = 0.0, 0
    for m in range(made + 1):
        leg = _tried(line, i, j, made, m)
        end, more, _ = sample_leg(land, leg, line.course, begin_at, most - metres)
        line.state[WORK] += end - begin_at
        metres += more
        if metres == np.inf:
            return np.inf
        line.trial[m, METRES], begin_at = more, end
    if pipe.kind == FREE:
        line.trial_counts[: made + 1] = 1
        return metres
    _put_down(line.labels[AHEAD, i], count, line.hand)
    begin_at, top = 0, band_here(land.soil, line.vertex[i, ROW], line.vertex[i, COL])[0]
    for m in range(made + 1):
        end = begin_at + samples_of(land, _tried(line, i, j, made, m))
        span = begin_at, end
        count = carry(pipe, AHEAD, line.course, span, top, line.hand, count, land.tolerance)
        line.state[WORK] += end - begin_at
        if count == 0:
            return np.inf
        line.trial_counts[m] = count
        _put_down(line.hand, count, line.trial_labels[m])
        begin_at, top = end, line.course.strip.top[end - 1]
    return metres


@njit(cache=True)
def _flat(line: Line, land: Land, taste: Taste, i: int, j: int, made: int) -> tuple[float, float]:
    """What the tried legs cost at least, infinite where one has no length or leaves the ground.

    Returns
    -------
    (flat, short)
        Their length on the map; what is paid for those that are short.
    """
    rows, cols = land.soil.z.shape
    flat = short = 0.0
    for m in range(made + 1):
        leg = _tried(line, i, j, made, m)
        length = length_of(land, leg)
        inside = -0.5 <= leg.row1 <= rows - 0.5 and -0.5 <= leg.col1 <= cols - 0.5
        if length < EVEN or not inside:
            return np.inf, 0.0
        flat += length
        short += _short(taste, length)
    return flat, short


@njit(cache=True)
def _tried(line: Line, i: int, j: int, made: int, m: int) -> Leg:
    """The tried leg m; the first sets out from vertex i, the last comes to vertex j."""
    row, col, row2, col2 = _leg(line, i, j)
    if m > 0:
        row, col = line.trial[m - 1, ROW], line.trial[m - 1, COL]
    if m < made:
        row2, col2 = line.trial[m, ROW], line.trial[m, COL]
    return Leg(row, col, row2, col2)


@njit(cache=True)
def _accept(line: Line, i: int, j: int, made: int) -> None:
    """Do what `change` has tried."""
    n = line.state[COUNT]
    by = made - (j - i - 1)
    if by > 0:
        for k in range(n - 1, j - 1, -1):
            _move(line, k, k + by)
    elif by < 0:
        for k in range(j, n):
            _move(line, k, k + by)
    for m in range(made):
        line.vertex[i + 1 + m, ROW], line.vertex[i + 1 + m, COL] = (
            line.trial[m, ROW],
            line.trial[m, COL],
        )
        line.vertex[i + 1 + m, STAYS] = 0.0
        if by != 0:
            line.vertex[i + 1 + m, STRIDE] = FIRST_STEP
        line.counts[BACK, i + 1 + m] = 0  # unknown from here to the end until the next pass
    for m in range(made + 1):
        line.vertex[i + m, METRES] = line.trial[m, METRES]
        line.counts[AHEAD, i + 1 + m] = line.trial_counts[m]
        _put_down(line.trial_labels[m], line.trial_counts[m], line.labels[AHEAD, i + 1 + m])
    line.state[COUNT], line.state[FRESH] = n + by, i + 1 + made
    wake = 0.5 * line.vertex[i + 1, STRIDE] if made > 0 else FIRST_STEP
    for k in (i, i + 1 + made):  # the vertices beside have something new to answer
        line.vertex[k, STRIDE] = max(line.vertex[k, STRIDE], wake)


@njit(cache=True)
def _move(line: Line, k: int, to: int) -> None:
    for c in range(line.vertex.shape[1]):
        line.vertex[to, c] = line.vertex[k, c]
    line.counts[BACK, to] = line.counts[BACK, k]
    _put_down(line.labels[BACK, k], line.counts[BACK, k], line.labels[BACK, to])
