"""Figures on a button, which stand in the site file as they are read there."""

import math

from planner.site.value import Units

FOOT = 0.3048  # m, the international foot
US_GALLON = 3.785411784e-3  # m³
INCH = 0.0254  # m
SPARE = 1e-4  # of the last decimal; a figure that just reaches is rounded to itself


def at_least(value: float, units: Units) -> str:
    """A length [m], rounded up: to the centimetre, or a tenth of a foot.

    Examples
    --------
    >>> at_least(1.8123, "metric"), at_least(1.8123, "us")
    ('1.82 m', '6.0 ft')
    """
    if units == "metric":
        return f"{_up(value, 2):.2f} m"
    return f"{_up(value / FOOT, 1):.1f} ft"


def size_of(bore: float, units: Units) -> str:
    """An inside diameter [m].

    Examples
    --------
    >>> size_of(0.0266, "metric"), size_of(0.05, "us")
    ('26.6 mm', '1.969 in')
    """
    return f"{bore * 1e3:.4g} mm" if units == "metric" else f"{bore / INCH:.3f} in"


def holding(volume: float, units: Units) -> str:
    """A tank's volume [m³], rounded up to two figures.

    Examples
    --------
    >>> holding(2.31, "metric"), holding(2.31, "us")
    ('2400 L', '620 US gal')
    """
    number, unit = (volume * 1e3, "L") if units == "metric" else (volume / US_GALLON, "US gal")
    figures = 1 - math.floor(math.log10(number))
    return f"{_up(number, figures):.0f} {unit}" if figures <= 0 else f"{math.ceil(number)} {unit}"


def _up(value: float, decimals: int) -> float:
    step = 10.0**decimals
    return math.ceil(value * step - SPARE) / step
