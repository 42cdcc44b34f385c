"""Head lost to friction in a full round pipe: Darcy-Weisbach, and Hazen-Williams beside it."""

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_LENGTH,
    FloatArray,
    between,
    plain,
    positive,
)
from planner.hydraulics.water import GRAVITY, viscosity

NEW_PLASTIC = 1.5e-6  # m, roughness of new PE or PVC pipe
ROUGHEST = 0.5  # of the bore; beyond, it is no pipe any more
STILL = 1e-6  # Reynolds number below which water stands; keeps the powers below finite

Numbers = FloatArray | np.float64


def velocity(flow: npt.ArrayLike, bore: npt.ArrayLike) -> Figure:
    """Mean speed of water in a full round pipe [m/s].

    Parameters
    ----------
    flow : float or array
        Discharge [m³/s], 0 or more.
    bore : float or array
        Inside diameter [m], above 0.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(velocity(1e-3, 0.05), 3)
    0.509
    """
    q = between("flow", flow, 0.0, MOST_FLOW)
    return plain(q / area(positive("bore", bore, MOST_BORE)))


def area(bore: Numbers) -> FloatArray:
    """Cross-section of a round pipe [m²]."""
    return np.asarray(np.pi / 4.0 * bore**2)


def churchill(reynolds: Numbers, relative_roughness: Numbers) -> FloatArray:
    """Darcy friction factor over laminar, critical and turbulent flow, for arrays.

    The same as `fluids.friction.Churchill_1977`, which takes one number at a time (the tests
    hold the two together to 1e-12). Reynolds numbers above 0.

    References
    ----------
    Churchill, "Friction-factor equation spans all fluid-flow regimes", Chem. Eng. 84(24), 1977.
    """
    turbulent = (2.457 * np.log((7.0 / reynolds) ** 0.9 + 0.27 * relative_roughness)) ** 16
    critical = (37530.0 / reynolds) ** 16
    power_12 = (8.0 / reynolds) ** 12 + (turbulent + critical) ** -1.5
    return np.asarray(8.0 * power_12 ** (1.0 / 12.0))


def friction_loss(
    flow: npt.ArrayLike,
    bore: npt.ArrayLike,
    length: npt.ArrayLike,
    roughness: npt.ArrayLike = NEW_PLASTIC,
    temperature: npt.ArrayLike = 20.0,
) -> Figure:
    """Head lost to friction in a full round pipe [m of water].

    h = f (L/D) V²/2g with Churchill's f, so that the trickle of a small line at night, between
    laminar and turbulent, is covered too.

    Parameters
    ----------
    flow : float or array
        Discharge [m³/s], 0 or more; 0 loses nothing. All arguments broadcast.
    bore : float or array
        Inside diameter [m], above 0.
    length : float or array
        Length along the pipe [m], 0 or more.
    roughness : float or array
        Absolute roughness [m], 0 to half the bore: new PE or PVC 1.5e-6, drawn or commercial
        steel 4.5e-5, galvanised 1.5e-4, rusted 5e-4 to 3e-3. 1e-5 to 5e-5 for plastic with its
        joints, as one designs.
    temperature : float or array
        Of the water [°C], 0..60. Cold water loses 6 to 8 % more in smooth pipe than at 20 °C.

    Returns
    -------
    float or array
        Head [m]. Fittings, inlet and outlet are not in it.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(friction_loss(2e-4, 0.0204, 100.0), 2)
    2.75
    """
    q = between("flow", flow, 0.0, MOST_FLOW)
    d = positive("bore", bore, MOST_BORE)
    long = between("length", length, 0.0, MOST_LENGTH)
    rough = between("roughness", roughness, 0.0)
    if np.any(rough > ROUGHEST * d):
        msg = f"roughness must be at most {ROUGHEST:g} of the bore, got {np.max(rough / d):g} of it"
        raise OutsideRange(msg)
    return plain(darcy_loss(q, d, long, rough, np.asarray(viscosity(temperature))))


def darcy_loss(
    flow: Numbers, bore: Numbers, length: Numbers, roughness: Numbers, nu: Numbers
) -> FloatArray:
    """`friction_loss` without its checks, for solvers; `nu` is the kinematic viscosity [m²/s]."""
    speed = flow / area(bore)
    factor = churchill(np.maximum(speed * bore / nu, STILL), roughness / bore)
    return np.asarray(factor * length / bore * speed**2 / (2.0 * GRAVITY))


def hazen_williams_loss(
    flow: npt.ArrayLike, bore: npt.ArrayLike, length: npt.ArrayLike, c: npt.ArrayLike
) -> Figure:
    """Head lost to friction by Hazen and Williams [m of water].

    h = 10.67 L Q^1.852 / (C^1.852 D^4.8704). Kept for comparison with printed tables: for a
    trickle (Reynolds below 2e4) it promises too little loss.

    Parameters
    ----------
    flow : float or array
        Discharge [m³/s], 0 or more. All arguments broadcast.
    bore : float or array
        Inside diameter [m], above 0.
    length : float or array
        Length along the pipe [m], 0 or more.
    c : float or array
        Coefficient, 40..160: PE 140 to 150, PVC 150, galvanised 100 to 120, old steel 80 to 100.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(hazen_williams_loss(2e-4, 0.0204, 100.0, 140.0), 2)
    2.73
    """
    q = between("flow", flow, 0.0, MOST_FLOW)
    d = positive("bore", bore, MOST_BORE)
    long = between("length", length, 0.0, MOST_LENGTH)
    smooth = between("c", c, 40.0, 160.0)
    return plain(10.67 * long * (q / smooth) ** 1.852 / d**4.8704)
