"""Places at even distances along a path on paper, for arrows and letters."""

from dataclasses import dataclass

import numpy as np

from planner.profile.value import FloatArray


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on a path and the direction there [degrees clockwise from the x axis, y down]."""

    x: float
    y: float
    angle: float

    @property
    def upright(self) -> float:
        """The angle at which letters along the path don't stand on their heads."""
        return (
            self.angle - 180
            if self.angle > 90
            else self.angle + 180
            if self.angle < -90
            else self.angle
        )


def spots(path: FloatArray, every: float, first: float) -> list[Spot]:
    """Spots at `first`, `first + every`, ... along a (n, 2) path; the middle of a short one.

    Examples
    --------
    >>> [s.x for s in spots(np.array([[0.0, 0.0], [10.0, 0.0]]), every=4.0, first=2.0)]
    [2.0, 6.0]
    """
    steps = np.hypot(*np.diff(path, axis=0).T)
    run = np.concatenate([[0.0], np.cumsum(steps)])
    total = float(run[-1])
    if total == 0.0:
        return []
    at = (
        np.arange(first, total - first / 2, every) if total > 1.5 * first else np.array([total / 2])
    )
    return [_spot(path, run, float(distance)) for distance in at]


def _spot(path: FloatArray, run: FloatArray, distance: float) -> Spot:
    reach = min(6.0, float(run[-1]) / 4)  # px either way: the direction of the line, not of a kink
    (x0, y0), (x, y), (x1, y1) = (
        (float(np.interp(d, run, path[:, 0])), float(np.interp(d, run, path[:, 1])))
        for d in (distance - reach, distance, distance + reach)
    )
    return Spot(x, y, float(np.degrees(np.arctan2(y1 - y0, x1 - x0))))
