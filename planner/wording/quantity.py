"""Quantities in the middle of a sentence, in the site's units."""

import json
from collections.abc import Callable

from planner.site.value import Units
from planner.units import show as shown

FOOT = 0.3048  # m, the international foot
INCH = 0.0254  # m
POUND = 0.45359237  # kg
# Nominal bore in mm -> nominal pipe size in inches; ISO 6708 and ASME B36.10M, side by side.
BORES_MM = (20, 25, 32, 40, 50, 65, 80, 100, 125, 150)
BORES_IN = ("3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "4", "5", "6")
NPS = dict(zip(BORES_MM, BORES_IN, strict=True))
VENTS = {
    "standpipe": "an open standpipe",
    "air-valve": "an automatic air valve",
    "hand-cock": "a hand cock",
}


def _length(value: float, units: Units) -> str:
    return shown(value, "length", units, decimals=0 if abs(value) >= 100.0 else 1)


def _height(value: float, units: Units) -> str:
    coarse = units == "us" or abs(value) >= 10.0
    return shown(value, "level", units, decimals=1 if coarse else 2)


def _fine(value: float, units: Units) -> str:
    """Heights as a staff is read."""
    return shown(value, "level", units, decimals=3 if units == "metric" else 2)


def _levelled(value: float, units: Units) -> str:
    """Differences of height, to be held against each other."""
    return shown(value, "level", units, decimals=2)


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


def _size(value: float, units: Units) -> str:
    """A nominal bore as the trade asks for it: 32 mm, or 1-1/4 in where sizes go by inches."""
    millimetres = round(value * 1000.0)
    if units == "us" and millimetres in NPS:
        return f"{NPS[millimetres]} in"
    return shown(value, "bore", units, decimals=0 if units == "metric" else None)


def _about(value: float, units: Units) -> str:
    return shown(value, "length", units, decimals=0)


def _face(value: float, units: Units) -> str:
    """Areas as large as a hand or a door."""
    if units == "metric":
        return f"{value * 1e4:,.0f} cm²" if abs(value) < 1.0 else f"{value:,.1f} m²"
    small = abs(value) < FOOT**2
    return f"{value / INCH**2:,.0f} in²" if small else f"{value / FOOT**2:,.1f} ft²"


def _footing(value: float, units: Units) -> str:
    return shown(value, "area", units, decimals=1)


def _mass(value: float, units: Units) -> str:
    number, unit = (value, "kg") if units == "metric" else (value / POUND, "lb")
    return f"{float(f'{number:.2g}'):,.0f} {unit}"


def _duration(value: float, _: Units) -> str:
    minutes = value / 60.0
    if abs(minutes) < 120.0:
        return f"{minutes:,.0f} minutes"
    return (
        f"{minutes / 60.0:,.0f} hours" if abs(minutes) < 5760.0 else f"{minutes / 1440.0:,.0f} days"
    )


KINDS: dict[str, Callable[[float, Units], str]] = {
    "length": _length,
    "height": _height,
    "fine": _fine,
    "levelled": _levelled,
    "head": _head,
    "station": _station,
    "percent": _percent,
    "day": lambda value, units: shown(value, "per_day", units),
    "day_held": lambda value, units: shown(value, "per_day", units, figures=3),
    "flow": lambda value, units: shown(value, "flow", units, figures=3),
    "speed": lambda value, units: shown(value, "speed", units),
    "bore": lambda value, units: shown(value, "bore", units),
    "size": _size,
    "volume": lambda value, units: shown(value, "volume", units),
    "about": _about,
    "face": _face,
    "area": _footing,
    "mass": _mass,
    "duration": _duration,
    "degrees": lambda value, _: f"{value:.1f}°",
    "ratio": lambda value, _: f"{value:.3g}" if abs(value) < 100.0 else f"{value:,.0f}",
    "count": lambda value, _: f"{value:,.0f}",
}


def _listed(parts: list[str]) -> str:
    return " and ".join(part for part in (", ".join(parts[:-1]), *parts[-1:]) if part)


def _stations(text: str, units: Units) -> str:
    """A list of chainages [m]."""
    return _listed([_station(float(at), units) for at in json.loads(text)])


def _vents(text: str, units: Units) -> str:
    """A list of vents: kind, chainage [m], height of a standpipe or null [m]."""
    return _listed(
        [
            VENTS[kind]
            + (f" {_height(float(top), units)} high" if top is not None else "")
            + f" at {_station(float(at), units)}"
            for kind, at, top in json.loads(text)
        ]
    )


def _classes(text: str, units: Units) -> str:
    """A list of stretches of pipe: class, chainage of the end [m]."""
    rows = json.loads(text)
    if len(rows) == 1:
        return f"{rows[0][0]} all along"
    told = [f"{name} to {_station(float(end), units)}" for name, end in rows[:-1]]
    return ", ".join([*told, f"{rows[-1][0]} beyond"])


# A finding's values are numbers and texts; a list of either comes as JSON in a text.
LISTS: dict[str, Callable[[str, Units], str]] = {
    "stations": _stations,
    "vents": _vents,
    "classes": _classes,
}


def show(value: float | str, kind: str, units: Units) -> str:
    """A value as it stands in a sentence.

    Parameters
    ----------
    value : float or str
        Finite, in SI; text is given back as it is, but for a list.
    kind : str
        One of `KINDS`; one of `LISTS` for a list; "" for text.
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
        return LISTS[kind](value, units) if kind in LISTS else value
    return KINDS[kind](value, units)
