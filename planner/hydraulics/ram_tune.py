"""How fast the water must get before the waste valve shuts, for a ram to do what is wanted."""

import math
from collections.abc import Callable

from scipy.optimize import brentq

from planner.hydraulics.domain import MOST_FLOW, positive
from planner.hydraulics.ram_cycle import FASTEST, Cycle, Workings, ram_cycle

MOST_BEATS = 1000.0  # a minute
SLOWEST = 0.01  # m/s


def tuned_velocity(
    drive_flow: float,
    fall: float,
    lift: float,
    drive_length: float,
    drive_bore: float,
    *,
    workings: Workings | None = None,
) -> float:
    """Closing velocity at which a ram takes just the water there is [m/s].

    Parameters
    ----------
    drive_flow : float
        All the water that enters the drive pipe [m³/s], above 0.
    fall, lift, drive_length, drive_bore, workings
        As for `ram_cycle`.

    Returns
    -------
    float
        [m/s]; NaN where the pipe can't take so much with the valve held open, or the ram can't
        beat on so little (it would shut at 0.01 m/s or less).

    Raises
    ------
    OutsideRange
        As `ram_cycle`; the message names the value.

    Examples
    --------
    >>> round(tuned_velocity(40 / 60000, 2.4, 24.0, 12.0, 0.0525), 2)
    0.8
    """
    wanted = float(positive("drive_flow", drive_flow, MOST_FLOW))

    def beat(speed: float) -> Cycle:
        return ram_cycle(
            fall, lift, drive_length, drive_bore, closing_velocity=speed, workings=workings
        )

    return _where(lambda cycle: cycle.drive_flow - wanted, beat)


def paced_velocity(
    beats: float,
    fall: float,
    lift: float,
    drive_length: float,
    drive_bore: float,
    *,
    workings: Workings | None = None,
) -> float:
    """Closing velocity at which a ram beats so often [m/s]; a heavier load beats slower.

    Parameters
    ----------
    beats : float
        A minute, above 0, at most 1000.
    fall, lift, drive_length, drive_bore, workings
        As for `ram_cycle`.

    Returns
    -------
    float
        [m/s]; NaN where no load makes it beat so.

    Raises
    ------
    OutsideRange
        As `ram_cycle`; the message names the value.

    Examples
    --------
    >>> round(paced_velocity(60.0, 2.4, 24.0, 12.0, 0.0525), 2)
    1.23
    """
    wanted = float(positive("beats", beats, MOST_BEATS))

    def beat(speed: float) -> Cycle:
        return ram_cycle(
            fall, lift, drive_length, drive_bore, closing_velocity=speed, workings=workings
        )

    return _where(lambda cycle: wanted - cycle.beats, beat)


def reach(beat: Callable[[float], Cycle]) -> float:
    """Greatest closing velocity at which the valve still shuts [m/s]; NaN if none above 0.01."""

    # The free velocity at a closing velocity differs from it by the friction factor alone, which
    # falls as the water gets faster, but by far less than the velocity grows.
    def spare(speed: float) -> float:
        return beat(speed).free_velocity - speed

    if spare(SLOWEST) <= 0.0:
        return math.nan
    if spare(FASTEST) > 0.0:
        return FASTEST
    return float(brentq(spare, SLOWEST, FASTEST, xtol=1e-12, rtol=1e-12))


def _where(excess: Callable[[Cycle], float], beat: Callable[[float], Cycle]) -> float:
    """Closing velocity at which a quantity that grows with it crosses 0; NaN where it doesn't."""
    fastest = reach(beat) * (1.0 - 1e-9)
    if math.isnan(fastest) or excess(beat(SLOWEST)) > 0.0 or excess(beat(fastest)) < 0.0:
        return math.nan
    return float(brentq(lambda v: excess(beat(v)), SLOWEST, fastest, xtol=1e-12, rtol=1e-10))
