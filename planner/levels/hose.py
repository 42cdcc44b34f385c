"""A hose or water level to differences; repeated shots stay separate, each with its error.

Water stands equally high at both ends of the hose: the less is read at a station, the higher its
ground. An example, in m::

    from, to, from_reading, to_reading
    Spring, De 01, 0.412, 1.386
    De 01, De 02, 0.655, 0.980
"""

import math
from collections.abc import Iterable

from planner.levels.entry import Entry, Written
from planner.levels.leg import Leg, Place, Reduced, Run, Sight
from planner.levels.names import StationNames, shown
from planner.levels.value import Difference

READING_ERROR = 0.0025  # m: 2 to 3 mm a reading (hydraulics notes, section 6 [S99])
LONGEST_SCALE = 4.0  # m; more can't be read at a hose's end
HIGHEST_SHOT = 30.0  # m from one station to the next
LONGEST_HOSE = 500.0  # m


def read_hose(entries: Iterable[Entry], names: StationNames) -> Reduced:
    """One difference for each shot.

    Raises
    ------
    InputError
        A shot has no reading or two that contradict each other, or leads nowhere.
    """
    told = [entry for entry in entries if set(entry.cells) - {"remark"}]
    legs = tuple(_leg(number, entry, names) for number, entry in enumerate(told, start=1))
    places = tuple(
        Place(leg.difference.end, at, entry.row)
        for leg, entry in zip(legs, told, strict=True)
        if (at := entry.place()) is not None
    )
    return Reduced(legs, places=places)


def shot_ends(entry: Entry, names: StationNames) -> tuple[str, str]:
    """The two stations of a shot.

    Raises
    ------
    InputError
        One is missing, or they are the same.
    """
    start, end = entry.station(names, "from"), entry.station(names, "to")
    if start == end:
        what = f"the shot leads from {shown(start)} to itself; write the station at its other end"
        raise entry.wrong("to", what)
    return start, end


def _leg(number: int, entry: Entry, names: StationNames) -> Leg:
    start, end = shot_ends(entry, names)
    back, fore = _scale(entry) if _has_scale(entry) else (_rise(entry), None)
    rise = back.written.value - (0.0 if fore is None else fore.written.value)
    if abs(rise) > HIGHEST_SHOT:
        what = f"{rise:.1f} m is no rise from one end of a hose to the other; write less than 30 m"
        raise entry.wrong(back.column, what)
    readings = 2  # a rise was reckoned from two as well
    error = math.sqrt(readings * (READING_ERROR**2 + back.written.step**2 / 12.0))
    difference = Difference(start, end, rise, error, "hose", entry.row, _distance(entry))
    return Leg(difference, back, fore, 0, Run(entry.row.file, number))


def _has_scale(entry: Entry) -> bool:
    return "from_reading" in entry.units


def _scale(entry: Entry) -> tuple[Sight, Sight]:
    back, fore = (_reading(entry, column) for column in ("from_reading", "to_reading"))
    for column in ("rise", "fall"):
        own = entry.length(column)
        ours = (back.written.value - fore.written.value) * (1.0 if column == "rise" else -1.0)
        if own is not None and abs(own.value - ours) > 0.5 * own.step + 1e-6:
            what = f"{own.shown} does not follow from the readings, which make it {own.like(ours)}"
            raise entry.wrong(column, f"{what}; look which of them is wrong")
    return back, fore


def _reading(entry: Entry, column: str) -> Sight:
    written = entry.length(column)
    if written is None:
        raise entry.wrong(column, "it is empty; write what was read on the scale there")
    if not 0.0 <= written.value <= LONGEST_SCALE:
        what = f"{written.shown} can't be read at the end of a hose; write 0 to {LONGEST_SCALE:g} m"
        raise entry.wrong(column, what)
    return Sight(entry.row, column, written)


def _rise(entry: Entry) -> Sight:
    rise, fall = entry.length("rise"), entry.length("fall")
    if rise is not None and (fall is None or fall.value == 0.0):
        return Sight(entry.row, "rise", rise)
    if fall is not None and (rise is None or rise.value == 0.0):
        less = Written(-fall.value, fall.step, fall.text, fall.unit)
        return Sight(entry.row, "fall", less)
    if rise is None:
        column = "rise" if "rise" in entry.units else "fall"
        raise entry.wrong(column, "the shot has no reading; write how much it rises or falls")
    what = (
        "rise and fall (up and down) are both filled in; keep the one that is, or name readings of "
        "two scales from_reading and to_reading"
    )
    raise entry.wrong("fall", what)


def _distance(entry: Entry) -> float:
    written = entry.length("distance")
    if written is None:
        return math.nan
    if not 0.0 <= written.value <= LONGEST_HOSE:
        what = f"{written.shown} is no length of a hose; write one up to {LONGEST_HOSE:g} m"
        raise entry.wrong("distance", what)
    return written.value
