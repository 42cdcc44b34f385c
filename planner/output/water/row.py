"""`Row` and `Group`: a figure in words, with the source it hangs on."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from planner.site.value import Units
from planner.units.show import Quantity
from planner.units.show import show as shown
from planner.wording.quantity import show

DARCY = "Darcy-Weisbach, Churchill"
DAY = 86400.0  # s


@dataclass(frozen=True, slots=True)
class Row:
    """What it is, the figure in the user's units, and where it comes from."""

    label: str
    figure: str
    source: str


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one title."""

    title: str
    rows: tuple[Row, ...]


def group(title: str, rows: Iterable[tuple[str, str | None, str]]) -> Group:
    """The rows whose figure is known, under a title."""
    return Group(title, tuple(Row(label, text, source) for label, text, source in rows if text))


def figure(value: float | None, kind: str, units: Units) -> str | None:
    """A figure of one of the kinds of `planner.wording.quantity`; None where it isn't known."""
    if value is None or not math.isfinite(value):
        return None
    return show(value, kind, units)


def head(metres: float | None, units: Units) -> str | None:
    """A pressure head in m or ft, with bar or psi beside it; None where it isn't known."""
    if metres is None or not math.isfinite(metres):
        return None
    return f"{shown(metres, 'head', units)} ({shown(metres, 'pressure', units)})"


def plain(value: float, quantity: Quantity, units: Units) -> str | None:
    """A figure as `planner.units.show` has it; None where it isn't known."""
    return shown(value, quantity, units) if math.isfinite(value) else None
