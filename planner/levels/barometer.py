"""Barometer readings to differences from a base that was read again and again.

What the barometer moved at the base between two readings there is the weather's, and is taken out
of the readings between them in proportion to time. An example, altitudes in m::

    station, time, altitude
    Spring, 09:10, 412
    Ridge, 09:22, 447
    Tank, 09:40, 439
    Spring, 09:58, 414
"""

import itertools
import math
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from planner.errors import InputError
from planner.levels.clock import seconds
from planner.levels.entry import Entry, Written
from planner.levels.header import PRESSURES, TEMPERATURES
from planner.levels.leg import Leg, Place, Reduced, Run, Sight
from planner.levels.names import StationNames, shown
from planner.levels.value import Difference
from planner.units.convert import convert
from planner.units.parse import quoted

# Within 15 minutes differences hold to 1 to 2 m [GK-m]; over a day, corrected for the pressure at
# a base, to 2.3 m [S104] (hydraulics notes, section 6).
NEAR_ERROR, FAR_ERROR = 1.5, 2.3  # m
NEAR = 15 * 60.0  # s

# Hypsometric equation: h = R T / g · ln(p0 / p); constants of the US Standard Atmosphere, 1976.
GAS_CONSTANT = 287.053  # J/(kg K), dry air
GRAVITY = 9.80665  # m/s²
SEA_LEVEL_PRESSURE = 1013.25  # hPa
STANDARD_TEMPERATURE = 15.0  # °C, where none was noted
ZERO_CELSIUS = 273.15  # K

PRESSURE_RANGE = (450.0, 1100.0)  # hPa, up to 6,000 m
MERCURY_RANGE = (13.0, 33.0)  # inHg: a bare number in it can be no other unit
TEMPERATURE_RANGE = (-50.0, 60.0)  # °C
LOWEST, HIGHEST = -1000.0, 9000.0  # m

