"""What numbers a formula takes: refused here, by name and value, before any arithmetic."""

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.errors import OutsideRange

FloatArray = npt.NDArray[np.float64]

# Nothing a rural line has comes near these; a number beyond is a slip of unit or of digit.
MOST_FLOW = 100.0  # m³/s
MOST_BORE = 10.0  # m
MOST_LENGTH = 1e6  # m
MOST_HEAD = 1e4  # m


def positive(name: str, value: npt.ArrayLike, most: float = np.inf) -> FloatArray:
    """The value as float64, every element above 0 and at most `most`.

    Raises
    ------
    OutsideRange
        An element is no number, NaN, infinite, 0 or less, or above `most`.
    """
    number = _number(name, value)
    wanted = f"above 0{_up_to(most)}"
    return _admit(name, number, np.isfinite(number) & (number > 0) & (number <= most), wanted)


def between(name: str, value: npt.ArrayLike, least: float, most: float = np.inf) -> FloatArray:
    """The value as float64, every element finite and in `least`..`most`, ends included.

    Raises
    ------
    OutsideRange
        An element is no number, NaN, infinite, or outside.
    """
    number = _number(name, value)
    wanted = f"{least:g} or more{_up_to(most)}"
    return _admit(name, number, np.isfinite(number) & (number >= least) & (number <= most), wanted)


def plain(value: npt.NDArray[np.float64] | np.float64) -> Figure:
    """A float where there is but one number, else the array."""
    return float(value) if np.ndim(value) == 0 else np.asarray(value)


def _up_to(most: float) -> str:
    return f" and at most {most:g}" if np.isfinite(most) else ""


def _number(name: str, value: npt.ArrayLike) -> FloatArray:
    try:
        return np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        shown = repr(value)[:60]
        msg = f"{name} must be a number, got {shown}"
        raise OutsideRange(msg) from None


def _admit(name: str, number: FloatArray, good: npt.NDArray[np.bool_], wanted: str) -> FloatArray:
    if not np.all(good):
        first = tuple(int(k) for k in np.argwhere(~np.atleast_1d(good))[0])
        where = f" at index {first[0] if len(first) == 1 else first}" if number.ndim else ""
        msg = f"{name} must be {wanted}, got {np.atleast_1d(number)[first]:g}{where}"
        raise OutsideRange(msg)
    return number
