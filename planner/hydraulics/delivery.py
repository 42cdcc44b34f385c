"""The ram and its delivery line together: each sets the other's flow."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from planner.band import Band
from planner.hydraulics.domain import MOST_FLOW, MOST_HEAD, between, positive
from planner.hydraulics.friction import NEW_PLASTIC, friction_loss
from planner.hydraulics.ram import efficiency as ram_efficiency

Edge = Literal["low", "expected", "high"]


@dataclass(frozen=True, slots=True, eq=False)
class Delivered:
    """What reaches the tank.

    Attributes
    ----------
    flow : Band
        Delivered [m³/s]; NaN in all three where no published ram covers the expected case.
    friction : float
        Head lost in the delivery line at the expected flow [m]; NaN with it.
    """

    flow: Band
    friction: float


def delivered_flow(
    drive_flow: float,
    fall: Band,
    static_lift: Band,
    bore: float,
    length: float,
    *,
    kind: str = "commercial",
    roughness: float = NEW_PLASTIC,
    temperature: float = 20.0,
    efficiency: Band | None = None,
) -> Delivered:
    """Water that a ram delivers through its delivery line, with the line's own friction.

    Solves q = eta Q H / (h + friction(q)) three times: the poor ram on the low fall against the
    high lift, the expected one, the good one on the high fall against the low lift; so the band
    holds the error of the levels as well as that of the efficiency.

    Parameters
    ----------
    drive_flow : float
        All the water that enters the drive pipe [m³/s], above 0.
    fall, static_lift : Band
        Of scalars [m]: fall to the ram, and level of the tank's inlet above it. The expected
        values above 0.
    bore, length, roughness, temperature : float
        Of the delivery line, as for `friction_loss`.
    kind : {"commercial", "home-made"}
    efficiency : Band or None
        Of this very ram as it was measured, as for `ram_yield`.

    Returns
    -------
    Delivered
        The low flow is 0 where no published ram covers the low case (it may not run at all); the
        high flow is the bound Q H / h where the high case is not covered. No warning is given:
        the NaN says it.

    Raises
    ------
    OutsideRange
        A value is NaN, negative, 0 where it can't be, or absurd; the message names it.

    Examples
    --------
    >>> got = delivered_flow(5e-4, Band(2.8, 3, 3.2), Band(29, 30, 31), 0.0204, 300.0)
    >>> round(got.flow.expected * 86400, 2), round(got.friction, 2)
    (2.46, 0.21)
    """
    q = float(positive("drive_flow", drive_flow, MOST_FLOW))
    positive("expected fall", fall.expected, MOST_HEAD)
    positive("expected static_lift", static_lift.expected, MOST_HEAD)
    for name, value in (("fall", fall), ("static_lift", static_lift)):
        between(f"low {name}", value.low, -MOST_HEAD, MOST_HEAD)
        between(f"high {name}", value.high, -MOST_HEAD, MOST_HEAD)

    def loss(flow: float) -> float:
        return float(friction_loss(flow, bore, length, roughness, temperature))

    def solve(edge: Edge, drop: float, lift: float) -> float:
        if drop <= 0 or lift <= 0:
            return float("nan")

        def lifted(head: float) -> float:
            got = ram_efficiency(head / drop, drop, kind, measured=efficiency)
            return q * drop / head * float(getattr(got, edge))

        return _meet(lifted, lift, loss)

    loss(0.0)  # refuses an unusable pipe even where the ram itself is out of range
    expected = solve("expected", float(fall.expected), float(static_lift.expected))
    if np.isnan(expected):
        return Delivered(Band(np.nan, np.nan, np.nan), np.nan)
    low = solve("low", float(fall.low), float(static_lift.high))
    high = solve("high", float(fall.high), float(static_lift.low))
    if np.isnan(high):
        high = q * float(fall.high) / max(float(static_lift.low), float(fall.high))
    return Delivered(Band(0.0 if np.isnan(low) else low, expected, high), loss(expected))


def _meet(
    lifted: Callable[[float], float], static_lift: float, loss: Callable[[float], float]
) -> float:
    """Flow at which what the ram lifts to static lift plus friction is what causes that friction.

    NaN where the published range ends before the two meet.
    """
    most = lifted(static_lift)
    if np.isnan(most):
        return float("nan")

    def excess(flow: float) -> float:
        lift = lifted(static_lift + loss(flow))
        return -flow if np.isnan(lift) else lift - flow

    flow = float(brentq(excess, 0.0, most, xtol=1e-15, rtol=1e-12))
    return flow if abs(excess(flow)) < 1e-6 * most else float("nan")