_PRESSURE = re.compile(r"(?P<number>[0-9.,]+)\s*(?P<unit>[a-z]*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Taken:
    """One reading: the station, when [s], the altitude it tells [m], and its row."""

    station: str
    time: float
    altitude: float
    entry: Entry


def read_barometer(entries: Iterable[Entry], names: StationNames) -> Reduced:
    """Differences from the base to each other reading, drift taken out.

    Raises
    ------
    InputError
        No station was read twice, times are out of order, or a reading does not stand between two
        of the base.
    """
    told = [entry for entry in entries if set(entry.cells) - {"remark"}]
    warmth, warmth_note = _temperature(told)
    taken = [
        Taken(entry.station(names), seconds(entry), _altitude(entry, warmth), entry)
        for entry in told
    ]
    if not taken:
        return Reduced()
    for before, after in itertools.pairwise(taken):
        if after.time < before.time:
            what = (
                f"it is before the time of {before.entry.row}; write the readings in the order "
                "they were taken, with a date where they go past midnight"
            )
            raise after.entry.wrong("time", what)
    base = _base(taken)
    notes = [*warmth_note, _drift_note(base)]
    legs = tuple(_leg(base, one) for one in taken if one.station != base[0].station)
    places = tuple(
        Place(one.station, at, one.entry.row)
        for one in taken
        if (at := one.entry.place()) is not None
    )
    return Reduced(legs, places=places, notes=tuple(notes))


def _base(taken: Sequence[Taken]) -> list[Taken]:
    """The readings of the station that tells the drift over the longest time."""
    by_station: dict[str, list[Taken]] = {}
    for one in taken:
        by_station.setdefault(one.station, []).append(one)
    base = max(by_station.values(), key=lambda own: own[-1].time - own[0].time)
    if base[-1].time <= base[0].time:
        msg = (
            f"{taken[0].entry.row.file}: no station was read twice, so the weather's drift can't "
            "be told from the ground; read the first station again at the end"
        )
        raise InputError(msg)
    return base


def _drift_note(base: Sequence[Taken]) -> str:
    first = base[0].entry
    drift = base[-1].altitude - base[0].altitude
    read = first.length("altitude")
    moved = f"{drift:+.1f} m" if read is None else f"{'+' if drift > 0 else ''}{read.like(drift)}"
    minutes = (base[-1].time - base[0].time) / 60.0
    where = shown(base[0].station)
    return (
        f"{first.row.file}: the barometer moved {moved.replace('-', '−')} at {where} in "
        f"{minutes:.0f} minutes; that was taken out evenly between the readings there"
    )


def _leg(base: Sequence[Taken], one: Taken) -> Leg:
    times = np.array([at.time for at in base])
    if not times[0] <= one.time <= times[-1]:
        where = shown(base[0].station)
        what = (
            f"{shown(one.station)} was not read between two readings of {where}, so the drift "
            f"there is not known; read {where} before and after all others"
        )
        raise one.entry.wrong("time", what)
    drifted = float(np.interp(one.time, times, [at.altitude for at in base]))
    near = float(np.min(np.abs(times - one.time))) <= NEAR
    rise = one.altitude - drifted
    difference = Difference(
        base[0].station,
        one.station,
        rise,
        NEAR_ERROR if near else FAR_ERROR,
        "barometer",
        one.entry.row,
    )
    column = "altitude" if "altitude" in one.entry.cells else "pressure"
    written = Written(rise, 0.1, one.entry.cells[column], "meter")
    return Leg(
        difference, Sight(one.entry.row, column, written), None, 0, Run(one.entry.row.file, 1)
    )


def _temperature(entries: Sequence[Entry]) -> tuple[float, list[str]]:
    """Mean of the air [°C], and a note where pressures were read without it."""
    found = []
    for entry in entries:
        text = entry.cells.get("temperature")
        if text is None:
            continue
        unit = entry.units["temperature"]
        value = entry.number("temperature", text)
        celsius = convert(value, unit, "degC") if unit in TEMPERATURES.values() else value
        if not TEMPERATURE_RANGE[0] <= celsius <= TEMPERATURE_RANGE[1]:
            what = (
                f"{quoted(text)} is no temperature of the air in °C; for °F, say so in the header"
            )
            raise entry.wrong("temperature", what)
        found.append(celsius)
    if found:
        return sum(found) / len(found), []
    if not any("pressure" in entry.cells for entry in entries):
        return STANDARD_TEMPERATURE, []
    note = (
        f"{entries[0].row.file}: no temperature was noted beside the pressures, so "
        f"{STANDARD_TEMPERATURE:.0f} °C was taken; 10 °C more make differences 3.5 % larger"
    )
    return STANDARD_TEMPERATURE, [note]


def _altitude(entry: Entry, celsius: float) -> float:
    """What a reading tells of height [m], above a zero that all readings of a file share."""
    if "altitude" in entry.cells and "pressure" in entry.cells:
        raise entry.wrong("pressure", "altitude and pressure are both filled in; keep one of them")
    if "pressure" in entry.cells:
        scale = GAS_CONSTANT * (celsius + ZERO_CELSIUS) / GRAVITY
        return scale * math.log(SEA_LEVEL_PRESSURE / _pressure(entry))
    written = entry.length("altitude")
    if written is None:
        column = "altitude" if "altitude" in entry.units else "pressure"
        raise entry.wrong(column, "it is empty; write what the barometer read")
    if not LOWEST <= written.value <= HIGHEST:
        what = f"{written.shown} is no altitude on the Earth; write one from −1000 to 9000 m"
        raise entry.wrong("altitude", what)
    return written.value


def _pressure(entry: Entry) -> float:
    """A pressure in hPa."""
    text = entry.cells["pressure"]
    match = _PRESSURE.fullmatch(text)
    unit = "" if match is None else match["unit"].casefold()
    if match is None or (unit and unit not in PRESSURES):
        what = f"{quoted(text)} is no pressure; write one such as 963.4 hPa or 28.45 inHg"
        raise entry.wrong("pressure", what)
    number = entry.number("pressure", match["number"])
    told = PRESSURES.get(unit, entry.units["pressure"])
    if told not in PRESSURES.values():
        mercury = MERCURY_RANGE[0] <= number <= MERCURY_RANGE[1]
        told = "inch_Hg" if mercury else "hectopascal"
    value = convert(number, told, "hectopascal")
    if not PRESSURE_RANGE[0] <= value <= PRESSURE_RANGE[1]:
        what = (
            f"{quoted(text)} is no air pressure; write the station's own, not brought to the sea's "
            "level, from 450 to 1100 hPa, or with its unit"
        )
        raise entry.wrong("pressure", what)
    return value
