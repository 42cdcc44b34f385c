"""Levels to which water would stand along a line: pipe shut, and pipe running."""

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_HEAD, FloatArray, between


def closed_level(chainage: npt.ArrayLike, level: float) -> FloatArray:
    """Level at each chainage [m] with the end shut and the water still: that of the open end.

    Examples
    --------
    >>> closed_level([0.0, 60.0, 100.0], 512.0).tolist()
    [512.0, 512.0, 512.0]
    """
    return np.full(_along(chainage).shape, float(between("level", level, -MOST_HEAD, MOST_HEAD)))


def hydraulic_grade_line(
    chainage: npt.ArrayLike, start_level: float, friction_total: float
) -> FloatArray:
    """Level at each chainage [m] with the water running through one bore: a straight fall.

    Parameters
    ----------
    chainage : (n,) array
        Distance along the pipe [m], rising, at least two.
    start_level : float
        Level at the first chainage [m]: for a delivery line, the tank's inlet plus the friction.
    friction_total : float
        Head lost from the first chainage to the last [m], 0 or more.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, or the chainage does not rise.

    Examples
    --------
    >>> hydraulic_grade_line([0.0, 50.0, 100.0], 512.0, 4.0).tolist()
    [512.0, 510.0, 508.0]
    """
    s = _along(chainage)
    start = float(between("start_level", start_level, -MOST_HEAD, MOST_HEAD))
    lost = float(between("friction_total", friction_total, 0.0))
    return np.asarray(start - lost * (s - s[0]) / (s[-1] - s[0]))


def _along(chainage: npt.ArrayLike) -> FloatArray:
    s = between("chainage", chainage, -1e9, 1e9)
    if s.ndim != 1 or s.size < 2 or np.any(np.diff(s) <= 0):
        msg = "chainage must be at least two distances along the pipe, each above the one before"
        raise OutsideRange(msg)
    return s
