"""`Route`: where a pipe runs, its length and its cost."""

from dataclasses import dataclass

from shapely.geometry import LineString


@dataclass(frozen=True, slots=True)
class Route:
    """A pipe's way over the ground.

    Attributes
    ----------
    line : shapely.LineString
        From start to end in the terrain's x, y [m].
    length : float
        In three dimensions, along the ground [m].
    cost : float
        Length times the cost of the ground crossed, plus the price of its digging and of its vents
        [m of pipe].
    vents : int
        High points paid for.
    digging : float
        Section of the trench below the least cover [m²]: extra depth times length.
    proven : bool
        No line over the same neighbours costs less than the one that was straightened; False where
        only a corridor was searched and its bound does not close.
    """

    line: LineString
    length: float
    cost: float
    vents: int = 0
    digging: float = 0.0
    proven: bool = True
