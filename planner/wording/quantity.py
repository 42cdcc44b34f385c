"""Quantities in the middle of a sentence, in the site's units."""

from collections.abc import Callable

from planner.site.value import Units

FOOT = 0.3048  # m, international foot
INCH = 0.0254  # m
US_GALLON = 3.785411784e-3  # m³
PSI = 0.70307  # m of water, 2.31 ft


def _number(value: float, digits: int) -> str:
    text = f"{value:,.{digits}f}"
    return text.lstrip("-") if float(text.replace(",", "")) == 0 else text.replace("-", "−")


def _length(value: float, units: Units) -> str:
    size, name = (value, "m") if units == "metric" else (value / FOOT, "ft")
    return f"{_number(size, 1 if abs(size) < 100 else 0)} {name}"


def _height(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value, 2 if abs(value) < 10 else 1)} m"
    return f"{_number(value / FOOT, 1)} ft"


def _head(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value, 1)} m of water"
    return f"{_number(value / PSI, 1 if abs(value) < 7 else 0)} psi"


def _station(value: float, units: Units) -> str:
    if units == "metric":
        return f"chainage {_number(value, 1)} m"
    hundreds, feet = divmod(round(value / FOOT), 100)
    return f"station {hundreds}+{feet:02d}"


def _day(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value * 1000, 0)} litres a day"
    return f"{_number(value / US_GALLON, 0)} gallons a day"


def _flow(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value * 60000, 1)} L/min"
    return f"{_number(value * 60 / US_GALLON, 1)} gpm"


def _speed(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value, 2)} m/s"
    return f"{_number(value / FOOT, 1)} ft/s"


def _bore(value: float, units: Units) -> str:
    if units == "metric":
        return f"{_number(value * 1000, 1)} mm"
    return f"{_number(value / INCH, 2)} in"


KINDS: dict[str, Callable[[float, Units], str]] = {
    "length": _length,
    "height": _height,
    "head": _head,
    "station": _station,
    "day": _day,
    "flow": _flow,
    "speed": _speed,
    "bore": _bore,
    "percent": lambda value, _: f"{_number(value * 100, 1 if value < 0.1 else 0)} %",
    "degrees": lambda value, _: f"{_number(value, 0)}°",
    "ratio": lambda value, _: _number(value, 1 if abs(value) < 10 else 0),
    "count": lambda value, _: _number(value, 0),
}


def show(value: float | str, kind: str, units: Units) -> str:
    """A value as it stands in a sentence.

    Parameters
    ----------
    value : float or str
        Finite, in SI; text is given back as it is.
    kind : str
        One of `KINDS`; "" for text.
    units : {"metric", "us"}

    Returns
    -------
    str

    Examples
    --------
    >>> show(64.2, "station", "us")
    'station 2+11'
    """
    if isinstance(value, str):
        return value
    return KINDS[kind](value, units)
