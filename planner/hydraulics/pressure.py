"""Pressure along a line in its three states, outlet open, outlet closed, surge, and what is left.

A pressure without its state means nothing; so none is kept here without it.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_HEAD, FloatArray, between, positive
from planner.hydraulics.samples import line_arrays

State = Literal["open", "closed", "surge"]
STATES: tuple[State, ...] = ("open", "closed", "surge")


@dataclass(frozen=True, eq=False, slots=True)
class PressureProfile:
    """Pressure heads at samples along a line [m of water, gauge].

    Attributes
    ----------
    chainage : (n,) ndarray
        Distance along the pipe [m].
    open : (n,) ndarray
        Outlet open, water running; negative above the hydraulic grade line.
    closed : (n,) ndarray
        Outlet closed, water still.
    surge : (n,) ndarray
        The highest that a valve's closing makes: the closed head and the rise on top.
    rating : (n,) ndarray
        What the pipe bears for good, as warm as it gets.
    surge_rating : (n,) ndarray
        What it bears of surge.
    """

    chainage: FloatArray
    open: FloatArray
    closed: FloatArray
    surge: FloatArray
    rating: FloatArray
    surge_rating: FloatArray

    def __post_init__(self) -> None:
        for name in ("chainage", "open", "closed", "surge", "rating", "surge_rating"):
            own = np.array(getattr(self, name), dtype=np.float64)
            own.flags.writeable = False
            object.__setattr__(self, name, own)


def pressure_profile(
    chainage: npt.ArrayLike,
    pipe: npt.ArrayLike,
    open_level: npt.ArrayLike,
    closed_level: npt.ArrayLike,
    rise: npt.ArrayLike,
    rating: npt.ArrayLike,
    *,
    temperature_factor: npt.ArrayLike = 1.0,
    surge_allowance: float = 1.0,
) -> PressureProfile:
    """Pressure heads along a line from the levels to which its water would stand.

    Parameters
    ----------
    chainage, pipe : (n,) array
        Distance along the pipe, strictly rising, and its level [m].
    open_level, closed_level : float or (n,) array
        Level to which water would stand with the outlet open and closed [m].
    rise : float or (n,) array
        Rise of head by surge [m], 0 or more, as from `surge_along`.
    rating : float or (n,) array
        The pipe's pressure rating [m of water], above 0.
    temperature_factor : float or (n,) array
        Share of the rating left at the warmest, above 0 and at most 1.
    surge_allowance : float
        Factor on the rating that a surge may reach, 1..3: the material's in
        `planner.hydraulics.allowance`.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, or the shapes don't fit; the message says which.

    Examples
    --------
    >>> got = pressure_profile([0, 100], [50, 20], [50, 40], 50.0, [0, 10], 60.0)
    >>> got.open.tolist(), got.closed.tolist(), got.surge.tolist()
    ([0.0, 20.0], [0.0, 30.0], [0.0, 40.0])
    """
    s, z = line_arrays(chainage, pipe)
    running = _spread("open_level", between("open_level", open_level, -MOST_HEAD, MOST_HEAD), z)
    still = _spread("closed_level", between("closed_level", closed_level, -MOST_HEAD, MOST_HEAD), z)
    extra = _spread("rise", between("rise", rise, 0.0, MOST_HEAD), z)
    factor = _spread("temperature_factor", positive("temperature_factor", temperature_factor, 1), z)
    bears = factor * _spread("rating", positive("rating", rating, MOST_HEAD), z)
    more = float(between("surge_allowance", surge_allowance, 1.0, 3.0))
    return PressureProfile(s, running - z, still - z, still - z + extra, bears, bears * more)


def _spread(name: str, value: FloatArray, like: FloatArray) -> FloatArray:
    if value.shape not in {(), like.shape}:
        msg = f"{name} must be one number or one for each of {like.size} samples, got {value.shape}"
        raise OutsideRange(msg)
    return np.broadcast_to(value, like.shape)


@dataclass(frozen=True, slots=True)
class LeastMargin:
    """Where a pipe is nearest to its rating.

    Attributes
    ----------
    state : {"open", "closed", "surge"}
    index : int
        Sample of the line.
    head, rating, margin : float
        Pressure head, what the pipe bears in that state, and what is left of it [m]; the margin
        is negative where it is too much.
    """

    state: State
    index: int
    head: float
    rating: float
    margin: float


def least_margin(profile: PressureProfile, state: State | None = None) -> LeastMargin:
    """Least margin of a line to its rating, in one state or in all three; the first of equals.

    Examples
    --------
    >>> got = pressure_profile([0, 100], [50, 20], [50, 40], 50.0, [0, 10], 35.0)
    >>> least_margin(got)
    LeastMargin(state='surge', index=1, head=40.0, rating=35.0, margin=-5.0)
    >>> least_margin(got, "closed").margin
    5.0
    """
    found = [_least(profile, each) for each in (STATES if state is None else (state,))]
    return min(found, key=lambda least: least.margin)


def _least(profile: PressureProfile, state: State) -> LeastMargin:
    head: FloatArray = getattr(profile, state)
    bears = profile.surge_rating if state == "surge" else profile.rating
    k = int(np.argmin(bears - head))
    return LeastMargin(state, k, float(head[k]), float(bears[k]), float(bears[k] - head[k]))
