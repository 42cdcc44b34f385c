"""How high the pressure goes in a ram's drive pipe: beat by beat, and if nothing lets it out."""

from typing import NamedTuple

from planner.hydraulics.domain import MOST_HEAD, positive
from planner.hydraulics.surge import surge_head

OVERSHOOT = 2.0  # setting: drive pipe and ram are made for this many times the delivery head


class DrivePeak(NamedTuple):
    """Pressure heads at the ram [m, gauge], all of them surge.

    Attributes
    ----------
    beating : float
        To allow for in service: twice the delivery head, the overshoot counted in.
    blocked : float
        If the delivery valve sticks, or its line is shut: the water's full speed stopped dead.
    design : float
        The higher of the two: what drive pipe and ram must bear.
    """

    beating: float
    blocked: float
    design: float


def drive_peak(delivery_head: float, wave_speed: float, free_velocity: float) -> DrivePeak:
    """Peak pressures of a drive pipe.

    Parameters
    ----------
    delivery_head : float
        Lift above the ram and friction of the delivery line [m], above 0.
    wave_speed : float
        Of the drive pipe [m/s], above 0, at most 2000.
    free_velocity : float
        Speed the water reaches with the waste valve held open [m/s], above 0, at most 100.

    Raises
    ------
    OutsideRange
        A value is NaN, not positive or absurd; the message names it.

    Notes
    -----
    Once a second is 3e7 blows a year: a PVC drive pipe is at its end by fatigue, not by strength.

    Examples
    --------
    >>> peak = drive_peak(30.0, 1400.0, 2.0)
    >>> peak.beating, round(peak.blocked)
    (60.0, 286)
    """
    beating = OVERSHOOT * float(positive("delivery_head", delivery_head, MOST_HEAD))
    speed = float(positive("free_velocity", free_velocity, 100.0))
    blocked = float(surge_head(wave_speed, speed))
    return DrivePeak(beating, blocked, max(beating, blocked))
