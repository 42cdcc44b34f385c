"""An outlet with its valve, hose and opening: what it takes to push water through it."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.optimize import brentq

from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    MOST_LENGTH,
    between,
    positive,
)
from planner.hydraulics.friction import NEW_PLASTIC, ROUGHEST, area, darcy_loss
from planner.hydraulics.full_flow import pipe_flow
from planner.hydraulics.water import GRAVITY, viscosity

# A village tap gives 0.1 - 0.2 l/s; where the site does not say, an outlet is to give the upper.
TAP_FLOW = 2e-4  # m³/s


@dataclass(frozen=True, slots=True)
class Hose:
    """A hose behind an outlet's valve.

    Attributes
    ----------
    bore, length : float
        [m], above 0.
    roughness : float
        [m], 0 to half the bore.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.
    """

    bore: float
    length: float
    roughness: float = NEW_PLASTIC

    def __post_init__(self) -> None:
        positive("hose bore", self.bore, MOST_BORE)
        positive("hose length", self.length, MOST_LENGTH)
        between("hose roughness", self.roughness, 0.0, ROUGHEST * self.bore)


@dataclass(frozen=True, slots=True)
class Outlet:
    """Where water leaves the pipes into the open.

    Attributes
    ----------
    name : str
    level : float
        At which the water leaves, the hose's far end [m].
    bore : float
        Inside diameter of the valve or opening [m], above 0.
    loss : float
        Speed heads spent in that bore, 1 or more: the jet's own 1, fittings and valve besides
        (ball valve 0.1, globe valve or tap 6 to 10); `orifice_loss` for a hole.
    hose : Hose or None
    is_open : bool

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.
    """

    name: str
    level: float
    bore: float
    loss: float = 2.0
    hose: Hose | None = None
    is_open: bool = True

    def __post_init__(self) -> None:
        between("outlet level", self.level, -MOST_HEAD, MOST_HEAD)
        positive("outlet bore", self.bore, MOST_BORE)
        between("outlet loss", self.loss, 1.0, 1e6)


def orifice_loss(coefficient: float = 0.62) -> float:
    """Speed heads spent in a hole, its jet included: 1 / C² from Q = C A sqrt(2 g h).

    Parameters
    ----------
    coefficient : float
        Of discharge, above 0, at most 1: sharp edge 0.60 to 0.62, rounded 0.98.

    Raises
    ------
    OutsideRange
        It is NaN or outside.

    Examples
    --------
    >>> orifice_loss(0.5)
    4.0
    """
    return float(1.0 / positive("coefficient", coefficient, 1.0) ** 2)


def outlet_head(flow: float, outlet: Outlet, temperature: float = 20.0) -> float:
    """Head above the outlet's level that pushes a flow through valve, hose and opening [m].

    Parameters
    ----------
    flow : float
        [m³/s], 0 or more.
    outlet : Outlet
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd.

    Examples
    --------
    >>> round(outlet_head(2e-4, Outlet("tap", 0.0, 0.0127, loss=8.0)), 2)
    1.02
    """
    q = float(between("flow", flow, 0.0, MOST_FLOW))
    return spent(q, outlet, np.asarray(viscosity(temperature)))


def outlet_flow(
    head: float,
    bore: float,
    length: float,
    outlet: Outlet,
    *,
    roughness: float = NEW_PLASTIC,
    minor: float = 0.0,
    temperature: float = 20.0,
) -> float:
    """Flow of a single line with its outlet, from a level `head` above the outlet's [m³/s].

    Parameters
    ----------
    head : float
        Level of the water in the tank less the outlet's own [m]; 0 or less gives nothing.
    bore, length, roughness, minor, temperature : float
        Of the line, as for `pipe_flow`; `minor` without the outlet's own loss.
    outlet : Outlet
        Closed, it gives nothing. Its level isn't used: `head` says it.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> tap = Outlet("tap", 0.0, 0.0127, loss=8.0)
    >>> round(outlet_flow(10.0, 0.0204, 100.0, tap) * 60000, 1)  # litres a minute
    20.5
    """
    most = pipe_flow(head, bore, length, roughness, temperature, minor)
    if most == 0.0 or not outlet.is_open:
        return 0.0
    d, nu = np.float64(bore), np.asarray(viscosity(temperature))
    section = float(area(d))

    def excess(flow: float) -> float:
        lost = float(darcy_loss(np.float64(flow), d, np.float64(length), np.float64(roughness), nu))
        lost += minor * (flow / section) ** 2 / (2.0 * GRAVITY)
        return lost + spent(flow, outlet, nu) - head

    # Heads too small for the arithmetic to tell the outlet's share.
    if excess(most) <= 0.0:
        return most
    return float(brentq(excess, 0.0, most, xtol=1e-18, rtol=1e-12))


def spent(flow: float, outlet: Outlet, nu: npt.NDArray[np.float64]) -> float:
    """`outlet_head` without its checks, for solvers; `nu` is the kinematic viscosity [m²/s]."""
    head = outlet.loss * (flow / float(area(np.float64(outlet.bore)))) ** 2 / (2.0 * GRAVITY)
    if outlet.hose is not None:
        bore, length, rough = map(
            np.float64, (outlet.hose.bore, outlet.hose.length, outlet.hose.roughness)
        )
        head += float(darcy_loss(np.float64(flow), bore, length, rough, nu))
    return float(head)
