"""Quantities in the middle of a sentence, in the site's units."""

from collections.abc import Callable

from planner.site.value import Units
from planner.units import show as shown

FOOT = 0.3048  # m, the international foot


def _length(value: float, units: Units) -> str:
    return shown(value, "length", units, decimals=0 if abs(value) >= 100.0 else 1)


def _height(value: float, units: Units) -> str:
    coarse = units == "us" or abs(value) >= 10.0
    return shown(value, "level", units, decimals=1 if coarse else 2)


def _head(value: float, units: Units) -> str:
    """Heads in the trade's own units: metres of water, or psi."""
    if units == "metric":
        return f"{shown(value, 'head', units)} of water"
    return shown(value, "pressure", units, decimals=1 if abs(value) < 7.0 else 0)


def _station(value: float, units: Units) -> str:
    if units == "metric":
        return f"chainage {shown(value, 'length', units)}"
    hundreds, feet = divmod(round(value / FOOT), 100)
    return f"station {hundreds}+{feet:02d}"


def _percent(value: float, units: Units) -> str:
    return shown(value, "grade" if abs(value) < 0.1 else "share", units)


KINDS: dict[str, Callable[[float, Units], str]] = {
    "length": _length,
    "height": _height,
    "head": _head,
    "station": _station,
    "percent": _percent,
    "day": lambda value, units: shown(value, "per_day", units),
    "flow": lambda value, units: shown(value, "flow", units, figures=3),
    "speed": lambda value, units: shown(value, "speed", units),
    "bore": lambda value, units: shown(value, "bore", units),
    "degrees": lambda value, _: f"{value:.1f}°",
    "ratio": lambda value, _: f"{value:.3g}" if abs(value) < 100.0 else f"{value:,.0f}",
    "count": lambda value, _: f"{value:,.0f}",
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
