"""Compiled: a line of few, long legs in place of one over the cells, its rule kept at every step.

Six moves, each made only if it pays and the whole line still keeps its rule:

    pull    the vertices between two are dropped;
    slide   a vertex is moved, eight ways, by steps that grow where they succeed and shrink where
            they do not (pattern search: Hooke & Jeeves, J. ACM 8, 1961);
    fold    several vertices become one, the length staying the same: a saw whose grade is at the
            limit becomes two long legs;
    split   a leg is bent in its middle, where curved ground asks for it;
    round   a vertex becomes two, one on each leg, where a corner has to be gone round.

What is paid: the cost of the line, a price for each bend, and a price for what a leg is short of
the least leg.

A move changes the legs between two vertices and nothing else. Labels from the start stand at the
first of them, labels from the end at the last (`planner.routing.follow_kernel`), so that only the
changed legs are looked at, and the answer is that of the whole line. Moves run from the start to
the end; the labels from the end are made once a pass, those from the start as it goes on.
"""

from typing import NamedTuple

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.routing.follow_kernel import (
    MOST_LABELS,
    Land,
    Leg,
    backwards,
    meet,
    over_leg,
    set_out,
)
from planner.routing.ground_kernel import band_here
from planner.routing.search_kernel import Rule

EVEN = 1e-9  # m; a shorter list of vertices may cost more by rounding
GAIN = 1e-4  # m; what any other move must save
# A line's bounds may miss three times: from its start, where labels meet, and from its end. So
# moves are held to a small part of what the line as a whole is.
LOOSE = 100.0
SHORT = 3.0  # price of a metre that a leg is short of the least leg
TURN = 2.399963  # radians between the directions of two passes: the golden angle, never repeating
MOST_PASSES = 200
LITTLE, PATIENCE = 1e-4, 3  # of the whole; so little saved so many times in a row is the end
BARREN = 3  # lengths of cut at which nothing was dropped
AROUND, HALVINGS = 16, 12  # places on an ellipse, and how closely one is found
FIRST_STEP, LAST_STEP = 1.0, 0.02  # cells, of a slide
FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


class Taste(NamedTuple):
    """What bends and short legs cost: `bend` and `least_leg` in m; about `work` samples at most."""

    bend: float
    least_leg: float
    work: int


class Line(NamedTuple):
    """The line as it stands, and what was found along it; with room for more vertices.

    Attributes
    ----------
    vertex : (room, 4)
        Row, column, price of the leg to the next vertex (its length alone), next step of the
        vertex's slide in cells.
    labels : (2, room, most, 4)
        Labels at each vertex from the start (0) and from the end (1).
    counts : (2, room)
        How many there are.
    trial, trial_labels, trial_counts : (3, 3), (3, most, 4), (3,)
        A change that is tried: row and column of its vertices, price of its legs, labels.
    hand, spare : (most, 4), (2 * most, 4)
        Labels under way.
    state : (3,)
        Number of vertices; the last vertex whose labels from the start are fresh; samples looked
        at.
    vents : (1,)
        What the line's vents cost.
    """

    vertex: FloatArray
    labels: FloatArray
    counts: IntArray
    trial: FloatArray
    trial_labels: FloatArray
    trial_counts: IntArray
    hand: FloatArray
    spare: FloatArray
    state: IntArray
    vents: FloatArray


ROW, COL, METRES, STRIDE = 0, 1, 2, 3
AHEAD, BACK = 0, 1
COUNT, FRESH, WORK = 0, 1, 2


