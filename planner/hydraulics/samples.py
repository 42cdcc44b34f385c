"""A line given as samples along the flow: distances, levels and indices, checked by name."""

from math import inf

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_HEAD, FloatArray, between

MOST_SAMPLES = 1_000_000


def line_arrays(along: npt.ArrayLike, pipe: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
    """Distance, strictly rising, and level of a line, checked: at least two samples of each.

    Raises
    ------
    OutsideRange
        They are not so.
    """
    s = between("distance along the line", along, -1e9, 1e9)
    z = between("pipe level", pipe, -MOST_HEAD, MOST_HEAD)
    if s.ndim != 1 or s.shape != z.shape or not 2 <= s.size <= MOST_SAMPLES:
        msg = f"a line needs as many levels as distances, 2 or more, got {s.shape} and {z.shape}"
        raise OutsideRange(msg)
    if np.any(np.diff(s) <= 0):
        msg = "distance along the line must rise from sample to sample"
        raise OutsideRange(msg)
    return s, z


def sample_index(name: str, index: int, size: float = inf) -> int:
    """The index as an int, 0 or more and below `size`.

    Raises
    ------
    OutsideRange
        It is not so.
    """
    if index != int(index) or not 0 <= index < size:
        msg = f"{name} must be a sample of the line, 0 to {size - 1:g}, got {index}"
        raise OutsideRange(msg)
    return int(index)
