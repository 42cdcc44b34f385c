"""Round numbers along an axis."""

import math

import numpy as np

from planner.profile.value import FloatArray


def nice_step(least: float) -> float:
    """Smallest of 1, 2, 5 times a power of ten that is at least `least` (> 0).

    Examples
    --------
    >>> nice_step(3.1)
    5.0
    """
    power = 10.0 ** math.floor(math.log10(least))
    return float(next(f * power for f in (1.0, 2.0, 5.0, 10.0) if f * power >= least * (1 - 1e-9)))


def ticks(low: float, high: float, step: float) -> FloatArray:
    """Multiples of `step` from `low` to `high`, both included.

    Examples
    --------
    >>> ticks(0.3, 2.0, 0.5).tolist()
    [0.5, 1.0, 1.5, 2.0]
    """
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return np.arange(first, last + 1, dtype=np.float64) * step
