"""What a pipe carries under the head it has."""

import numpy as np
from scipy.optimize import brentq

from planner.hydraulics.domain import MOST_BORE, MOST_HEAD, MOST_LENGTH, between, positive
from planner.hydraulics.friction import NEW_PLASTIC, ROUGHEST, area, darcy_loss
from planner.hydraulics.water import GRAVITY, viscosity


def pipe_flow(
    head: float,
    bore: float,
    length: float,
    roughness: float = NEW_PLASTIC,
    temperature: float = 20.0,
    minor: float = 0.0,
) -> float:
    """Flow in a full round pipe driven by an available head [m³/s].

    The inverse of `friction_loss`, with the head of `minor` speed heads lost besides.

    Parameters
    ----------
    head : float
        Level at the start less level at the end [m]; 0 or less drives nothing.
    bore, length : float
        Inside diameter and length [m], above 0.
    roughness, temperature : float
        As for `friction_loss`.
    minor : float
        Sum of the loss coefficients of inlet, fittings and outlet, 0 or more (inlet 0.5, outlet
        1, elbow 1, swing check valve 2.5).

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(pipe_flow(5.0, 0.0204, 100.0) * 60000, 1)  # litres a minute
    16.9
    """
    between("head", head, -MOST_HEAD, MOST_HEAD)
    d = positive("bore", bore, MOST_BORE)
    long = positive("length", length, MOST_LENGTH)
    rough = between("roughness", roughness, 0.0, ROUGHEST * bore)
    between("minor", minor, 0.0, 1e6)
    nu = np.asarray(viscosity(temperature))
    if head <= 0:
        return 0.0
    # Churchill's factor is never below the laminar one: Poiseuille's flow is the most there can
    # be, and for a creep it is the flow, to rounding.
    poiseuille = float(head * GRAVITY * np.pi * d**4 / (128.0 * nu * long))
    section = float(area(d))

    def excess(flow: float) -> float:
        speed_heads = minor * (flow / section) ** 2 / (2.0 * GRAVITY)
        friction = float(darcy_loss(np.float64(flow), d, long, rough, nu))
        return friction + speed_heads - head

    if excess(poiseuille) <= 0:
        return poiseuille
    return float(brentq(excess, 0.0, poiseuille, xtol=1e-18, rtol=1e-12))
