"""What a price is for: metre, coil, piece, day; and how much of that an item is."""

import math
from typing import Literal

from planner.output.materials.value import Item, Unit

Measure = Literal["length", "volume", "mass", "piece", "pack", "pair", "day"]

FOOT = 0.3048  # m
POUND = 0.45359237  # kg
GALLON = 3.785411784e-3  # m³
DAY = 8.0  # h, a working day, setting

# As price lists write it -> what is measured, and how much of it in SI.
UNITS: dict[str, tuple[Measure, float]] = {
    **dict.fromkeys(("m", "metre", "meter", "metres", "meters", "lm", "rm"), ("length", 1.0)),
    **dict.fromkeys(("ft", "foot", "feet", "lf"), ("length", FOOT)),
    **dict.fromkeys(("100 m", "100m"), ("length", 100.0)),
    **dict.fromkeys(("100 ft", "100ft"), ("length", 100.0 * FOOT)),
    **dict.fromkeys(("yd", "yard", "yards"), ("length", 3.0 * FOOT)),
    **dict.fromkeys(("m³", "m3", "cubic metre", "cubic meter", "cbm"), ("volume", 1.0)),
    **dict.fromkeys(("yd³", "yd3", "cubic yard", "cy"), ("volume", 27.0 * FOOT**3)),
    **dict.fromkeys(("ft³", "ft3", "cubic foot", "cf"), ("volume", FOOT**3)),
    **dict.fromkeys(("kg", "kilogram"), ("mass", 1.0)),
    **dict.fromkeys(("t", "tonne"), ("mass", 1000.0)),
    **dict.fromkeys(("lb", "lbs", "pound"), ("mass", POUND)),
    **dict.fromkeys(
        ("piece", "pieces", "pc", "pcs", "each", "ea", "no", "nr", "item", "set", "can"),
        ("piece", 1.0),
    ),
    **dict.fromkeys(("coil", "coils", "roll", "rolls", "stick", "sticks", "length"), ("pack", 1.0)),
    **dict.fromkeys(("pair", "pairs"), ("pair", 1.0)),
    **dict.fromkeys(("day", "days", "person-day", "man-day", "d"), ("day", 1.0)),
    **dict.fromkeys(("hour", "hours", "h", "hr"), ("day", 1.0 / DAY)),
}

OF_UNIT: dict[Unit, tuple[Measure, ...]] = {
    "m": ("length",),
    "m³": ("volume",),
    "kg": ("mass",),
    "coil": ("pack", "piece"),
    "stick": ("pack", "piece"),
    "roll": ("pack", "piece"),
    "piece": ("piece",),
    "pair": ("pair",),
    "set": ("piece",),
    "can": ("piece",),
    "day": ("day",),
}


def amount_in(item: Item, unit: str) -> float | None:
    """How much an item is in a price list's unit; None where the two measure different things.

    Coils and rolls are whole: by the metre, all that is bought counts. A pair is two pieces.
    """
    measure, size = UNITS[unit]
    article = item.article
    if measure in OF_UNIT[article.unit]:
        return item.quantity / size
    if measure == "length" and article.pack is not None:
        return item.quantity * article.pack / size
    if measure == "piece" and article.unit == "pair":
        return 2.0 * item.quantity / size
    if measure == "mass" and item.mass is not None and math.isfinite(item.mass):
        return item.mass / size
    return None
