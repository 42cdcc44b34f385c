"""What was read in the field, reduced to differences and levels, and what comes out of it."""

import math
from dataclasses import dataclass, field
from typing import Literal

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]

SAME_SPOT = 0.5  # m; two marks this near stand on the same ground

Method = Literal["level", "hose", "traverse", "barometer", "known"]


@dataclass(frozen=True, slots=True)
class Row:
    """Where a reading stands: the file's name and the line in it, from 1 (the header's line)."""

    file: str
    line: int

    def __str__(self) -> str:
        return f"{self.file} line {self.line}"


@dataclass(frozen=True, slots=True)
class Difference:
    """One station above another, as read.

    `rise` is the level of `end` above that of `start`, `error` its standard error, `distance` the
    length of the sights or of the hose, NaN where it was not noted; all m.
    """

    start: str
    end: str
    rise: float
    error: float
    method: Method
    row: Row
    distance: float = float("nan")


@dataclass(frozen=True, slots=True)
class Known:
    """A station whose level is known, in the datum of its file [m], with its standard error."""

    station: str
    level: float
    error: float
    row: Row


@dataclass(frozen=True, slots=True)
class Closure:
    """How a run of levels closes.

    Attributes
    ----------
    file : str
    what : str
        Which stations it runs between, for people.
    misclosure, allowed : float
        [m]; allowed by ordinary levelling of that length.
    setups : int
    length : float
        Of all sights [m], NaN where none were noted.
    """

    file: str
    what: str
    misclosure: float
    allowed: float
    setups: int
    length: float = float("nan")

    @property
    def good(self) -> bool:
        """Whether it closes as ordinary levelling does."""
        return abs(self.misclosure) <= self.allowed


@dataclass(frozen=True, slots=True)
class Readings:
    """All that the files of a site hold, in m and degrees.

    `places` tells longitude and latitude of stations whose rows gave them, `notes` what a person
    should know of the reduction (a drift taken out, GPS heights left aside), one sentence each.
    """

    differences: tuple[Difference, ...] = ()
    knowns: tuple[Known, ...] = ()
    places: dict[str, tuple[float, float]] = field(default_factory=dict)
    closures: tuple[Closure, ...] = ()
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Levelled:
    """A station after adjustment.

    Attributes
    ----------
    name : str
    xy : (float, float)
        In the terrain's grid [m].
    level : float
        Adjusted, in the elevation data's own datum [m].
    error : float
        Standard error against its fellow stations [m]: how well differences between them hold.
    model : float
        Level the elevation data gave there before [m].
    methods : tuple of Method
        How it was measured.
    """

    name: str
    xy: tuple[float, float]
    level: float
    error: float
    model: float
    methods: tuple[Method, ...]


@dataclass(frozen=True, eq=False, slots=True)
class Survey:
    """Levels measured on the ground, adjusted together.

    Attributes
    ----------
    stations : tuple of Levelled
    covariance : (n, n) ndarray, read-only
        Of the stations' levels without the common shift [m²].
    shift : float
        What was taken out of the measured heights to bring them to the elevation data's datum [m].
    reach : float
        How far from a station the ground is bent [m].
    spread_before, spread_after : float
        Root mean square of measured less model, shift taken out: before the bending, and at each
        station when it alone is left out of the bending; NaN with fewer than three stations [m].
    closures : tuple of Closure
    notes : tuple of str
    """

    stations: tuple[Levelled, ...]
    covariance: FloatArray
    shift: float
    reach: float
    spread_before: float
    spread_after: float
    closures: tuple[Closure, ...] = ()
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        own = np.array(self.covariance, dtype=np.float64)
        own.flags.writeable = False
        object.__setattr__(self, "covariance", own)

    def station(self, name: str) -> Levelled | None:
        """The station of that name, whatever its case; None if it was not measured."""
        wanted = name.casefold()
        return next((one for one in self.stations if one.name.casefold() == wanted), None)

    def at(self, name: str, xy: tuple[float, float]) -> Levelled | None:
        """The station of that name, else the nearest within half a metre of x, y.

        The stake at a line's end stands at the point of the sketch that the line leads to.
        """
        named = self.station(name)
        if named is not None or not self.stations:
            return named
        near = min(self.stations, key=lambda one: math.dist(one.xy, xy))
        return near if math.dist(near.xy, xy) <= SAME_SPOT else None

    def difference(self, upper: Levelled, lower: Levelled) -> tuple[float, float]:
        """Level of one of its stations above another, and the standard error of that [m]."""
        high, low = self.stations.index(upper), self.stations.index(lower)
        rise = upper.level - lower.level
        cov = self.covariance
        return rise, float(
            np.sqrt(max(cov[high, high] + cov[low, low] - 2.0 * cov[high, low], 0.0))
        )
