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
        Length times the cost of the ground crossed, plus the price of its vents [m of pipe].
    """

    line: LineString
    length: float
    cost: float
