"""`Profile`: ground and pipe along a line, and the points on it that hold air or water."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False, slots=True)
class Profile:
    """Ground and pipe at samples along a line, in the direction the water flows.

    Attributes
    ----------
    xy : (n, 2) ndarray
        Points in the terrain's grid [m].
    run : (n,) ndarray
        Horizontal distance from the start [m], strictly rising.
    chainage : (n,) ndarray
        Distance along the pipe in three dimensions [m], strictly rising.
    ground : (n,) ndarray
        Ground level [m]; NaN where the data has a hole.
    pipe : (n,) ndarray
        Level at which the pipe lies [m]; the ground itself until the pipe is laid.
    filled : (n,) bool ndarray
        True where the ground level was filled by interpolation.
    """

    xy: FloatArray
    run: FloatArray
    chainage: FloatArray
    ground: FloatArray
    pipe: FloatArray
    filled: BoolArray

    def __post_init__(self) -> None:
        for name in ("xy", "run", "chainage", "ground", "pipe"):
            own = np.array(getattr(self, name), dtype=np.float64)
            own.flags.writeable = False
            object.__setattr__(self, name, own)
        own_filled = np.array(self.filled, dtype=np.bool_)
        own_filled.flags.writeable = False
        object.__setattr__(self, "filled", own_filled)

    @property
    def depth(self) -> FloatArray:
        """Depth of the pipe under the ground [m]; negative where it is propped."""
        return self.ground - self.pipe

    @property
    def length(self) -> float:
        """Length of the pipe in three dimensions [m]."""
        return float(self.chainage[-1])


@dataclass(frozen=True, slots=True)
class HighPoint:
    """Where a laid pipe turns from rising to falling: air gathers here.

    Attributes
    ----------
    index : int
        Sample of the profile it stands at.
    run_m, chainage_m : float
        Horizontal and along the pipe [m].
    level_m : float
        Laid level [m].
    rise_m : float
        Laid level above the higher of the two low points or ends beside it [m].
    deeper_m : float
        Least extra trench that removes it [m].
    """

    index: int
    run_m: float
    chainage_m: float
    level_m: float
    rise_m: float
    deeper_m: float


@dataclass(frozen=True, slots=True)
class LowPoint:
    """Where a laid pipe turns from falling to rising: water and silt stay here.

    Attributes
    ----------
    index, run_m, chainage_m, level_m
        As for `HighPoint`.
    sag_m : float
        Laid level below the lower of the two high points or ends beside it [m].
    """

    index: int
    run_m: float
    chainage_m: float
    level_m: float
    sag_m: float


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a line, from one chainage to another [m]."""

    start_m: float
    end_m: float
