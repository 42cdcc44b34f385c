"""Falling legs: what lies below a crest, and whether the flow sweeps the air out of it."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import hypot, radians, sqrt, tan

import numpy as np
import numpy.typing as npt

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.air import (
    ESCARAMEIA_BASE,
    ESCARAMEIA_SLOPE,
    WISNER_BASE,
    WISNER_SLOPE,
    clears,
)
from planner.hydraulics.domain import MOST_BORE, MOST_HEAD, between, positive
from planner.hydraulics.samples import line_arrays, sample_index
from planner.hydraulics.water import GRAVITY

TESTED_SLOPE = tan(radians(22.5))  # the steepest of the tests behind the relations


@dataclass(frozen=True, slots=True)
class Relation:
    """One published relation for the speed that clears air: Froude number V / √(gD) by slope.

    Attributes
    ----------
    source : str
    froude : callable
        Of the slope, fall over horizontal run.
    least_slope, most_slope : float
        Where it's held to be good.
    """

    source: str
    froude: Callable[[float], float]
    least_slope: float = 0.0
    most_slope: float = TESTED_SLOPE


def _sine(slope: float) -> float:
    return slope / hypot(1.0, slope)


# The first and the last of the pocket relations bound the verdict of `clears`. The others, of
# medium confidence, are for showing how far the published ones lie apart; no verdict hangs on them.
RELATIONS = (
    Relation(
        "Escarameia, HR Wallingford, smallest pockets",
        lambda slope: ESCARAMEIA_BASE + ESCARAMEIA_SLOPE * sqrt(_sine(slope)),
    ),
    Relation(
        "Escarameia, HR Wallingford, largest pockets",
        lambda slope: 0.61 + ESCARAMEIA_SLOPE * sqrt(_sine(slope)),
    ),
    Relation("Kent 1952, refitted by Mosvoll", lambda slope: 0.55 + 0.5 * sqrt(_sine(slope))),
    Relation("Kalinske and Bliss 1943, bubbles", lambda slope: 1.07 * sqrt(slope)),
    Relation("González and Pozos, bubbles", lambda slope: 1.27 * sqrt(slope)),
    Relation(
        "Lubbers; Pothof and Clemens, large pipes",
        lambda _: 0.9,
        tan(radians(5.0)),
        tan(radians(20.0)),
    ),
    Relation(
        "Wisner et al. 1975, envelope",
        lambda slope: WISNER_BASE + WISNER_SLOPE * sqrt(_sine(slope)),
    ),
)


def clearing_speeds(bore: float, slope: float) -> dict[str, float]:
    """Speed [m/s] that clears a falling leg by each published relation good at the slope.

    Parameters
    ----------
    bore : float
        Inside diameter [m], above 0. Under some 20 mm all are on the safe side.
    slope : float
        Fall over horizontal run, 0 or more.

    Returns
    -------
    dict of str to float
        By the relation's source; empty where the slope is beyond all tests (22.5°).

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> speeds = clearing_speeds(0.035, 0.1)
    >>> round(min(speeds.values()), 2), round(max(speeds.values()), 2)
    (0.2, 0.53)
    """
    scale = sqrt(GRAVITY * float(positive("bore", bore, MOST_BORE)))
    steep = float(between("slope", slope, 0.0, 1e3))
    good = (r for r in RELATIONS if r.least_slope <= steep <= r.most_slope)
    return {relation.source: relation.froude(steep) * scale for relation in good}


@dataclass(frozen=True, slots=True)
class FallingLeg:
    """A crest, and the pipe that falls from it to the next low point or the line's end.

    Attributes
    ----------
    crest, foot : int
        Samples at which it begins and ends.
    height : float
        Level of the crest above the foot [m].
    steepest : float
        Its steepest fall over horizontal run: where a pocket is held fastest.
    """

    crest: int
    foot: int
    height: float
    steepest: float

    def clears(self, velocity: float, bore: float) -> bool | None:
        """Whether a flow of this speed [m/s] sweeps the leg clear of air.

        True, False, or None where it can't be said: between the relations, or steeper than any
        test behind them.

        Raises
        ------
        OutsideRange
            A value is NaN, negative or absurd; the message names it.

        Examples
        --------
        >>> leg = FallingLeg(2, 7, 3.0, 0.1)
        >>> leg.clears(0.2, 0.035), leg.clears(0.45, 0.035), leg.clears(0.7, 0.035)
        (False, None, True)
        """
        verdict = clears(velocity, bore, self.steepest)
        return verdict if self.steepest <= TESTED_SLOPE else None


def falling_legs(
    run: npt.ArrayLike, pipe: npt.ArrayLike, crests: Sequence[int], lows: Sequence[int]
) -> tuple[FallingLeg, ...]:
    """The leg below each crest, in the order of the flow.

    Parameters
    ----------
    run, pipe : (n,) array
        Horizontal distance [m], strictly rising, and level of the pipe [m] along the flow.
    crests, lows : sequence of int
        Samples where the pipe turns from rising to falling, and from falling to rising.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, the run does not rise, an index is beyond the line, or a crest
        is no higher than its foot.

    Examples
    --------
    >>> falling_legs([0, 10, 20, 40, 50], [9, 12, 11, 10, 14], [1], [3])
    (FallingLeg(crest=1, foot=3, height=2.0, steepest=0.1),)
    """
    r, z = line_arrays(run, pipe)
    legs = []
    for crest in sorted(sample_index("crest", k, z.size) for k in crests):
        later = (k for k in sorted(sample_index("low point", k, z.size) for k in lows) if k > crest)
        foot = next(later, z.size - 1)
        height = float(z[crest] - z[foot])
        if height <= 0:
            msg = f"the crest at sample {crest} must stand above its foot at sample {foot}"
            raise OutsideRange(msg)
        falls = -np.diff(z[crest : foot + 1]) / np.diff(r[crest : foot + 1])
        legs.append(FallingLeg(crest, foot, height, float(falls.max())))
    return tuple(legs)


def pocket_loss(leg: FallingLeg, cleared: bool | None, pressure: float, barometric: float) -> Band:
    """Head that the air in a falling leg takes from a running line [m].

    In small pipes about the vertical height of the pocket. Expected is the air of the first
    filling, all the leg at atmospheric pressure, shut in and pressed together by the line's own
    pressure; high is the whole leg, which air coming out of the water fills in time.

    Parameters
    ----------
    leg : FallingLeg
    cleared : bool or None
        From `FallingLeg.clears`: True, nothing is lost; None, the band begins at 0.
    pressure : float
        Pressure head at the crest with the outlet open [m, gauge].
    barometric : float
        Barometric head [m], above 0.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd; the message names it.

    References
    ----------
    Tests on 25 and 38 mm pipe at 0..30° (2018): the loss is about the pocket's height.

    Examples
    --------
    >>> lost = pocket_loss(FallingLeg(2, 7, 3.0, 0.1), None, 5.0, 10.0)
    >>> lost.low, lost.expected, lost.high
    (0.0, 2.0, 3.0)
    """
    air = float(positive("barometric", barometric, 20.0))
    gauge = float(between("pressure", pressure, -MOST_HEAD, MOST_HEAD))
    if cleared is True:
        return Band.exact(0.0)
    pocket = leg.height / (1.0 + max(gauge, 0.0) / air)  # never above the leg, not by rounding
    return Band(0.0 if cleared is None else pocket, pocket, leg.height)
