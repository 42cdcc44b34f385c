"""Which part of a line a sheet shows, and how many sheets of what scale a line needs."""

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planner.profile.value import Profile

LEGIBLE = {"m": ((500, 4), (1000, 8), (2000, 8), (2500, 8)), "ft": ((480, 4), (1200, 8), (2400, 8))}
"""Scales of a plan and profile that a crew reads figures off, with the most sheets at each."""
MOST_SHEETS = 12  # a line that needs more at the smallest of them is drawn smaller


@dataclass(frozen=True, slots=True)
class Reach:
    """A line's part from one horizontal distance from its start to another [m]."""

    start: float
    end: float

    @property
    def length(self) -> float:
        """Horizontal [m]."""
        return self.end - self.start

    def has(self, run: float) -> bool:
        """Whether a distance lies in it, its ends included."""
        return self.start - 1e-6 <= run <= self.end + 1e-6


def whole(profile: Profile) -> Reach:
    """All of a line."""
    return Reach(0.0, float(profile.run[-1]))


def reaches(profile: Profile, scale: int, width: float, step: float) -> tuple[Reach, ...]:
    """A line in as few nearly equal parts as fit `width` [mm] at 1:`scale`.

    Parts meet at multiples of `step` [m] of chainage, where a mark stands.
    """
    room = width * scale / 1000.0 * (1.0 + 1e-9)
    run, chainage = profile.run, profile.chainage
    count = max(math.ceil(float(run[-1]) / room), 1)
    while True:
        ideal = profile.length * np.arange(1, count) / count
        round_ones = np.clip(np.round(ideal / step), 1, None) * step
        inside = np.unique(round_ones[round_ones < profile.length - 0.3 * step])
        joints = np.interp(inside, chainage, run)
        ends = np.concatenate([[0.0], joints, [float(run[-1])]])
        if np.all(np.diff(ends) <= room) or profile.length < count * step:
            return tuple(Reach(float(a), float(b)) for a, b in pairwise(ends))
        count += 1
