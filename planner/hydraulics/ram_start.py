"""Setting a ram going: water to fill its pipes, pressure it needs, strokes by hand."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.errors import OutsideRange
from planner.hydraulics.domain import (
    MOST_BORE,
    MOST_FLOW,
    MOST_HEAD,
    MOST_LENGTH,
    between,
    positive,
)
from planner.hydraulics.friction import area
from planner.hydraulics.ram_cycle import FASTEST
from planner.hydraulics.water import GRAVITY

# Medium confidence: about 10 psi must stand on the delivery valve before a ram beats by itself.
BACK_PRESSURE = 7.0  # m
# Low confidence: what of a stroke's energy goes up the delivery; and the fewest that clear a ram
# of its air, whatever the delivery ("usually a few").
LEAST_SHARE, MOST_SHARE = 0.3, 0.9
FEWEST = 3
ATMOSPHERE = 10.33  # m of water at sea level
MOST_VESSEL = 100.0  # m³

Step = Literal[
    "keep fingers and face clear of the waste valve, which slams",
    "shut the delivery valve",
    "open the drive valve",
    "hold the waste valve open until the water runs clear of air",
    "let the waste valve shut, push it open again, stroke by stroke",
    "open the delivery valve a little and keep it throttled until the line is full",
    "count the beats",
]

# In this order. To stop: shut the drive valve, then the delivery valve.
STEPS: tuple[Step, ...] = (
    "keep fingers and face clear of the waste valve, which slams",
    "shut the delivery valve",
    "open the drive valve",
    "hold the waste valve open until the water runs clear of air",
    "let the waste valve shut, push it open again, stroke by stroke",
    "open the delivery valve a little and keep it throttled until the line is full",
    "count the beats",
)


@dataclass(frozen=True, slots=True)
class Start:
    """What it takes to set a ram going.

    Attributes
    ----------
    drive_volume, delivery_volume : float
        Water in each pipe when it is full [m³].
    back_pressure : float
        Head that must stand on the delivery valve before the ram beats by itself [m].
    by_itself : float
        Head that the source alone puts there, with the waste valve held shut [m].
    strokes : (int, int)
        By hand, fewest and most: with the delivery valve shut until the vessel has the pressure,
        and with it open, so that the line must be filled so far. A working estimate.
    filling_time : float
        Until the delivery line is full at the delivery given [s]; NaN if none was.
    steps : tuple of str
        In order.
    """

    drive_volume: float
    delivery_volume: float
    back_pressure: float
    by_itself: float
    strokes: tuple[int, int]
    filling_time: float
    steps: tuple[Step, ...]


def ram_start(
    drive: tuple[float, float],
    delivery: tuple[float, float],
    fall: float,
    static_lift: float,
    *,
    closing_velocity: float,
    vessel: float = 0.0,
    delivered: float | None = None,
    back_pressure: float = BACK_PRESSURE,
) -> Start:
    """Volumes, pressure, strokes and steps to set a ram going.

    A stroke gives the column in the drive pipe the energy A L Vc² / 2g [m³ m of head]; a share of
    it lifts water from the source's level on. Compressing the vessel's air from the head H up to
    the back-pressure B takes V p0 (ln r - 1 + 1/r), r = (p0 + B) / (p0 + H), p0 the atmosphere's;
    filling the line, laid at an even grade, a (l/h) (B - H)² / 2, a its cross-section.

    Parameters
    ----------
    drive, delivery : (float, float)
        Length and inside diameter of each pipe [m], above 0.
    fall, static_lift : float
        From the source's level to the ram, and from the ram to the tank [m], above 0, the second
        the greater.
    closing_velocity : float
        As for `ram_cycle` [m/s].
    vessel : float
        Air in the vessel before the start [m³], 0..100.
    delivered : float or None
        Expected [m³/s], above 0.
    back_pressure : float
        [m], above 0.

    Raises
    ------
    OutsideRange
        A value is NaN, negative, 0 where it can't be, or absurd; the message names it.

    Examples
    --------
    >>> start = ram_start(
    ...     (12.0, 0.0525), (400.0, 0.0209), 3.0, 30.0, closing_velocity=0.8, vessel=0.005
    ... )
    >>> round(start.drive_volume * 1000), round(start.delivery_volume * 1000), start.strokes
    (26, 137, (6, 154))
    """
    long, wide = _pipe("drive", drive)
    run, narrow = _pipe("delivery", delivery)
    down = float(positive("fall", fall, MOST_HEAD))
    up = float(positive("static_lift", static_lift, MOST_HEAD))
    if up <= down:
        msg = f"static_lift must be above the fall of {down:g} m, got {up:g}: no ram is needed"
        raise OutsideRange(msg)
    speed = float(positive("closing_velocity", closing_velocity, FASTEST))
    air = float(between("vessel", vessel, 0.0, MOST_VESSEL))
    wanted = float(positive("back_pressure", back_pressure, MOST_HEAD))
    fill = math.nan
    if delivered is not None:
        fill = run * narrow / float(positive("delivered", delivered, MOST_FLOW))
    stroke = wide * long * speed**2 / (2.0 * GRAVITY)
    missing = max(min(wanted, up) - down, 0.0)  # a line lower than that fills to its end
    squeezed = (ATMOSPHERE + down + missing) / (ATMOSPHERE + down)
    pressing = air * ATMOSPHERE * (math.log(squeezed) - 1.0 + 1.0 / squeezed)
    filling = narrow * run / up * missing**2 / 2.0
    least = FEWEST + math.ceil(pressing / (MOST_SHARE * stroke))
    most = FEWEST + math.ceil((pressing + filling) / (LEAST_SHARE * stroke))
    return Start(long * wide, run * narrow, wanted, min(down, wanted), (least, most), fill, STEPS)


def _pipe(name: str, pipe: tuple[float, float]) -> tuple[float, float]:
    """Length [m] and cross-section [m²]."""
    length, bore = pipe
    long = float(positive(f"length of the {name} pipe", length, MOST_LENGTH))
    wide = np.asarray(positive(f"bore of the {name} pipe", bore, MOST_BORE))
    return long, float(area(wide))
