"""Nominal sizes: the name a pipe is bought by, which is not its bore."""

import re
from dataclasses import dataclass
from typing import Literal

from planner.errors import UnitError

LONGEST = 40  # characters of a size's text
VULGAR = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8"}
INCHES = {"in", "in.", "inch", "inches", '"', "″", "”", "''"}
SIZE = re.compile(
    r"(?P<dn>dn|od|ø)?\s*"
    r"(?:(?P<number>\d{1,4}(?:\.\d{1,4})?)|(?:(?P<whole>\d{1,2})[\s-]+)?(?P<top>\d{1,2})/(?P<bottom>\d{1,2}))"
    r"\s*-?\s*(?P<unit>[a-z.]*|\"|″|”|'')",
)


@dataclass(frozen=True, slots=True)
class NominalSize:
    """A trade size in its own unit: 0.75 in, 25 mm."""

    value: float
    unit: Literal["in", "mm"]


def nominal_size(text: str) -> NominalSize:
    """Read a trade size.

    Parameters
    ----------
    text : str
        Inches as "3/4 in", '1 1/4"', "1¼ inch", "1.25 in"; millimetres as "25 mm" or "DN 25".

    Raises
    ------
    UnitError
        The text is no size, or has no unit.

    Examples
    --------
    >>> nominal_size('1 1/4"')
    NominalSize(value=1.25, unit='in')
    >>> nominal_size("DN 25")
    NominalSize(value=25.0, unit='mm')
    """
    found = SIZE.fullmatch(_simple(text))
    if found is None:
        raise _unreadable(text)
    unit, metric = found["unit"], found["dn"] is not None
    value = _value(found)
    if value is None or not (unit in {"", "mm"} if metric else unit in INCHES | {"mm"}):
        raise _unreadable(text)
    return NominalSize(value, "mm" if metric or unit == "mm" else "in")


def _simple(text: object) -> str:
    if not isinstance(text, str) or len(text) > LONGEST:
        raise _unreadable(text)
    for sign, spelt in VULGAR.items():
        text = text.replace(sign, spelt)
    return " ".join(text.casefold().split())


def _value(found: re.Match[str]) -> float | None:
    if found["number"] is not None:
        value = float(found["number"])
    else:
        bottom = int(found["bottom"])
        value = int(found["whole"] or 0) + (int(found["top"]) / bottom if bottom else 0.0)
    return value if value > 0 else None


def _unreadable(text: object) -> UnitError:
    shown = repr(text)[:LONGEST]
    return UnitError(f'a pipe size is like "3/4 in" or "25 mm", with its unit; got {shown}')
