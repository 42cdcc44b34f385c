"""A trail of GPS fixes to the line that was walked: no spikes, no knots where one stood, no wobble.

A handheld strays by some metres, while one walks and while one stands still. Where a file does not
tell that it was recorded, vertices as close as fixes, on a way that wobbles, give it away.
"""

import numpy as np
import shapely
from shapely.geometry import LineString

from planner.terrain.value import FloatArray

CLOSE = 5.0  # m; vertices nearer to each other than this, in the middle, are fixes of a trail
DRAWN = 0.05  # m; most samples of a drawn line lie nearer to its legs than this
WOBBLING = 0.95  # of its length, or less, is what a trail is long without its wobble
SPIKE = 10.0  # m; a leap out and back within a few seconds that no one walks
LEAPS = 5.0  # and so many usual steps long
SPIKE_FIXES = 4  # that may stand out there
KNOT = 8.0  # m; how far fixes stray round a person who stands still
STAND = 3.0  # m; fixes nearer than this are one place
LONGEST_STAND = 600  # fixes, ten minutes of one a second
WOBBLE = 2.0  # m; bends that leave the straight by less are the GPS's own


def is_trail(xy: FloatArray) -> bool:
    """Whether vertices (n, 2) [m] are the fixes of a trail, and no route that is drawn finely."""
    if len(xy) < 3 or float(np.median(_steps(xy))) >= CLOSE:
        return False
    whole, plain = LineString(xy), LineString(without_wobble(without_spikes(xy)))
    legs = len(whole.simplify(DRAWN).coords)
    return legs > len(xy) / 2 and bool(plain.length <= WOBBLING * whole.length)


def without_spikes(xy: FloatArray) -> FloatArray:
    """A trail without its leaps out and back: one to four fixes that stand far off the others."""
    far = max(SPIKE, LEAPS * float(np.median(_steps(xy))))
    kept, k = [0], 0
    while k < len(xy) - 1:
        k = _after_spike(xy, k, far)
        kept.append(k)
    return xy[kept]


def without_wobble(xy: FloatArray) -> FloatArray:
    """A trail (n, 2) [m] with the bends of the way alone; its ends stay.

    Where one stood still the knot of fixes is cut: from each fix the line goes on from the last
    one that came back to it before the trail left its surroundings for good. What is left is
    straightened where it leaves the straight by no more than 2 m (Douglas-Peucker).
    """
    kept, k = [0], 0
    while k < len(xy) - 1:
        away = np.hypot(*(xy[k + 1 : k + 1 + LONGEST_STAND] - xy[k]).T)
        gone = np.flatnonzero(away > KNOT)
        here = np.flatnonzero(away[: gone[0] if gone.size else None] <= STAND)
        k += 1 + (int(here[-1]) if here.size else 0)
        kept.append(k)
    line: FloatArray = shapely.get_coordinates(LineString(xy[kept]).simplify(WOBBLE))
    return line


def _after_spike(xy: FloatArray, k: int, far: float) -> int:
    """The fix that follows the k-th: the next, or the first back from a spike."""
    leap = float(np.hypot(*(xy[k + 1] - xy[k])))
    if leap <= far:
        return k + 1
    back = np.hypot(*(xy[k + 2 : k + 2 + SPIKE_FIXES] - xy[k]).T) < leap / 2.0
    return k + 2 + int(np.argmax(back)) if back.any() else k + 1


def _steps(xy: FloatArray) -> FloatArray:
    steps: FloatArray = np.hypot(*np.diff(xy, axis=0).T)
    return steps
