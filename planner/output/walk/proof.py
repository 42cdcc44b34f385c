"""The pressure a line is tested at before its trench is filled."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planner.profile.value import FloatArray, Profile
from planner.record.value import Line

TIMES = 1.5  # of the working head (trade practice; local codes and the pipe's maker go first)
LEAST = 3.0  # m of water; a line that carries less is filled and looked at


@dataclass(frozen=True, slots=True)
class Proof:
    """A pressure test of a line, or of a part between two break-pressure tanks.

    Heads in m of water, at the part's lowest point.

    Attributes
    ----------
    start_m, end_m, gauge_m : float
        Chainages of its ends and of its lowest point, where the gauge stands [m].
    working : float
        The highest there, outlet open or closed.
    most : float
        At which the pipe, somewhere in the part, has all that it bears for good.
    """

    start_m: float
    end_m: float
    gauge_m: float
    working: float
    most: float

    @property
    def wanted(self) -> float:
        """What is usual, whatever the pipe bears."""
        return TIMES * self.working

    @property
    def limited(self) -> bool:
        """Whether the pipe bears less than is usual."""
        return self.wanted > self.most

    @property
    def head(self) -> float:
        """To test at; NaN where the pipe does not even bear its working pressure."""
        return math.nan if self.working > self.most else min(self.wanted, self.most)


def proofs_of(line: Line) -> tuple[Proof, ...]:
    """The tests of a line; none where its pressure is not known or too little to be tested.

    Water stands still in a test: with the head T at the lowest point, the pipe z above it bears
    T - z. So its rating limits T to the least of rating + z.
    """
    return tuple(proof for proof in _parts(line) if proof.working >= LEAST)


def _parts(line: Line) -> Iterator[Proof]:
    if line.pressure is None:
        return
    heads, pipe = line.pressure.heads, line.profile.pipe
    steps = line.pressure.tanks
    if steps is None or not steps.tanks:
        yield from _part(
            line.profile, heads.rating, np.fmax(heads.open, heads.closed), 0, pipe.size - 1
        )
        return
    for start, end in pairwise([0, *steps.tanks, pipe.size - 1]):
        still = np.array(steps.static_level) - pipe
        still[start] = np.nan if start else still[0]  # at a tank: of the part before it
        yield from _part(line.profile, heads.rating, still, start, end)


def _part(
    profile: Profile, rating: FloatArray, working: FloatArray, start: int, end: int
) -> Iterator[Proof]:
    part = slice(start, end + 1)
    pipe, chainage = profile.pipe[part], profile.chainage[part]
    if np.isnan(pipe).all() or np.isnan(working[part]).all():
        return
    lowest = int(np.nanargmin(pipe))
    above = pipe - pipe[lowest]
    yield Proof(
        start_m=float(chainage[0]),
        end_m=float(chainage[-1]),
        gauge_m=float(chainage[lowest]),
        working=float(np.nanmax(working[part] + above)),
        most=float(np.nanmin(rating[part] + above)),
    )
