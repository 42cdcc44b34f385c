"""Water hammer: how fast a pressure wave runs, and how high it stands."""

import numpy as np
import numpy.typing as npt

from planner.band import Band, Figure
from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_LENGTH,
    FloatArray,
    between,
    plain,
    positive,
)
from planner.hydraulics.water import GRAVITY

LEAST_REACH = 1e-6  # m, for a valve that shuts in no time; far below any distance of samples
DENSITY = 1000.0  # kg/m³; what it changes with temperature is far below what `modulus` is known to


def wave_speed(
    bore: npt.ArrayLike,
    wall: npt.ArrayLike,
    modulus: npt.ArrayLike,
    bulk_modulus: npt.ArrayLike = 2.1e9,
) -> Figure:
    """Speed of a pressure wave in a full, air-free, thin-walled pipe [m/s].

    a = √(K/ρ) / √(1 + (K/E)(D/e)). Free air cuts it: 1 % by volume at 1 bar, to 100..150 m/s.

    Parameters
    ----------
    bore : float or array
        Inside diameter [m], above 0. All arguments broadcast.
    wall : float or array
        Wall thickness [m], above 0.
    modulus : float or array
        Young's modulus of the wall [Pa], 1e6..1e13: steel 200e9, PVC 2.8e9 to 3.3e9, PE (short
        term) 0.8e9 to 1.0e9.
    bulk_modulus : float or array
        Of the water [Pa], 1e6..1e11.

    Raises
    ------
    OutsideRange
        A value is NaN, not positive or absurd; the message names it.

    Examples
    --------
    >>> round(wave_speed(0.3, 0.02, 2.6e9))
    400
    """
    d = positive("bore", bore, MOST_BORE)
    e = positive("wall", wall, MOST_BORE)
    stiff = between("modulus", modulus, 1e6, 1e13)
    bulk = between("bulk_modulus", bulk_modulus, 1e6, 1e11)
    return plain(np.sqrt(bulk / DENSITY / (1.0 + bulk / stiff * d / e)))


def surge_head(wave_speed: npt.ArrayLike, velocity_change: npt.ArrayLike) -> Figure:
    """Rise of head when water is stopped faster than the wave returns [m] (Joukowsky): a ΔV/g.

    For a blocked drive pipe the change is the full speed the waste valve lets the water reach.

    Parameters
    ----------
    wave_speed : float or array
        [m/s], above 0, at most 2000.
    velocity_change : float or array
        Speed lost [m/s], 0..100.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(surge_head(400.0, 2.5))
    102
    """
    a = positive("wave_speed", wave_speed, 2000.0)
    change = between("velocity_change", velocity_change, 0.0, 100.0)
    return plain(a * change / GRAVITY)


def return_time(wave_speed: npt.ArrayLike, length: npt.ArrayLike) -> Figure:
    """Time a pressure wave takes to the open end and back [s]: 2 L / a. Shorter closing is fast.

    Parameters
    ----------
    wave_speed : float or array
        [m/s], above 0, at most 2000.
    length : float or array
        Of the pipe between the valve and the free water [m], above 0.

    Raises
    ------
    OutsideRange
        A value is NaN, not positive or absurd; the message names it.

    Examples
    --------
    >>> return_time(400.0, 300.0)
    1.5
    """
    a = positive("wave_speed", wave_speed, 2000.0)
    return plain(2.0 * positive("length", length, MOST_LENGTH) / a)


def closing_surge(
    wave_speed: float, velocity_change: float, length: float, closing_time: float
) -> Band:
    """Rise of head at a valve that takes its time to shut [m].

    Faster than the wave returns: a ΔV/g, whatever the time. Slower: 2 L ΔV / (g t), by half to
    the whole of it as the valve's way of shutting has it; design takes the high value.

    Parameters
    ----------
    wave_speed, velocity_change, length : float
        As for `surge_head` and `return_time`.
    closing_time : float
        From open to shut [s], 0..1e5. Most of the flow is stopped in the last part of a valve's
        way: of a hand valve turned in 10 s, count 2 or 3.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    References
    ----------
    Joukowsky for the fast case, Michaud for the slow.

    Examples
    --------
    >>> closing_surge(400.0, 1.0, 300.0, 0.5).high == surge_head(400.0, 1.0)
    True
    >>> round(closing_surge(400.0, 1.0, 300.0, 6.0).high, 1)
    10.2
    """
    full = float(surge_head(wave_speed, velocity_change))
    back = float(return_time(wave_speed, length))
    time = float(between("closing_time", closing_time, 0.0, 1e5))
    if time <= back:
        return Band.exact(full)
    slow = full * back / time
    return Band(0.5 * slow, 0.75 * slow, slow)


def surge_along(
    chainage: npt.ArrayLike,
    wave_speed: float,
    velocity_change: float,
    closing_time: float,
) -> FloatArray:
    """Highest rise of head along a line whose last point is shut [m], none at the free water.

    The full rise reaches back to where the wave sent off at the start of closing meets the one
    that the free water sends back; from there it falls evenly to nothing. Slow closing: evenly
    all the way.

    Parameters
    ----------
    chainage : (n,) array
        Distance along the pipe from the free water [m], rising; n at least 2. The first is it.
    wave_speed, velocity_change, closing_time : float
        As for `closing_surge`, whose high value is taken.

    Returns
    -------
    (n,) ndarray

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, or the chainage does not rise.

    Examples
    --------
    >>> surge_along([0, 100, 300], 400.0, 9.80665 / 400.0, 1.0).tolist()
    [0.0, 0.5, 1.0]
    """
    s = between("chainage", chainage, -1e9, 1e9)
    if s.ndim != 1 or s.size < 2 or np.any(np.diff(s) <= 0):
        msg = "chainage must be at least two distances along the pipe, each above the one before"
        raise OutsideRange(msg)
    away = s - s[0]
    peak = closing_surge(wave_speed, velocity_change, float(away[-1]), closing_time).high
    reach = max(min(0.5 * wave_speed * closing_time, float(away[-1])), LEAST_REACH)
    return np.asarray(peak * np.minimum(away, reach) / reach)
