"""Which delivery pipe: what each bore loses to friction, and what that costs in water."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.delivery import delivered_flow
from planner.hydraulics.domain import MOST_BORE, FloatArray, between, positive
from planner.hydraulics.friction import NEW_PLASTIC, velocity
from planner.hydraulics.limits import VELOCITY_PLASTIC

# Settings of ours: a bore is wide enough where friction costs this share of the water at most.
BEARABLE_LOSS = 0.05
FASTEST = float(VELOCITY_PLASTIC.high or math.inf)  # m/s
MOST_BORES = 200


@dataclass(frozen=True, slots=True, eq=False)
class DeliveryPipe:
    """A ram with one bore of delivery pipe.

    Attributes
    ----------
    bore : float
        Inside diameter [m].
    delivered : Band
        [m³/s]; NaN where friction carries the lift beyond what is published.
    friction, velocity : float
        Head lost [m] and mean speed [m/s] at the expected flow; NaN with it.
    lost : float
        What friction costs of the expected flow, against a pipe that loses none [m³/s].
    """

    bore: float
    delivered: Band
    friction: float
    velocity: float
    lost: float


@dataclass(frozen=True, slots=True, eq=False)
class DeliverySizes:
    """Delivery pipes by rising bore, and the one to take.

    Attributes
    ----------
    pipes : tuple of DeliveryPipe
        One for each bore asked for.
    chosen : int
        Place of the one to take in `pipes`.
    bearable : bool
        Whether it keeps to the loss and the speed asked for; False where none does, the chosen
        then being the one that delivers most.
    """

    pipes: tuple[DeliveryPipe, ...]
    chosen: int
    bearable: bool

    def gain(self, step: int) -> float:
        """What the bore `step` places wider (narrower: below 0) delivers more [m³/s].

        NaN where there is none, or nothing is known of it.
        """
        at = self.chosen + step
        if not 0 <= at < len(self.pipes):
            return math.nan
        beside, here = self.pipes[at], self.pipes[self.chosen]
        return float(beside.delivered.expected) - float(here.delivered.expected)


def size_delivery(  # noqa: PLR0913 - the arguments of `delivered_flow` and two of its own
    drive_flow: float,
    fall: Band,
    static_lift: Band,
    length: float,
    bores: Sequence[float],
    *,
    kind: str = "commercial",
    roughness: float = NEW_PLASTIC,
    temperature: float = 20.0,
    efficiency: Band | None = None,
    bearable_loss: float = BEARABLE_LOSS,
) -> DeliverySizes:
    """Delivery of a ram by the bore of its delivery pipe, with the narrowest that will do.

    Parameters
    ----------
    drive_flow, fall, static_lift, length, kind, roughness, temperature, efficiency
        As for `delivered_flow`.
    bores : sequence of float
        Inside diameters to choose from [m], rising, one to 200.
    bearable_loss : float
        Share of the water that friction may cost, 0..1.

    Returns
    -------
    DeliverySizes
        The chosen is the narrowest that costs no more than the bearable share, at 1.5 m/s at most.

    Raises
    ------
    OutsideRange
        A value is NaN, negative, 0 where it can't be, absurd or out of order, or no published ram
        covers the lift even without friction; the message names it.

    Examples
    --------
    >>> fall, lift = Band.exact(3.0), Band.exact(30.0)
    >>> sizes = size_delivery(40 / 60000, fall, lift, 400.0, [0.0158, 0.0209, 0.0266, 0.0351])
    >>> sizes.pipes[sizes.chosen].bore
    0.0209
    >>> [round(sizes.gain(step) * 86.4e6) for step in (-1, 1)]  # litres a day
    [-160, 27]
    """
    share = float(between("bearable_loss", bearable_loss, 0.0, 1.0))
    widths = _rising(bores)

    def through(bore: float, long: float) -> tuple[Band, float]:
        got = delivered_flow(
            drive_flow,
            fall,
            static_lift,
            bore,
            long,
            kind=kind,
            roughness=roughness,
            temperature=temperature,
            efficiency=efficiency,
        )
        return got.flow, float(got.friction)

    frictionless = float(through(float(widths[-1]), 0.0)[0].expected)
    if math.isnan(frictionless):
        msg = "no published ram covers this fall and static_lift, even without friction"
        raise OutsideRange(msg)
    pipes = []
    for bore in (float(width) for width in widths):
        flow, friction = through(bore, length)
        expected = float(flow.expected)
        speed = math.nan if math.isnan(expected) else float(velocity(expected, bore))
        pipes.append(DeliveryPipe(bore, flow, friction, speed, frictionless - expected))
    good = [k for k, p in enumerate(pipes) if p.lost <= share * frictionless]
    good = [k for k in good if pipes[k].velocity <= FASTEST]
    most = [-math.inf if math.isnan(p.lost) else -p.lost for p in pipes]
    return DeliverySizes(tuple(pipes), good[0] if good else int(np.argmax(most)), bool(good))


def _rising(bores: Sequence[float]) -> FloatArray:
    if not 1 <= len(bores) <= MOST_BORES:
        msg = f"bores must be 1 to {MOST_BORES} values, got {len(bores)}"
        raise OutsideRange(msg)
    widths = positive("bores", bores, MOST_BORE)
    if widths.ndim != 1 or np.any(np.diff(widths) <= 0):
        msg = "bores must rise from each to the next"
        raise OutsideRange(msg)
    return widths
