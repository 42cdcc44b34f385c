"""Stretches of a laid line where the trench was dug deeper than the least cover on purpose."""

from dataclasses import dataclass

import numpy as np

from planner.profile.lay import Laid
from planner.routing.task import Task

NOTICED = 0.2  # m below the least cover; less is the ground's own roughness
SHORTEST = 3.0  # m; a shorter stretch is a bump, a shorter gap between two joins them


@dataclass(frozen=True, slots=True)
class Dug:
    """A stretch from sample `first` to `last`, deepest at sample `deepest`.

    Attributes
    ----------
    deeper, over : float
        How far below the least cover it goes, and its length [m].
    section : float
        Of the trench below the least cover [m²].
    """

    first: int
    last: int
    deepest: int
    deeper: float
    over: float
    section: float


def dug_stretches(task: Task, laid: Laid) -> tuple[Dug, ...]:
    """The stretches of a line, in order; of a pipe on the surface, those under the ground."""
    run = laid.profile.run
    extra = laid.profile.depth - max(task.laying.least_cover, 0.0)
    deep = np.concatenate([[False], extra > NOTICED, [False]]).astype(np.int8)
    begins, ends = np.flatnonzero(np.diff(deep) == 1), np.flatnonzero(np.diff(deep) == -1) - 1
    joined: list[tuple[int, int]] = []
    for first, last in zip(begins.tolist(), ends.tolist(), strict=True):
        if joined and run[first] - run[joined[-1][1]] < SHORTEST:
            joined[-1] = (joined[-1][0], last)
        else:
            joined.append((first, last))
    found = (_dug(laid, np.maximum(extra, 0.0), first, last) for first, last in joined)
    return tuple(dug for dug in found if dug.over >= SHORTEST)


def _dug(laid: Laid, extra: np.ndarray, first: int, last: int) -> Dug:
    run = laid.profile.run[first : last + 1]
    part = extra[first : last + 1]
    return Dug(
        first=first,
        last=last,
        deepest=first + int(np.argmax(part)),
        deeper=float(part.max()),
        over=float(run[-1] - run[0]),
        section=float(np.sum(0.5 * (part[1:] + part[:-1]) * np.diff(run))),
    )
