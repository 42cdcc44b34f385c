"""SI to text: one table says how each quantity looks in metric and in US units."""

import math
from dataclasses import dataclass
from typing import Literal

from planner.band import Band
from planner.units.convert import convert, factor

System = Literal["metric", "us"]
NINE_IN_TEN = 2.326  # standard errors of one level, half the band of the difference of two
MOST_DECIMALS = 4
Quantity = Literal[
    "level",
    "length",
    "distance",
    "bore",
    "flow",
    "per_day",
    "volume",
    "head",
    "pressure",
    "grade",
    "share",
    "area",
    "speed",
    "temperature",
]


@dataclass(frozen=True, slots=True)
class Shown:
    """How a quantity looks: its unit, its symbol, its decimals or significant figures.

    The first of a quantity's looks whose `below` [SI] is more than the value's size is taken.
    """

    unit: str
    symbol: str
    decimals: int | None = None
    figures: int = 2
    below: float = math.inf


# Quantity -> unit of the value given, look in metric, look in US units.
SHOWN: dict[Quantity, tuple[str, tuple[Shown, ...], tuple[Shown, ...]]] = {
    "level": ("meter", (Shown("meter", "m", 2),), (Shown("foot", "ft", 2),)),
    "length": ("meter", (Shown("meter", "m", 1),), (Shown("foot", "ft", 1),)),
    "distance": (
        "meter",
        (Shown("meter", "m", 0, below=10_000.0), Shown("kilometer", "km", 1)),
        (Shown("foot", "ft", 0, below=3218.688), Shown("mile", "mi", 1)),
    ),
    "bore": ("meter", (Shown("millimeter", "mm", 1),), (Shown("inch", "in", 2),)),
    "flow": (
        "meter**3/second",
        (Shown("liter/minute", "L/min", below=0.002), Shown("liter/second", "L/s")),
        (Shown("gallon/minute", "US gal/min"),),
    ),
    "per_day": (
        "meter**3/day",
        (Shown("liter/day", "L/day"),),
        (Shown("gallon/day", "US gal/day"),),
    ),
    "volume": ("meter**3", (Shown("liter", "L"),), (Shown("gallon", "US gal"),)),
    "head": (
        "metre_of_water",
        (Shown("metre_of_water", "m", 1),),
        (Shown("foot_of_water", "ft", 1),),
    ),
    "pressure": ("metre_of_water", (Shown("bar", "bar", 1),), (Shown("psi", "psi", 0),)),
    "grade": ("dimensionless", (Shown("percent", "%"),), (Shown("percent", "%"),)),
    "share": ("dimensionless", (Shown("percent", "%", 0),), (Shown("percent", "%", 0),)),
    "area": (
        "meter**2",
        (Shown("meter**2", "m²", 0, below=10_000.0), Shown("hectare", "ha", 1)),
        (Shown("foot**2", "ft²", 0, below=4046.8564224), Shown("acre", "acres", 1)),
    ),
    "speed": (
        "meter/second",
        (Shown("meter/second", "m/s", 2),),
        (Shown("foot/second", "ft/s", 1),),
    ),
    "temperature": ("degC", (Shown("degC", "°C", 0),), (Shown("degF", "°F", 0),)),
}


def look(quantity: Quantity, units: System, size: float = 0.0) -> Shown:
    """How values of about this size [SI] are shown."""
    _, metric, us = SHOWN[quantity]
    looks = metric if units == "metric" else us
    return next((one for one in looks if abs(size) < one.below), looks[-1])


def symbol(quantity: Quantity, units: System, size: float = 0.0) -> str:
    """The unit's symbol at values of about this size [SI]."""
    return look(quantity, units, size).symbol


def per_si(quantity: Quantity, units: System, size: float = 0.0) -> float:
    """Shown units in one SI unit, to scale whole arrays (not for temperature).

    Examples
    --------
    >>> round(per_si("level", "us"), 4)
    3.2808
    """
    return factor(SHOWN[quantity][0], look(quantity, units, size).unit)


def number_text(
    value: float,
    quantity: Quantity,
    units: System,
    *,
    decimals: int | None = None,
    figures: int | None = None,
    size: float | None = None,
) -> str:
    """The figure alone, in the unit that `symbol` names for this `size` (the value's own).

    Thousands have a comma, minus is a true minus, NaN is a dash.
    """
    if not math.isfinite(value):
        return "–"
    shown = look(quantity, units, value if size is None else size)
    number = convert(value, SHOWN[quantity][0], shown.unit)
    if figures is not None or (decimals is None and shown.decimals is None):
        decimals = _decimals(number, shown.figures if figures is None else figures)
    elif decimals is None:
        decimals = shown.decimals or 0
    text = f"{round(number, decimals):,.{max(decimals, 0)}f}"
    return text.replace("-", "−") if float(text.replace(",", "")) else text.lstrip("-")


def show(
    value: float,
    quantity: Quantity,
    units: System,
    *,
    decimals: int | None = None,
    figures: int | None = None,
) -> str:
    """A figure with its unit, as it stands on every output.

    Parameters
    ----------
    value : float
        In SI (per_day [m³/day], head and pressure [m of water], grade and share [1],
        temperature [°C]); NaN gives a dash.
    quantity : str
        level, length, distance, bore, flow, per_day, volume, head, pressure, grade, share, area,
        speed or temperature.
    units : {"metric", "us"}
    decimals, figures : int, optional
        Decimals or significant figures, where the quantity's own do not fit.

    Examples
    --------
    >>> show(1.24, "per_day", "metric", figures=3)
    '1,240 L/day'
    >>> show(-2.286, "level", "us")
    '−7.50 ft'
    """
    number = number_text(value, quantity, units, decimals=decimals, figures=figures)
    return number if number == "–" else f"{number} {symbol(quantity, units, value)}"


def band_text(
    band: Band,
    quantity: Quantity,
    units: System,
    *,
    decimals: int | None = None,
    figures: int | None = None,
) -> str:
    """A figure with its band; without it where the figure is exact.

    Examples
    --------
    >>> band_text(Band(0.9, 1.24, 1.6), "per_day", "metric", figures=3)
    '1,240 L/day (900 – 1,600)'
    """
    expected = float(band.expected)
    text = show(expected, quantity, units, decimals=decimals, figures=figures)
    if not math.isfinite(expected) or band.low == band.high:
        return text
    low, high = (
        number_text(float(end), quantity, units, decimals=decimals, figures=figures, size=expected)
        for end in (band.low, band.high)
    )
    return f"{text} ({low} – {high})"


def decimals_for(standard_error: float) -> int:
    """Decimals that a level or fall [m] deserves: the place of its error's first figure, 0..2.

    Examples
    --------
    >>> decimals_for(0.15), decimals_for(3.0)
    (1, 0)
    """
    if not standard_error > 0.0:
        return 2
    return min(2, max(0, -math.floor(math.log10(standard_error))))


def decimals_of(band: Band) -> int:
    """Decimals that a difference of two levels [m] deserves, by its band of nine in ten.

    Examples
    --------
    >>> decimals_of(Band(4.59, 4.83, 5.07)), decimals_of(Band(4.78, 4.79, 4.80))
    (1, 2)
    """
    return decimals_for(float(band.high - band.low) / 2.0 / NINE_IN_TEN)


def _decimals(number: float, figures: int) -> int:
    if number == 0.0:
        return 0
    place = math.floor(math.log10(abs(number)))
    if round(abs(number), figures - 1 - place) >= 10.0 ** (place + 1):  # 9.96 becomes 10
        place += 1
    return min(figures - 1 - place, MOST_DECIMALS)
