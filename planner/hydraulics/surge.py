"""Water hammer: how fast a pressure wave runs, and how high it stands."""

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.hydraulics.domain import MOST_BORE, between, plain, positive
from planner.hydraulics.water import GRAVITY

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
