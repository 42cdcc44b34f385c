"""Known points: bench marks, and what a surveyor left.

An example, in m::

station, level, error, lon, lat
BM 14, 412.386, 0.005, 11.2041, 46.6120
"""

from collections.abc import Iterable

from planner.errors import InputError
from planner.levels.entry import Entry
from planner.levels.leg import Place, Reduced
from planner.levels.names import StationNames, shown
from planner.levels.value import Known

# Where none is told: levels of marks are commonly handed on to the centimetre (setting).
KNOWN_ERROR = 0.01  # m
LEAST_ERROR = 0.001  # m; no mark is surer than a millimetre
LARGEST_ERROR = 50.0  # m
LOWEST, HIGHEST = -1000.0, 9000.0  # m; land on the Earth


def read_known(entries: Iterable[Entry], names: StationNames) -> Reduced:
    """The levels of known points.

    Raises
    ------
    InputError
        A level is missing or can't be, or a station is there twice with two levels.
    """
    told = [entry for entry in entries if set(entry.cells) - {"remark"}]
    knowns: dict[str, Known] = {}
    for known in (_known(entry, names) for entry in told):
        before = knowns.setdefault(known.station, known)
        if before.level != known.level:
            msg = (
                f"{known.row}: {shown(known.station)} has the level {known.level:.3f} m, but "
                f"{before.level:.3f} m at {before.row}; keep the right one"
            )
            raise InputError(msg)
    places = tuple(
        Place(entry.station(names), at, entry.row)
        for entry in told
        if (at := entry.place()) is not None
    )
    return Reduced(knowns=tuple(knowns.values()), places=places)


def _known(entry: Entry, names: StationNames) -> Known:
    station = entry.station(names)
    level, error = entry.length("level"), entry.length("error")
    if level is None:
        raise entry.wrong("level", f"it is empty; write the level of {shown(station)}")
    if not LOWEST <= level.value <= HIGHEST:
        what = f"{level.shown} is no level on the Earth; write one from −1000 to 9000 m"
        raise entry.wrong("level", what)
    if error is not None and not 0.0 <= error.value <= LARGEST_ERROR:
        what = f"{error.shown} is no standard error of a level; write one from 0 to 50 m"
        raise entry.wrong("error", what)
    size = KNOWN_ERROR if error is None else max(error.value, LEAST_ERROR)
    return Known(station, level.value, size, entry.row)
