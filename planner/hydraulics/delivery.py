"""The ram and its delivery line together: each sets the other's flow."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt
from scipy.optimize.elementwise import find_root

from planner.band import Band, Figure
from planner.hydraulics.domain import (
    MOST_FLOW,
    MOST_HEAD,
    FloatArray,
    between,
    plain,
    positive,
)
from planner.hydraulics.friction import NEW_PLASTIC, friction_loss
from planner.hydraulics.ram import efficiency as ram_efficiency

Edge = Literal["low", "expected", "high"]
TINY = 1e-12  # m, so that a fall of nothing divides nothing


@dataclass(frozen=True, slots=True, eq=False)
class Delivered:
    """What reaches the tank.

    Attributes
    ----------
    flow : Band
        Delivered [m³/s]; NaN in all three where no published ram covers the expected case.
    friction : float or array
        Head lost in the delivery line at the expected flow [m]; NaN with it.
    """

    flow: Band
    friction: Figure


def delivered_flow(
    drive_flow: npt.ArrayLike,
    fall: Band,
    static_lift: Band,
    bore: npt.ArrayLike,
    length: npt.ArrayLike,
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
    drive_flow : float or array
        All the water that enters the drive pipe [m³/s], above 0. The arguments broadcast.
    fall, static_lift : Band
        Of scalars or arrays [m]: fall to the ram, and level of the tank's inlet above it. The
        expected values above 0.
    bore, length : float or array
        Of the delivery line, as for `friction_loss`.
    roughness, temperature : float
        Likewise.
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
    positive("expected fall", fall.expected, MOST_HEAD)
    positive("expected static_lift", static_lift.expected, MOST_HEAD)
    for name, value in (("fall", fall), ("static_lift", static_lift)):
        between(f"low {name}", value.low, -MOST_HEAD, MOST_HEAD)
        between(f"high {name}", value.high, -MOST_HEAD, MOST_HEAD)
    friction_loss(0.0, bore, length, roughness, temperature)  # refuses an unusable pipe at once
    q, d, long, *levels = np.broadcast_arrays(
        positive("drive_flow", drive_flow, MOST_FLOW),
        *(np.asarray(one, dtype=np.float64) for one in (bore, length)),
        *(np.asarray(one, dtype=np.float64) for one in (fall.low, fall.expected, fall.high)),
        *(np.asarray(one, dtype=np.float64) for one in _edges(static_lift)),
    )
    falls, lifts = levels[:3], levels[3:]

    def solve(edge: Edge, drop: FloatArray, lift: FloatArray) -> FloatArray:
        def lifted(head: FloatArray, drive: FloatArray, down: FloatArray) -> FloatArray:
            got = ram_efficiency(head / down, down, kind, measured=efficiency)
            return np.asarray(drive * down / head * getattr(got, edge))

        def loss(flow: FloatArray, wide: FloatArray, far: FloatArray) -> FloatArray:
            return np.asarray(friction_loss(flow, wide, far, roughness, temperature))

        runs = (drop > 0.0) & (lift > 0.0)
        flow = np.full(q.shape, np.nan)
        flow[runs] = _meet(lifted, loss, *(one[runs] for one in (q, drop, lift, d, long)))
        return flow

    expected = solve("expected", falls[1], lifts[1])
    low = solve("low", falls[0], lifts[2])
    high = solve("high", falls[2], lifts[0])
    known = np.isfinite(expected)
    bound = q * falls[2] / np.maximum(lifts[0], np.maximum(falls[2], TINY))
    low = np.where(known, np.where(np.isnan(low), 0.0, low), np.nan)
    high = np.where(known, np.where(np.isnan(high), bound, high), np.nan)
    lost = np.full(q.shape, np.nan)
    lost[known] = friction_loss(expected[known], d[known], long[known], roughness, temperature)
    return Delivered(Band(plain(low), plain(expected), plain(high)), plain(lost))


def _edges(band: Band) -> tuple[Figure, Figure, Figure]:
    return band.low, band.expected, band.high


def _meet(
    lifted: Callable[[FloatArray, FloatArray, FloatArray], FloatArray],
    loss: Callable[[FloatArray, FloatArray, FloatArray], FloatArray],
    drive: FloatArray,
    down: FloatArray,
    lift: FloatArray,
    bore: FloatArray,
    length: FloatArray,
) -> FloatArray:
    """(n,) flows at which what a ram lifts against lift and friction is what causes the friction.

    NaN where the published range ends before the two meet.
    """

    def excess(flow: FloatArray, *case: FloatArray) -> FloatArray:
        run, fall, height, wide, far = case
        head = np.minimum(height + loss(flow, wide, far), MOST_HEAD)
        got = lifted(head, run, fall)
        return np.where(np.isnan(got), 0.0, got) - flow

    most = lifted(lift, drive, down)
    known = np.isfinite(most)
    flow = np.full(drive.shape, np.nan)
    if not np.any(known):
        return flow
    cases = tuple(one[known] for one in (drive, down, lift, bore, length))
    found = find_root(
        excess,
        (np.zeros_like(most[known]), most[known]),
        args=cases,
        tolerances={"xatol": 1e-15, "xrtol": 1e-12},
    )
    # Where the range ends between, the two jump past one another and never meet.
    met = np.abs(excess(found.x, *cases)) < 1e-6 * most[known]
    flow[known] = np.where(met, found.x, np.nan)
    return flow