@njit(cache=True)
def straight(
    land: Land, rule: Rule, taste: Taste, rows: FloatArray, cols: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Straighten a line that keeps its rule.

    Parameters
    ----------
    land : Land
        Its tolerance is for moves; the line as a whole has `LOOSE` times as much.
    rows, cols : (n,) ndarray
        Vertices as fractional rows and columns, no two in a row alike.

    Returns
    -------
    (rows, cols)
        Vertices; as given where the line breaks its rule.
    """
    line = _begin(rows, cols, MOST_LABELS if rule.ways == 2 else 1)
    loose = _with_tolerance(land, LOOSE * land.tolerance)
    if not _price(line, loose, rule):
        return rows, cols
    # A line over the cells has short legs alone: were they charged from the first, any way out of
    # them would do, however dear.
    for least_leg in (0.0, taste.least_leg):
        _improve(line, land, rule, Taste(taste.bend, least_leg, taste.work))
        if taste.least_leg == 0.0:
            break
    n = line.state[COUNT]
    return line.vertex[:n, ROW].copy(), line.vertex[:n, COL].copy()


@njit(cache=True)
def _improve(line: Line, land: Land, rule: Rule, taste: Taste) -> None:
    """Make moves until little is won by any."""
    for i in range(line.state[COUNT]):
        line.vertex[i, STRIDE] = FIRST_STEP
    _pull(line, land, rule, taste)
    worth, idle, most = _whole(line, land, taste), 0, line.state[WORK] + taste.work
    for turn in range(MOST_PASSES):
        if line.state[WORK] > most:
            break
        busy = _pass(line, land, rule, taste, turn)
        before, worth = worth, _whole(line, land, taste)
        idle = idle + 1 if before - worth < LITTLE * worth else 0
        if not busy or idle == PATIENCE:
            bent, rounded = _split(line, land, rule, taste), _round(line, land, rule, taste)
            idle = 0
            if not bent and not rounded:
                break


@njit(cache=True)
def _with_tolerance(land: Land, tolerance: float) -> Land:
    return Land(land.soil, land.width, land.height, land.side_slope, land.part, tolerance)


@njit(cache=True)
def _begin(rows: FloatArray, cols: FloatArray, most: int) -> Line:
    n = rows.size
    room = 2 * n + 16
    line = Line(
        np.zeros((room, 4)),
        np.zeros((2, room, most, 4)),
        np.zeros((2, room), np.int64),
        np.zeros((3, 3)),
        np.zeros((3, most, 4)),
        np.zeros(3, np.int64),
        np.zeros((most, 4)),
        np.zeros((2 * most, 4)),
        np.zeros(3, np.int64),
        np.zeros(1),
    )
    line.state[COUNT] = n
    for i in range(n):
        line.vertex[i, ROW], line.vertex[i, COL] = rows[i], cols[i]
        line.vertex[i, STRIDE] = FIRST_STEP
    return line


@njit(cache=True)
def _price(line: Line, land: Land, rule: Rule) -> bool:
    """Prices of all legs and labels from the start; whether the line keeps its rule."""
    count = set_out(rule, line.hand)
    _put_down(line.hand, count, line.labels[AHEAD, 0])
    line.counts[AHEAD, 0] = count
    for i in range(line.state[COUNT] - 1):
        count, metres = _over(line, land, rule, i, i + 1, count)
        line.vertex[i, METRES] = metres
        line.counts[AHEAD, i + 1] = count
        _put_down(line.hand, count, line.labels[AHEAD, i + 1])
    line.state[FRESH] = line.state[COUNT] - 1
    line.vents[0] = line.hand[0, 0]
    return count > 0


@njit(cache=True)
def _over(line: Line, land: Land, rule: Rule, i: int, j: int, count: int) -> tuple[int, float]:
    """Carry the labels in hand over the leg from vertex i to vertex j beside it."""
    row, col = line.vertex[i, ROW], line.vertex[i, COL]
    row2, col2 = line.vertex[j, ROW], line.vertex[j, COL]
    leg = Leg(row, col, row2, col2)
    count, metres, samples = over_leg(land, rule, leg, line.hand, count, line.spare, np.inf)
    line.state[WORK] += samples
    return count, metres


@njit(cache=True)
def _put_down(labels: FloatArray, count: int, to: FloatArray) -> None:
    for m in range(count):
        for k in range(4):
            to[m, k] = labels[m, k]


@njit(cache=True)
def _look_back(line: Line, land: Land, rule: Rule) -> None:
    """Labels from the end at every vertex."""
    last = line.state[COUNT] - 1
    top, bottom = band_here(land.soil, line.vertex[last, ROW], line.vertex[last, COL])
    back = backwards(rule, bottom, top)
    count = set_out(back, line.hand)
    line.counts[BACK, last] = count
    _put_down(line.hand, count, line.labels[BACK, last])
    for i in range(last - 1, -1, -1):
        count, _ = _over(line, land, back, i + 1, i, count)
        line.counts[BACK, i] = count
        _put_down(line.hand, count, line.labels[BACK, i])


@njit(cache=True)
def _look_ahead(line: Line, land: Land, rule: Rule, i: int) -> None:
    """Labels from the start at vertex i, after changes before it."""
    first = line.state[FRESH]
    if first >= i:
        return
    loose = _with_tolerance(land, LOOSE * land.tolerance)
    count = line.counts[AHEAD, first]
    _put_down(line.labels[AHEAD, first], count, line.hand)
    for k in range(first, i):
        count, _ = _over(line, loose, rule, k, k + 1, count)
        line.counts[AHEAD, k + 1] = count
        _put_down(line.hand, count, line.labels[AHEAD, k + 1])
    line.state[FRESH] = i


@njit(cache=True)
def _length(land: Land, row0: float, col0: float, row1: float, col1: float) -> float:
    return float(np.hypot((row1 - row0) * land.height, (col1 - col0) * land.width))


@njit(cache=True)
def _leg_length(line: Line, land: Land, k: int) -> float:
    """Of the leg from vertex k to the next, on the map [m]."""
    vertex = line.vertex
    return _length(land, vertex[k, ROW], vertex[k, COL], vertex[k + 1, ROW], vertex[k + 1, COL])


@njit(cache=True)
def _short(taste: Taste, length: float) -> float:
    """Price of what a leg is short of the least leg."""
    return SHORT * max(taste.least_leg - length, 0.0)


@njit(cache=True)
def _change(
    line: Line, land: Land, rule: Rule, taste: Taste, i: int, j: int, made: int, gain: float
) -> bool:
    """Put the first `made` of `line.trial` in place of the vertices between i and j if that pays.

    Returns
    -------
    bool
        Whether it saves `gain` at least, keeps the rule, and was done.
    """
    budget = line.vents[0] - gain + _worth(line, land, taste, i, j)
    budget -= taste.bend * made
    flat = _flat(line, land, taste, i, j, made)
    if not flat <= budget:
        return False
    count = line.counts[AHEAD, i]
    _put_down(line.labels[AHEAD, i], count, line.hand)
    row, col = line.vertex[i, ROW], line.vertex[i, COL]
    for m in range(made + 1):
        row2, col2 = _next(line, j, made, m)
        budget -= _short(taste, _length(land, row, col, row2, col2))
        leg = Leg(row, col, row2, col2)
        count, metres, samples = over_leg(land, rule, leg, line.hand, count, line.spare, budget)
        line.state[WORK] += samples
        if count == 0:
            return False
        budget -= metres
        line.trial[m, METRES], line.trial_counts[m] = metres, count
        _put_down(line.hand, count, line.trial_labels[m])
        row, col = row2, col2
    vents = meet(rule, line.hand, count, line.labels[BACK, j], line.counts[BACK, j], land.tolerance)
    if not vents <= budget:
        return False
    line.vents[0] = vents
    _accept(line, i, j, made)
    return True


@njit(cache=True)
def _worth(line: Line, land: Land, taste: Taste, i: int, j: int) -> float:
    """What the legs between two vertices are paid for: length, bends and what they are short of."""
    worth = taste.bend * (j - i - 1)
    for k in range(i, j):
        worth += line.vertex[k, METRES] + _short(taste, _leg_length(line, land, k))
    return worth


@njit(cache=True)
def _whole(line: Line, land: Land, taste: Taste) -> float:
    """What the whole line is paid for."""
    return float(line.vents[0] + _worth(line, land, taste, 0, line.state[COUNT] - 1))


@njit(cache=True)
def _flat(line: Line, land: Land, taste: Taste, i: int, j: int, made: int) -> float:
    """What the tried legs cost at least; infinite where one has no length or leaves the ground."""
    rows, cols = land.soil.z.shape
    row, col, least = line.vertex[i, ROW], line.vertex[i, COL], 0.0
    for m in range(made + 1):
        row2, col2 = _next(line, j, made, m)
        length = _length(land, row, col, row2, col2)
        least += length + _short(taste, length)
        if length < EVEN or not (-0.5 <= row2 <= rows - 0.5 and -0.5 <= col2 <= cols - 0.5):
            return np.inf
        row, col = row2, col2
    return least


@njit(cache=True)
def _next(line: Line, j: int, made: int, m: int) -> tuple[float, float]:
    """Row and column of the tried vertex m, the one after the last being vertex j."""
    if m < made:
        return line.trial[m, ROW], line.trial[m, COL]
    return line.vertex[j, ROW], line.vertex[j, COL]


@njit(cache=True)
def _accept(line: Line, i: int, j: int, made: int) -> None:
    """Do what `_change` has tried."""
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
    for c in range(4):
        line.vertex[to, c] = line.vertex[k, c]
    line.counts[BACK, to] = line.counts[BACK, k]
    _put_down(line.labels[BACK, k], line.counts[BACK, k], line.labels[BACK, to])


@njit(cache=True)
def _pull(line: Line, land: Land, rule: Rule, taste: Taste) -> None:
    """Drop vertices, short cuts first: of the long ones few are left to try then."""
    folds = _held_to_length(rule)
    cut, barren = 2, 0
    while cut < line.state[COUNT] and barren < BARREN:
        _look_back(line, land, rule)
        i, count = 0, line.state[COUNT]
        while i + cut < line.state[COUNT]:
            _look_ahead(line, land, rule, i)
            dropped = _change(line, land, rule, taste, i, i + cut, 0, -EVEN)
            if not dropped and folds and cut > 2:
                dropped = _fold(line, land, rule, taste, i, i + cut)
            if not dropped:
                i += 1
        _look_ahead(line, land, rule, line.state[COUNT] - 1)
        barren = barren + 1 if line.state[COUNT] == count else 0
        cut = max(cut + 1, (3 * cut) // 2)


@njit(cache=True)
def _held_to_length(rule: Rule) -> bool:
    """Whether a line can be too short for its rise or fall."""
    return bool((-np.inf < rule.grades[0] < 0.0) or (0.0 < rule.grades[1] < np.inf))


@njit(cache=True)
def _pass(line: Line, land: Land, rule: Rule, taste: Taste, turn: int) -> bool:
    """Drop, fold and slide at every vertex; whether there is more to do."""
    _look_back(line, land, rule)
    busy, folds = False, _held_to_length(rule)
    i = 1
    while i < line.state[COUNT] - 1:
        _look_ahead(line, land, rule, i - 1)
        if _change(line, land, rule, taste, i - 1, i + 1, 0, -EVEN):
            busy = True
            continue
        if folds and i + 2 < line.state[COUNT] and _fold(line, land, rule, taste, i - 1, i + 2):
            busy = True
            continue
        if line.vertex[i, STRIDE] >= LAST_STEP:
            _slide(line, land, rule, taste, i, turn)
            busy = True
        i += 1
    _look_ahead(line, land, rule, line.state[COUNT] - 1)
    return busy


@njit(cache=True)
def _slide(line: Line, land: Land, rule: Rule, taste: Taste, i: int, turn: int) -> None:
    moved = False
    cell = min(land.width, land.height)
    for k in range(8):
        angle = turn * TURN + k * np.pi / 4.0
        step = line.vertex[i, STRIDE] * cell
        line.trial[0, 0] = line.vertex[i, ROW] + step * np.sin(angle) / land.height
        line.trial[0, 1] = line.vertex[i, COL] + step * np.cos(angle) / land.width
        moved |= _change(line, land, rule, taste, i - 1, i + 1, 1, GAIN)
    line.vertex[i, STRIDE] *= 2.0 if moved else 0.5


@njit(cache=True)
def _fold(line: Line, land: Land, rule: Rule, taste: Taste, i: int, j: int) -> bool:
    """One vertex in place of those between i and j, at the same length and at an even grade.

    All such vertices lie on an ellipse with its foci at i and j; of these, those are tried at which
    the ground stands on an even grade from i to j.
    """
    x0, y0 = line.vertex[i, COL] * land.width, line.vertex[i, ROW] * land.height
    x1, y1 = line.vertex[j, COL] * land.width, line.vertex[j, ROW] * land.height
    run = 0.5 * taste.bend * (j - i - 2)  # half of what the bends save may go into length
    for k in range(i, j):
        run += _leg_length(line, land, k)
    apart = np.hypot(x1 - x0, y1 - y0)
    if apart < EVEN or run < apart * (1.0 + EVEN):
        return False
    ellipse = Ellipse(
        0.5 * (x0 + x1),
        0.5 * (y0 + y1),
        (x1 - x0) / apart,
        (y1 - y0) / apart,
        run / 2.0,
        apart / 2.0,
    )
    z0 = _level(land, line.vertex[i, ROW], line.vertex[i, COL])
    z1 = _level(land, line.vertex[j, ROW], line.vertex[j, COL])
    before = _uneven(land, ellipse, z0, z1, 0.0)
    for k in range(1, AROUND + 1):
        angle = 2.0 * np.pi * k / AROUND
        after = _uneven(land, ellipse, z0, z1, angle)
        if before * after <= 0.0 and before != after:
            root = _even(land, ellipse, z0, z1, angle - 2.0 * np.pi / AROUND, angle, before)
            line.trial[0, 1], line.trial[0, 0] = _on(land, ellipse, root)
            if _change(line, land, rule, taste, i, j, 1, EVEN):
                return True
        before = after
    return False


class Ellipse(NamedTuple):
    """Middle, direction of the long axis, half of it, distance of a focus from the middle."""

    x: float
    y: float
    right: float
    down: float
    half: float
    focus: float


@njit(cache=True)
def _on(land: Land, ellipse: Ellipse, angle: float) -> tuple[float, float]:
    """Column and row of a place on an ellipse."""
    along = ellipse.half * np.cos(angle)
    aside = np.sqrt(ellipse.half**2 - ellipse.focus**2) * np.sin(angle)
    x = ellipse.x + along * ellipse.right - aside * ellipse.down
    y = ellipse.y + along * ellipse.down + aside * ellipse.right
    return x / land.width, y / land.height


@njit(cache=True)
def _level(land: Land, row: float, col: float) -> float:
    """Level of the ground; NaN outside the grid."""
    rows, cols = land.soil.z.shape
    if not (-0.5 <= row <= rows - 0.5 and -0.5 <= col <= cols - 0.5):
        return np.nan
    return band_here(land.soil, row, col)[0]


@njit(cache=True)
def _uneven(land: Land, ellipse: Ellipse, z0: float, z1: float, angle: float) -> float:
    """How far a place on an ellipse stands above an even grade from one focus to the other."""
    col, row = _on(land, ellipse, angle)
    share = 0.5 + 0.5 * ellipse.focus * np.cos(angle) / ellipse.half
    return float(_level(land, row, col) - z0 - share * (z1 - z0))


@njit(cache=True)
def _even(
    land: Land, ellipse: Ellipse, z0: float, z1: float, left: float, right: float, before: float
) -> float:
    """Angle between two at which a place on an ellipse stands on an even grade (bisection)."""
    for _ in range(HALVINGS):
        middle = 0.5 * (left + right)
        here = _uneven(land, ellipse, z0, z1, middle)
        if here * before > 0.0:
            left = middle
        else:
            right = middle
    return 0.5 * (left + right)


@njit(cache=True)
def _split(line: Line, land: Land, rule: Rule, taste: Taste) -> bool:
    """Bend legs in their middle, to either side; whether one was bent."""
    _look_back(line, land, rule)
    bent = False
    i = 0
    while i + 1 < line.state[COUNT] and line.state[COUNT] + 1 < line.vertex.shape[0]:
        _look_ahead(line, land, rule, i)
        down, right = (
            line.vertex[i + 1, ROW] - line.vertex[i, ROW],
            line.vertex[i + 1, COL] - line.vertex[i, COL],
        )
        row, col = line.vertex[i, ROW] + 0.5 * down, line.vertex[i, COL] + 0.5 * right
        done = False
        for share in (0.02, -0.02, 0.05, -0.05, 0.12, -0.12, 0.3, -0.3):
            line.trial[0, 0] = row + share * right * land.width / land.height
            line.trial[0, 1] = col - share * down * land.height / land.width
            if _change(line, land, rule, taste, i, i + 1, 1, GAIN):
                done = True
                break
        bent |= done
        i += 2 if done else 1
    _look_ahead(line, land, rule, line.state[COUNT] - 1)
    return bent


@njit(cache=True)
def _round(line: Line, land: Land, rule: Rule, taste: Taste) -> bool:
    """Put two vertices in place of one, each on a leg beside it; whether it was done anywhere."""
    _look_back(line, land, rule)
    rounded = False
    i = 1
    while i + 1 < line.state[COUNT] and line.state[COUNT] + 1 < line.vertex.shape[0]:
        _look_ahead(line, land, rule, i - 1)
        row, col = line.vertex[i, ROW], line.vertex[i, COL]
        before, after = _leg_length(line, land, i - 1), _leg_length(line, land, i)
        for share in (0.4, 0.1, 0.025):
            for m in range(2):
                other = i - 1 + 2 * m
                part = share * min(before, after) / (after if m else before)
                line.trial[m, ROW] = row + part * (line.vertex[other, ROW] - row)
                line.trial[m, COL] = col + part * (line.vertex[other, COL] - col)
            if _change(line, land, rule, taste, i - 1, i + 1, 2, GAIN):
                rounded = True
                i += 1
                break
        i += 1
    _look_ahead(line, land, rule, line.state[COUNT] - 1)
    return rounded
