"""Compiled: a line of few, long legs in place of one over the cells, its rule kept at every step.

Seven moves, each made only if it pays and the whole line still keeps its rule
(`planner.routing.line_kernel`):

    pull    the vertices between two are dropped;
    bow     several vertices become one of them, or one near;
    slide   a vertex is moved, eight ways, by steps that grow where they succeed and shrink where
            they do not (pattern search: Hooke & Jeeves, J. ACM 8, 1961);
    fold    several vertices become one, the length staying the same: a saw whose grade is at the
            limit becomes two long legs;
    split   a leg is bent in its middle, where curved ground asks for it;
    round   a vertex becomes two, one on each leg, where a corner has to be gone round.
"""

from typing import NamedTuple

import numpy as np
from numba import njit

from planner.routing.follow_kernel import Land
from planner.routing.ground_kernel import band_here
from planner.routing.line_kernel import (
    COL,
    COUNT,
    EVEN,
    EXTRAS,
    FIRST_STEP,
    LENGTH,
    MOST,
    ROW,
    STRIDE,
    WORK,
    BoolArray,
    FloatArray,
    Line,
    Taste,
    begin,
    change,
    leg_length,
    look_ahead,
    look_back,
    price,
    worth,
)
from planner.routing.pipe_kernel import LIMITS, Pipe

GAIN = 1e-4  # m; what any move but a pull must save
TURN = 2.399963  # radians between the directions of two passes: the golden angle, never repeating
MOST_PASSES = 200
LITTLE, PATIENCE = 1e-4, 3  # of the whole; so little saved so many times in a row is the end
FEWER = 0.95  # of the vertices left: the same cut is tried again
AROUND, HALVINGS = 16, 12  # places on an ellipse, and how closely one is found
LAST_STEP = 0.02  # cells, of a slide


@njit(cache=True)
def straight(
    land: Land, pipe: Pipe, taste: Taste, rows: FloatArray, cols: FloatArray, stays: BoolArray
) -> tuple[FloatArray, FloatArray]:
    """Straighten a line that keeps its rule.

    Parameters
    ----------
    land : Land
        Its tolerance is for moves; the line as a whole has `line_kernel.LOOSE` times as much.
    rows, cols, stays : (n,) ndarray
        Vertices as fractional rows and columns, no two in a row alike, the root first; which of
        them must stay.

    Returns
    -------
    (rows, cols)
        Vertices; as given where the line breaks its rule.
    """
    line = begin(land, pipe, rows, cols, stays)
    if not price(line, land, pipe):
        return rows, cols
    # A line over the cells has short legs alone: were they charged from the first, any way out of
    # them would do.
    _improve(line, land, pipe, Taste(taste.bend, 0.0, taste.work))
    if taste.least_leg > 0.0:
        _improve(line, land, pipe, taste)
    n = line.state[COUNT]
    return line.vertex[:n, ROW].copy(), line.vertex[:n, COL].copy()


@njit(cache=True)
def _improve(line: Line, land: Land, pipe: Pipe, taste: Taste) -> None:
    """Make moves until little is won by any."""
    line.state[WORK] = 0
    for i in range(line.state[COUNT]):
        line.vertex[i, STRIDE] = FIRST_STEP
    _pull(line, land, pipe, taste)
    before, idle = np.inf, 0
    for turn in range(MOST_PASSES):
        if line.state[WORK] > taste.work:
            break
        busy = _pass(line, land, pipe, taste, turn)
        paid = line.paid[EXTRAS] + worth(line, land, taste, 0, line.state[COUNT] - 1)
        idle = idle + 1 if before - paid < LITTLE * paid else 0
        before = paid
        if not busy or idle == PATIENCE:
            bent, rounded = _split(line, land, pipe, taste), _round(line, land, pipe, taste)
            if not (bent or rounded):
                break
            idle = 0


