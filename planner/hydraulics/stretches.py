"""One line of several stretches of different pipe: its loss, its grade line, its flow."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.optimize import brentq

from planner.band import Figure
from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    MOST_LENGTH,
    FloatArray,
    between,
    plain,
    positive,
)
from planner.hydraulics.fittings import MOST_K, minor_loss
from planner.hydraulics.friction import NEW_PLASTIC, ROUGHEST, friction_loss
from planner.hydraulics.full_flow import pipe_flow

ROUNDING = 1e-3  # m by which a chainage may pass an end


@dataclass(frozen=True, slots=True)
class Stretch:
    """Part of a line in one pipe.

    Parameters
    ----------
    length, bore : float
        Along the pipe, and inside diameter [m], above 0.
    roughness : float
        Absolute [m], 0 to half the bore.
    minor : float
        Sum of the loss coefficients of the fittings in it, 0 or more: see `k_sum`.

    Raises
    ------
    OutsideRange
        A value is NaN, not positive or absurd; the message names it.
    """

    length: float
    bore: float
    roughness: float = NEW_PLASTIC
    minor: float = 0.0

    def __post_init__(self) -> None:
        positive("length", self.length, MOST_LENGTH)
        positive("bore", self.bore, MOST_BORE)
        between("roughness", self.roughness, 0.0, ROUGHEST * self.bore)
        between("minor", self.minor, 0.0, MOST_K)


def stretch_loss(flow: npt.ArrayLike, stretch: Stretch, temperature: float = 20.0) -> Figure:
    """Head lost in one stretch, friction and fittings [m of water]; arguments as `line_loss`."""
    friction = friction_loss(flow, stretch.bore, stretch.length, stretch.roughness, temperature)
    return plain(np.asarray(friction + minor_loss(flow, stretch.bore, stretch.minor)))


def line_loss(
    flow: npt.ArrayLike, stretches: Sequence[Stretch], temperature: float = 20.0
) -> Figure:
    """Head lost along a line of several stretches [m of water], friction and fittings.

    Parameters
    ----------
    flow : float or (...) array
        Discharge [m³/s], 0 or more, the same in every stretch.
    stretches : sequence of Stretch
        In the order of flow, at least one.
    temperature : float
        Of the water [°C], 0..60.

    Returns
    -------
    float or (...) array

    Raises
    ------
    OutsideRange
        There is no stretch, or a value is NaN, negative or absurd; the message names it.

    Examples
    --------
    >>> round(line_loss(2e-4, [Stretch(60.0, 0.0204), Stretch(40.0, 0.0204)]), 2)
    2.75
    """
    parts = [np.asarray(stretch_loss(flow, s, temperature)) for s in _some(stretches)]
    return plain(np.sum(parts, axis=0))


def line_grade(
    flow: float,
    stretches: Sequence[Stretch],
    start_level: float,
    chainage: npt.ArrayLike,
    temperature: float = 20.0,
) -> FloatArray:
    """Hydraulic grade line of a running line of several bores: a straight fall in each stretch.

    Parameters
    ----------
    flow : float
        Discharge [m³/s], 0 or more.
    stretches : sequence of Stretch
        In the order of flow; the loss of a stretch's fittings is spread along it.
    start_level : float
        Level of the grade line at chainage 0 [m].
    chainage : (n,) array
        Along the pipe [m], 0 to the sum of the lengths, in any order.
    temperature : float
        Of the water [°C], 0..60.

    Returns
    -------
    (n,) array
        Level to which water would stand [m].

    Raises
    ------
    OutsideRange
        There is no stretch, a chainage lies beyond the ends, or a value is NaN or absurd.

    Examples
    --------
    >>> parts = [Stretch(50.0, 0.040), Stretch(50.0, 0.020)]
    >>> line_grade(2e-4, parts, 512.0, [0.0, 50.0, 100.0]).round(2).tolist()
    [512.0, 511.94, 510.43]
    """
    level = float(between("start_level", start_level, -MOST_HEAD, MOST_HEAD))
    q = float(between("flow", flow, 0.0, MOST_FLOW))
    ends = np.cumsum([0.0, *(s.length for s in _some(stretches))])
    s = between("chainage", chainage, -ROUNDING, float(ends[-1]) + ROUNDING)
    lost = np.cumsum([0.0, *(float(stretch_loss(q, part, temperature)) for part in stretches)])
    return np.asarray(level - np.interp(s, ends, lost))


def line_flow(head: float, stretches: Sequence[Stretch], temperature: float = 20.0) -> float:
    """Flow that an available head drives through a full line of several stretches [m³/s].

    The inverse of `line_loss`.

    Parameters
    ----------
    head : float
        Level at the start less level at the end [m]; 0 or less drives nothing.
    stretches : sequence of Stretch
        In the order of flow, at least one.
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        There is no stretch, or a value is NaN or absurd; the message names it.

    Examples
    --------
    >>> round(line_flow(5.0, [Stretch(40.0, 0.0204), Stretch(60.0, 0.0204)]) * 60000, 1)
    16.9
    """
    between("head", head, -MOST_HEAD, MOST_HEAD)
    # Each stretch alone, with all the head to itself, carries more than the line.
    most = min(
        pipe_flow(head, s.bore, s.length, s.roughness, temperature, s.minor)
        for s in _some(stretches)
    )
    if head <= 0:
        return 0.0

    def excess(flow: float) -> float:
        return float(line_loss(flow, stretches, temperature)) - head

    if excess(most) <= 0:  # a single stretch, to rounding
        return most
    return float(brentq(excess, 0.0, most, xtol=1e-18, rtol=1e-12))


def _some(stretches: Sequence[Stretch]) -> Sequence[Stretch]:
    if not stretches:
        msg = "stretches must hold at least one stretch, got none"
        raise OutsideRange(msg)
    return stretches
