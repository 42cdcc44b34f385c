"""Compiled: the labels of a pipe along a line, whatever its rule: three kinds, one set of calls.

FREE: no limits, nothing to keep but open ground. LIMITS: a grade between limits, intervals of
levels (`planner.routing.follow_kernel`). BAND: one limit, pieces that sink and climb, and their
digging (`planner.routing.meet_kernel`).
"""

from typing import NamedTuple

from numba import njit

from planner.routing import band_kernel, follow_kernel, meet_kernel, search_kernel
from planner.routing.edge_kernel import FloatArray
from planner.routing.follow_kernel import Course

FREE, LIMITS, BAND = 0, 1, 2


class Pipe(NamedTuple):
    """A rule, as it is walked from both ends of a line.

    Attributes
    ----------
    kind : int
    ends : (2, k, 4)
        Labels at the end where the walk begins (0) and at the other (1).
    begin : (2,)
        How many of them there are.
    ahead, back : search_kernel.Rule
        Limits, walked from either end; of the kind `LIMITS`.
    band : band_kernel.Rule
        Of the kind `BAND`.
    spare, room : (2 * most, 4), (4, meet_kernel.ROOM)
        To work in.
    """

    kind: int
    ends: FloatArray
    begin: tuple[int, int]
    ahead: search_kernel.Rule
    back: search_kernel.Rule
    band: band_kernel.Rule
    spare: FloatArray
    room: FloatArray


@njit(cache=True)
def carry(
    pipe: Pipe,
    side: int,
    course: Course,
    span: tuple[int, int],
    top: float,
    labels: FloatArray,
    count: int,
    tolerance: float,
) -> int:
    """Carry labels from one side over samples that follow a place with that top.

    Returns
    -------
    int
        How many are left; none where the rule can't be kept.
    """
    if pipe.kind == FREE:
        return count
    if pipe.kind == LIMITS:
        rule = pipe.ahead if side == 0 else pipe.back
        return follow_kernel.over_course(
            rule, tolerance, course.strip, span, labels, count, pipe.spare
        )
    return meet_kernel.walk(
        pipe.band, course.strip, course.factor, span, top, labels, count, pipe.room
    )


@njit(cache=True)
def meet(
    pipe: Pipe,
    labels: FloatArray,
    count: int,
    others: FloatArray,
    other_count: int,
    tolerance: float,
) -> float:
    """Price of vents and digging of a line from labels of both ends; infinite if none fit."""
    if pipe.kind == FREE:
        return 0.0
    if pipe.kind == LIMITS:
        return follow_kernel.meet(pipe.ahead, labels, count, others, other_count, tolerance)
    return meet_kernel.meet(pipe.band, labels, count, others, other_count, tolerance)
