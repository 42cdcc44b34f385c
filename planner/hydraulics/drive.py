"""The drive pipe: its proportions, on which a ram's beat hangs."""

from typing import NamedTuple

from planner.hydraulics.domain import MOST_BORE, MOST_HEAD, MOST_LENGTH, positive


class DriveRatios(NamedTuple):
    """Length of a drive pipe over the ram's fall, and over the pipe's bore."""

    length_to_fall: float
    length_to_bore: float


def drive_ratios(length: float, fall: float, bore: float) -> DriveRatios:
    """Proportions of a drive pipe; `planner.hydraulics.limits` holds what is published for them.

    Parameters
    ----------
    length, fall, bore : float
        Length along the pipe, fall from the water at its inlet to the ram, inside diameter [m],
        each above 0.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd; the message names it.

    Examples
    --------
    >>> drive_ratios(12.0, 2.4, 0.05)
    DriveRatios(length_to_fall=5.0, length_to_bore=240.0)
    """
    long = float(positive("length", length, MOST_LENGTH))
    down = float(positive("fall", fall, MOST_HEAD))
    wide = float(positive("bore", bore, MOST_BORE))
    return DriveRatios(long / down, long / wide)
