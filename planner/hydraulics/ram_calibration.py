"""A ram's own efficiency, from what was measured at it, in place of the published one's band."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.band import Band
from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_FLOW, MOST_HEAD, between, positive

# Medium confidence: two flows by bucket and watch, a fall and a lift, 5 % each, together.
READING_ERROR = 0.10
MOST_READINGS = 1000
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Reading:
    """What was measured at one ram at one time.

    Parameters
    ----------
    drive_flow : float
        All the water into the drive pipe, wasted and delivered [m³/s], above 0.
    fall : float
        From the water level at the drive pipe's inlet to the waste valve [m], above 0.
    lift : float
        Level of the delivery's end above the ram plus the line's friction [m], above 0; a
        pressure gauge at the ram shows it.
    delivered : float
        [m³/s], above 0.

    Raises
    ------
    OutsideRange
        A value is NaN, 0, negative or absurd, the lift is not above the fall, or more energy
        would be delivered than was spent (q h > Q H): then a reading is wrong.
    """

    drive_flow: float
    fall: float
    lift: float
    delivered: float

    def __post_init__(self) -> None:
        spent = float(positive("drive_flow", self.drive_flow, MOST_FLOW))
        spent *= float(positive("fall", self.fall, MOST_HEAD))
        gained = float(positive("delivered", self.delivered, MOST_FLOW))
        gained *= float(positive("lift", self.lift, MOST_HEAD))
        if self.lift <= self.fall:
            msg = f"lift must be above the fall of {self.fall:g} m, got {self.lift:g}"
            raise OutsideRange(msg)
        if gained > spent * (1.0 + ROUNDING):
            most = spent / self.lift
            msg = (
                f"delivered must be at most drive_flow times fall over lift, {most:g} m³/s, got "
                f"{self.delivered:g}: no ram gives more energy than it takes, so a reading is wrong"
            )
            raise OutsideRange(msg)

    @property
    def efficiency(self) -> float:
        """D'Aubuisson's, q h / (Q H), above 0, at most 1."""
        return min(self.delivered * self.lift / (self.drive_flow * self.fall), 1.0)


def measured_efficiency(
    readings: Sequence[Reading], *, reading_error: float = READING_ERROR
) -> Band:
    """Efficiency of a ram as measured, for `ram_yield` and `delivered_flow`.

    The mean of the readings, from the least to the greatest of them, each with its error; the
    high end not above 1, the bound.

    Parameters
    ----------
    readings : sequence of Reading
        One to 1000, of the same ram.
    reading_error : float
        Of one reading's efficiency, as a share of it, 0..0.5.

    Raises
    ------
    OutsideRange
        There is no reading or there are too many, or the error is NaN or absurd.

    Examples
    --------
    >>> day = Reading(drive_flow=40 / 60000, fall=2.4, lift=24.0, delivered=2.2 / 60000)
    >>> band = measured_efficiency([day])
    >>> [round(eta, 3) for eta in (band.low, band.expected, band.high)]
    [0.495, 0.55, 0.605]
    """
    if not 1 <= len(readings) <= MOST_READINGS:
        msg = f"readings of a ram must be 1 to {MOST_READINGS}, got {len(readings)}"
        raise OutsideRange(msg)
    error = float(between("reading_error", reading_error, 0.0, 0.5))
    found = np.array([reading.efficiency for reading in readings])
    middle = float(np.clip(np.mean(found), found.min(), found.max()))  # rounding aside
    return Band(
        float(found.min()) * (1.0 - error), middle, min(float(found.max()) * (1.0 + error), 1.0)
    )
