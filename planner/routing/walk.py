"""`Walk` and `Miss`: what a search over the cells comes to, before the line is straightened."""

from dataclasses import dataclass

from planner.terrain.value import FloatArray

Place = tuple[float, float]


@dataclass(frozen=True, eq=False, slots=True)
class Walk:
    """A line over the cells.

    Attributes
    ----------
    xy : (n, 2) ndarray
        From start to end, both included exactly [m].
    cost : float
        As searched: length, digging and vents [m of pipe].
    exact : bool
        No line over the same moves costs less; False where the search had to do with less than
        all of its labels.
    """

    xy: FloatArray
    cost: float
    exact: bool = True


@dataclass(frozen=True, slots=True)
class Miss:
    """No line.

    Attributes
    ----------
    nearest : (float, float) or None
        x, y of the cell nearest to the end that a line from the start reaches; None if none.
    short : float or None
        How much level is missing there [m], where that is what stops the line.
    """

    nearest: Place | None
    short: float | None = None
