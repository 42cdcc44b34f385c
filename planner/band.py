"""`Band`: a figure that is not exactly known, as low, expected and high."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange

Figure = float | npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """Low, expected and high value of one figure, or of an array of them.

    Parameters
    ----------
    low, expected, high : float or (...) ndarray
        In one unit, low <= expected <= high; NaN in all three where the figure is not known.

    Raises
    ------
    OutsideRange
        The three are not in order.

    Examples
    --------
    >>> Band(0.4, 0.5, 0.6).times(10.0).high
    6.0
    """

    low: Figure
    expected: Figure
    high: Figure

    def __post_init__(self) -> None:
        low, expected, high = (np.asarray(v) for v in (self.low, self.expected, self.high))
        if np.any(low > expected) or np.any(expected > high):
            msg = f"a band needs low <= expected <= high, got {low}, {expected}, {high}"
            raise OutsideRange(msg)

    @classmethod
    def exact(cls, value: float) -> "Band":
        """A figure known without doubt."""
        return cls(value, value, value)

    def times(self, factor: float) -> "Band":
        """Each value times `factor` (0 or more)."""
        return Band(self.low * factor, self.expected * factor, self.high * factor)
