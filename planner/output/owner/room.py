"""Where on a small map there is room for a name or a number."""

import math
from dataclasses import dataclass, field

import numpy as np

from planner.profile.value import FloatArray

ANGLES = 16
STEP = 1.5  # mm between two samples of a line
OUTSIDE = 1000.0  # weighs more than anything covered
OVER_BOX = 20.0
OVER_LINE = 3.0  # for each sample
FAR = 0.4  # of a mm farther off


@dataclass(slots=True)
class Room:
    """What is taken on a map of this size [mm]: boxes, and samples of lines."""

    size: tuple[float, float]
    boxes: list[tuple[float, float, float, float]] = field(default_factory=list)
    lines: list[FloatArray] = field(default_factory=list)

    def take(self, left: float, bottom: float, wide: float, high: float) -> None:
        """Keep a box free."""
        self.boxes.append((left, bottom, left + wide, bottom + high))

    def take_line(self, path: FloatArray) -> None:
        """Rather keep a line free."""
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
        at = np.arange(0.0, along[-1] + STEP, STEP)
        self.lines.append(np.column_stack([np.interp(at, along, path[:, k]) for k in (0, 1)]))

    def beside(
        self, x: float, y: float, wide: float, high: float, radii: tuple[float, ...]
    ) -> tuple[float, float]:
        """Lower left of a box about x, y where it covers least, which is then taken."""
        best, least = (x, y), math.inf
        for radius in radii:
            for turn in range(ANGLES):
                angle = 2.0 * math.pi * turn / ANGLES
                c, s = math.cos(angle), math.sin(angle)
                left = x + radius * c + (c - 1.0) * wide / 2.0
                bottom = y + radius * s + (s - 1.0) * high / 2.0
                cost = self._covered(left, bottom, wide, high) + FAR * radius
                if cost < least - 1e-9:
                    best, least = (left, bottom), cost
        self.take(*best, wide, high)
        return best

    def _covered(self, left: float, bottom: float, wide: float, high: float) -> float:
        right, top = left + wide, bottom + high
        cost = 0.0
        if left < 0.5 or bottom < 0.5 or right > self.size[0] - 0.5 or top > self.size[1] - 0.5:
            cost += OUTSIDE
        for a, b, c, d in self.boxes:
            if left < c and right > a and bottom < d and top > b:
                cost += OVER_BOX * (1.0 + min(right, c) - max(left, a))
        for xy in self.lines:
            inside = (xy[:, 0] > left) & (xy[:, 0] < right) & (xy[:, 1] > bottom) & (xy[:, 1] < top)
            cost += OVER_LINE * float(np.count_nonzero(inside))
        return cost
