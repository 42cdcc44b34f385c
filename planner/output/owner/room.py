"""Where on a small map there is room for a name or a number."""

import math

import numpy as np

from planner.profile.value import FloatArray

ANGLES = 16
EDGE = 0.5  # mm
STEP = 1.5  # mm between two samples of a line
OUTSIDE = 1000.0  # weighs more than anything covered
OVER_BOX = 20.0
OVER_LINE = 3.0  # for each sample
FAR = 0.4  # of a mm farther off


class Room:
    """What is taken on a map of this size [mm]: boxes, and samples of lines."""

    def __init__(self, size: tuple[float, float]) -> None:
        self.size = size
        self.boxes: FloatArray = np.empty((0, 4))
        self.lines: FloatArray = np.empty((0, 2))

    def take(self, left: float, bottom: float, wide: float, high: float) -> None:
        """Keep a box free."""
        box = [left, bottom, left + wide, bottom + high]
        self.boxes = np.vstack([self.boxes, box])

    def take_line(self, path: FloatArray) -> None:
        """Rather keep a line free."""
        along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(path, axis=0).T))])
        at = np.arange(0.0, along[-1] + STEP, STEP)
        samples = np.column_stack([np.interp(at, along, path[:, k]) for k in (0, 1)])
        self.lines = np.vstack([self.lines, samples])

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
        low, top = np.array([left, bottom]), np.array([left + wide, bottom + high])
        off = np.any(low < EDGE) or np.any(top > np.array(self.size) - EDGE)
        shared = np.minimum(top, self.boxes[:, 2:]) - np.maximum(low, self.boxes[:, :2])
        met = np.all(shared > 0.0, axis=1)
        inside = np.all((self.lines > low) & (self.lines < top), axis=1)
        boxes = OVER_BOX * float(np.sum(1.0 + shared[met, 0]))
        return OUTSIDE * float(off) + boxes + OVER_LINE * float(np.count_nonzero(inside))