@njit(cache=True)
def _pull(line: Line, land: Land, pipe: Pipe, taste: Taste) -> None:
    """Drop vertices, short cuts first: of the long ones few are left to try then.

    A line as long as its grade asks for can spare no length, and small folds leave it a saw that no
    further move mends: there the long ones come first.
    """
    folds = _held_to_length(pipe)
    cut = line.state[COUNT] - 1
    while folds and cut > 2 and line.state[WORK] < taste.work // 2:
        _cut(line, land, pipe, taste, cut, folds)
        cut = min((2 * cut) // 3, line.state[COUNT] - 1)
    cut = 2
    while cut < line.state[COUNT] and line.state[WORK] < taste.work:
        count = line.state[COUNT]
        _cut(line, land, pipe, taste, cut, folds)
        if line.state[COUNT] > FEWER * count:
            cut = max(cut + 1, (3 * cut) // 2)


@njit(cache=True)
def _cut(line: Line, land: Land, pipe: Pipe, taste: Taste, cut: int, folds: bool) -> None:
    """One round of cuts of so many legs."""
    look_back(line, land, pipe)
    i = 0
    while i + cut < line.state[COUNT]:
        look_ahead(line, land, pipe, i)
        dropped = change(line, land, pipe, taste, i, i + cut, 0, -EVEN)
        if not dropped and cut > 2:
            dropped = _bow(line, land, pipe, taste, i, i + cut)
        if not dropped and folds and cut > 2:
            dropped = _fold(line, land, pipe, taste, i, i + cut)
        i += 1 if dropped else max(1, cut // 3)


@njit(cache=True)
def _held_to_length(pipe: Pipe) -> bool:
    """Whether a line can be too short for its rise or fall."""
    if pipe.kind != LIMITS:
        return False
    low, high = pipe.ahead.grades[0], pipe.ahead.grades[1]
    return bool((-np.inf < low < 0.0) or (0.0 < high < np.inf))


@njit(cache=True)
def _pass(line: Line, land: Land, pipe: Pipe, taste: Taste, turn: int) -> bool:
    """Every move at every vertex; whether there is more to do."""
    look_back(line, land, pipe)
    busy, folds = False, _held_to_length(pipe)
    i = 1
    while i < line.state[COUNT] - 1:
        look_ahead(line, land, pipe, i - 1)
        if change(line, land, pipe, taste, i - 1, i + 1, 0, -EVEN):
            busy = True
            continue
        if line.vertex[i, STRIDE] >= LAST_STEP:
            if i + 2 < line.state[COUNT] and (
                _bow(line, land, pipe, taste, i - 1, i + 2)
                or (folds and _fold(line, land, pipe, taste, i - 1, i + 2))
            ):
                busy = True
                continue
            _slide(line, land, pipe, taste, i, turn)
            busy = True
        i += 1
    return busy


@njit(cache=True)
def _bow(line: Line, land: Land, pipe: Pipe, taste: Taste, i: int, j: int) -> bool:
    """One vertex in place of those between i and j: their middle, or the one farthest aside."""
    row, col = line.vertex[i, ROW], line.vertex[i, COL]
    down, right = line.vertex[j, ROW] - row, line.vertex[j, COL] - col
    middle_row = middle_col = most = 0.0
    far = i + 1
    for k in range(i + 1, j):
        middle_row += line.vertex[k, ROW] / (j - i - 1)
        middle_col += line.vertex[k, COL] / (j - i - 1)
        aside = abs((line.vertex[k, ROW] - row) * right - (line.vertex[k, COL] - col) * down)
        if aside > most:
            most, far = aside, k
    far_row, far_col = line.vertex[far, ROW], line.vertex[far, COL]
    line.trial[0, ROW], line.trial[0, COL] = middle_row, middle_col
    if change(line, land, pipe, taste, i, j, 1, EVEN):
        return True
    line.trial[0, ROW], line.trial[0, COL] = far_row, far_col
    return change(line, land, pipe, taste, i, j, 1, EVEN)


@njit(cache=True)
def _slide(line: Line, land: Land, pipe: Pipe, taste: Taste, i: int, turn: int) -> None:
    moved = False
    cell = min(land.width, land.height)
    for k in range(8):
        angle = turn * TURN + k * np.pi / 4.0
        step = line.vertex[i, STRIDE] * cell
        line.trial[0, 0] = line.vertex[i, ROW] + step * np.sin(angle) / land.height
        line.trial[0, 1] = line.vertex[i, COL] + step * np.cos(angle) / land.width
        moved |= change(line, land, pipe, taste, i - 1, i + 1, 1, GAIN)
    line.vertex[i, STRIDE] *= 2.0 if moved else 0.5


@njit(cache=True)
def _fold(line: Line, land: Land, pipe: Pipe, taste: Taste, i: int, j: int) -> bool:
    """One vertex in place of those between i and j, at the same length and at an even grade.

    All such vertices lie on an ellipse with its foci at i and j; of these, those are tried at which
    the ground stands on an even grade from i to j.
    """
    x0, y0 = line.vertex[i, COL] * land.width, line.vertex[i, ROW] * land.height
    x1, y1 = line.vertex[j, COL] * land.width, line.vertex[j, ROW] * land.height
    # Half of what the bends save may go into length, if the line has grown shorter by as much.
    spare = line.paid[MOST] - line.paid[LENGTH] - line.paid[EXTRAS]
    run = min(0.5 * taste.bend * (j - i - 2), max(spare, 0.0))
    for k in range(i, j):
        run += leg_length(line, land, k)
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
            if change(line, land, pipe, taste, i, j, 1, EVEN):
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
def _split(line: Line, land: Land, pipe: Pipe, taste: Taste) -> bool:
    """Bend legs in their middle, to either side; whether one was bent."""
    look_back(line, land, pipe)
    bent = False
    i = 0
    while i + 1 < line.state[COUNT] and line.state[COUNT] + 1 < line.vertex.shape[0]:
        look_ahead(line, land, pipe, i)
        down, right = (
            line.vertex[i + 1, ROW] - line.vertex[i, ROW],
            line.vertex[i + 1, COL] - line.vertex[i, COL],
        )
        row, col = line.vertex[i, ROW] + 0.5 * down, line.vertex[i, COL] + 0.5 * right
        done = False
        for share in (0.02, -0.02, 0.05, -0.05, 0.12, -0.12, 0.3, -0.3):
            line.trial[0, 0] = row + share * right * land.width / land.height
            line.trial[0, 1] = col - share * down * land.height / land.width
            if change(line, land, pipe, taste, i, i + 1, 1, GAIN):
                done = True
                break
        bent |= done
        i += 2 if done else 1
    return bent


@njit(cache=True)
def _round(line: Line, land: Land, pipe: Pipe, taste: Taste) -> bool:
    """Put two vertices in place of one, each on a leg beside it; whether it was done anywhere."""
    look_back(line, land, pipe)
    rounded = False
    i = 1
    while i + 1 < line.state[COUNT] and line.state[COUNT] + 1 < line.vertex.shape[0]:
        look_ahead(line, land, pipe, i - 1)
        row, col = line.vertex[i, ROW], line.vertex[i, COL]
        before, after = leg_length(line, land, i - 1), leg_length(line, land, i)
        for share in (0.4, 0.1, 0.025):
            for m in range(2):
                other = i - 1 + 2 * m
                part = share * min(before, after) / (after if m else before)
                line.trial[m, ROW] = row + part * (line.vertex[other, ROW] - row)
                line.trial[m, COL] = col + part * (line.vertex[other, COL] - col)
            if change(line, land, pipe, taste, i - 1, i + 1, 2, GAIN):
                rounded = True
                i += 1
                break
        i += 1
    return rounded
