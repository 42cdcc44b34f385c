"""What an owner must find: valves in the order they are shut, vents, washouts, each numbered."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.checks.fitted import kind_noted, noted
from planner.output.materials.valves import VALVES
from planner.output.owner.words import Item, Section, name_of
from planner.output.vents import apart, vents_of
from planner.record.value import Line, Plan
from planner.site.value import LineRole, Units
from planner.units.show import show
from planner.wording.quantity import show as say

Kind = Literal["valve", "vent", "washout", "drain", "break-pressure tank", "noted"]

# The order in which a scheme is shut down: first what the water drives, then outlets, then inlets.
SHUT: tuple[LineRole, ...] = ("drive", "delivery", "distribution", "main", "supply")
VALVE_WORDS: dict[LineRole, str] = {
    "drive": "Drive valve",
    "delivery": "Delivery valve",
    "distribution": "Valve to {end}",
    "main": "Main valve",
    "supply": "Supply valve",
}


@dataclass(frozen=True, slots=True)
class Fitting:
    """One thing on the ground, with its number on the map.

    `text` says what it is, `where` how it is found; `xy` in the terrain's grid [m].
    """

    number: int
    kind: Kind
    text: str
    where: str
    line: str
    chainage_m: float
    xy: tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Found:
    kind: Kind
    text: str
    line: Line
    chainage_m: float


def fittings(plan: Plan) -> tuple[Fitting, ...]:
    """Valves in the order in which they are shut, then all else along the water."""
    along = sorted(plan.lines, key=lambda line: SHUT.index(line.role) if line.role in SHUT else 9)
    watery = [line for line in plan.lines if line.role not in ("waste", "overflow")]
    found = [valve for line in along for valve in _valve(line)]
    found += [one for line in watery for one in (*_vents(line), *_lows(line), *_tanks(line))]
    found += [one for line in plan.lines for one in _noted(line)]
    return tuple(
        Fitting(
            number,
            one.kind,
            one.text,
            _where(one.line, one.chainage_m, plan.site.units),
            one.line.name,
            one.chainage_m,
            _xy(one.line, one.chainage_m),
        )
        for number, one in enumerate(found, start=1)
    )


def valve_number(found: tuple[Fitting, ...], line: str) -> str:
    """The number of a line's valve in brackets, "" without one."""
    numbers = (one.number for one in found if one.kind == "valve" and one.line == line)
    number = next(numbers, None)
    return "" if number is None else f" ({number})"


def key_section(found: tuple[Fitting, ...]) -> Section:
    """The key to the map's numbers."""
    items = tuple(Item(f"{one.text}: {one.where}.", lead=str(one.number)) for one in found)
    return Section("Numbers on the map, valves as they are shut", items, least=12, run_in=True)


def _valve(line: Line) -> Iterator[_Found]:
    if line.role not in VALVES:
        return
    end, _ = VALVES[line.role]
    words = VALVE_WORDS[line.role].format(end=name_of(line.end))
    yield _Found("valve", words, line, 0.0 if end == "start" else line.profile.length)


def _vents(line: Line) -> Iterator[_Found]:
    for index, word in vents_of(line).items():
        chainage = float(line.profile.chainage[index])
        if not noted(line, chainage, "vent"):
            text = f"{word[0].upper()}{word[1:]} on {name_of(line.name)}{_unnoted(line)}"
            yield _Found("vent", text, line, chainage)


def _lows(line: Line) -> Iterator[_Found]:
    if line.role in ("supply", "drive"):
        return
    for low in line.low_points:
        if not noted(line, low.chainage_m, "washout"):
            text = f"Washout on {name_of(line.name)}{_unnoted(line)}"
            yield _Found("washout", text, line, low.chainage_m)
    for index in apart(line, "washout"):
        text = f"Washout on {name_of(line.name)}{_unnoted(line)}"
        yield _Found("washout", text, line, float(line.profile.chainage[index]))
    if line.role == "delivery":
        yield _Found("drain", f"Drain cock of {name_of(line.name)}", line, 0.0)


def _tanks(line: Line) -> Iterator[_Found]:
    tanks = None if line.pressure is None else line.pressure.tanks
    for index in () if tanks is None else tanks.tanks:
        text = f"Break-pressure tank on {name_of(line.name)}"
        yield _Found("break-pressure tank", text, line, float(line.profile.chainage[index]))


def _noted(line: Line) -> Iterator[_Found]:
    """What was noted along a line as it was laid."""
    for mark in () if line.built is None else line.built.marks:
        if mark.what:
            text = f"{name_of(mark.what)} on {name_of(line.name)}, as laid"
            yield _Found(kind_noted(mark.what) or "noted", text, line, mark.chainage_m)


def _unnoted(line: Line) -> str:
    laid = line.built is not None and any(mark.what for mark in line.built.marks)
    return " (planned; not noted when it was laid)" if laid else ""


def _where(line: Line, chainage: float, units: Units) -> str:
    """From the end of the pipe that is nearer."""
    length = line.profile.length
    if chainage <= 0.0:
        return f"at {name_of(line.start)}"
    if chainage >= length:
        return f"at {name_of(line.end)}"
    at = say(chainage, "station", units)
    if chainage <= length / 2.0:
        return f"{at} from {name_of(line.start)}"
    return f"{at}, {show(length - chainage, 'length', units)} before {name_of(line.end)}"


def _xy(line: Line, chainage: float) -> tuple[float, float]:
    profile = line.profile
    x, y = (np.interp(chainage, profile.chainage, profile.xy[:, axis]) for axis in (0, 1))
    return float(x), float(y)
