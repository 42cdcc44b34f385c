"""A powered pump on its pipe: where its curve and the pipe's meet."""

from collections.abc import Sequence

import numpy as np
from scipy.optimize import brentq

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_FLOW, MOST_HEAD, FloatArray, between
from planner.hydraulics.friction import NEW_PLASTIC, friction_loss, velocity
from planner.hydraulics.water import GRAVITY

Curve = Sequence[tuple[float, float]]
MOST_POINTS = 1000


def pump_duty(
    curve: Curve,
    static_lift: float,
    bore: float,
    length: float,
    *,
    roughness: float = NEW_PLASTIC,
    temperature: float = 20.0,
    minor: float = 0.0,
) -> tuple[float, float] | None:
    """Flow and head at which a pump runs on a pipe, its curve taken straight between its points.

    Parameters
    ----------
    curve : sequence of (flow, head)
        At least two points, flow [m³/s] rising from 0 or more, head [m] falling or level.
    static_lift : float
        Level at the pipe's end above the water the pump draws from [m].
    bore, length, roughness, temperature : float
        Of the pipe, as for `friction_loss`.
    minor : float
        Sum of the loss coefficients of inlet, fittings and outlet, 0 or more.

    Returns
    -------
    (float, float) or None
        Flow [m³/s] and head the pump makes [m]; None where it can't lift the water so high. Where
        the pipe would take more than the curve's last point, that point: throttle the pump to it.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, or the curve is out of order; the message says which.

    Examples
    --------
    >>> flow, head = pump_duty([(0.0, 40.0), (5e-4, 30.0), (1e-3, 10.0)], 20.0, 0.0262, 200.0)
    >>> round(flow * 1000, 2), round(head, 1)
    (0.52, 29.0)
    """
    flows, heads = _checked(curve)
    lift = float(between("static_lift", static_lift, -MOST_HEAD, MOST_HEAD))
    between("minor", minor, 0.0, 1e6)

    def spare(flow: float) -> float:
        lost = float(friction_loss(flow, bore, length, roughness, temperature))
        lost += minor * float(velocity(flow, bore)) ** 2 / (2.0 * GRAVITY)
        return float(np.interp(flow, flows, heads)) - lift - lost

    least, most = float(flows[0]), float(flows[-1])
    if spare(least) <= 0:
        return None
    flow = most if spare(most) >= 0 else float(brentq(spare, least, most, xtol=1e-15, rtol=1e-12))
    return flow, float(np.interp(flow, flows, heads))


def _checked(curve: Curve) -> tuple[FloatArray, FloatArray]:
    points = between("pump curve", list(curve)[: MOST_POINTS + 1], 0.0, max(MOST_FLOW, MOST_HEAD))
    if points.ndim != 2 or points.shape[1] != 2 or not 2 <= len(points) <= MOST_POINTS:
        msg = f"pump curve must be 2 to {MOST_POINTS} points of (flow, head), got {points.shape}"
        raise OutsideRange(msg)
    flows, heads = points.T
    between("flow of the pump curve", flows, 0.0, MOST_FLOW)
    if np.any(np.diff(flows) <= 0) or np.any(np.diff(heads) > 0):
        msg = "pump curve must have its flow rising and its head falling or level, point by point"
        raise OutsideRange(msg)
    return flows, heads
