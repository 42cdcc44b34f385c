"""Where the stations of a network stand on the elevation data."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from planner.errors import InputError
from planner.levels.network import IntArray, Network, is_datum
from planner.levels.value import FloatArray, Readings, Row
from planner.terrain.frame import to_local
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from planner.units.parse import quoted
from planner.units.show import System, show

XY = tuple[float, float]
SAME_PLACE = 50.0  # m; a handheld set is not that far off (setting)
FAR = 3000.0  # m from all of the sketch: no site of one water line is so wide (setting)
MOST_NAMED = 8


@dataclass(frozen=True, eq=False, slots=True)
class Sited:
    """The stations whose ground the elevation data hold.

    Attributes
    ----------
    index : (n,) ndarray
        Which of the network's stations they are.
    xy : (n, 2) ndarray
        [m]
    model : (n,) ndarray
        Levels of the elevation data there [m].
    notes : tuple of str
        On stations that are not among them.
    """

    index: IntArray
    xy: FloatArray
    model: FloatArray
    notes: tuple[str, ...]


def site_stations(
    net: Network, readings: Readings, terrain: Terrain, places: Mapping[str, XY], units: System
) -> Sited:
    """The stations of a network on a terrain.

    Parameters
    ----------
    places : mapping of str to (float, float)
        x, y [m] of points of the sketch and of stakes; case does not count.
    units : {"metric", "us"}
        Of messages.

    Raises
    ------
    InputError
        A station has no place and was not just passed through, or stands outside the elevation
        data or far from the site, or in two places.
    """
    rows = _rows(net)
    known = {name.casefold(): at for name, at in places.items()}
    found: dict[int, XY] = {}
    for number, name in enumerate(net.names):
        if is_datum(name):
            continue
        at = _place(name, rows[number], known, readings, terrain, units)
        if at is not None:
            _check_near(name, rows[number], at, known, terrain, units)
            found[number] = at
    notes = _passed(net, rows, set(found))
    xy = np.array(list(found.values()), dtype=np.float64).reshape(-1, 2)
    model = ground_at(terrain, xy[:, 0], xy[:, 1])
    index = np.array(list(found), dtype=np.int64)
    void = [net.names[number] for number in index[np.isnan(model)]]
    if void:
        notes = (
            *notes,
            f"{_named(void)}: the elevation data has a hole there, which levels alone do not fill",
        )
    held = np.isfinite(model)
    sited = Sited(index[held], xy[held], model[held], notes)
    _check_groups(net, rows, sited)
    return sited


def _rows(net: Network) -> dict[int, Row]:
    """The first row that names each station."""
    rows: dict[int, Row] = {}
    for start, end, one in zip(net.start, net.end, net.read, strict=True):
        rows.setdefault(int(start), one.row)
        rows.setdefault(int(end), one.row)
    return rows


def _place(
    name: str,
    row: Row,
    known: Mapping[str, XY],
    readings: Readings,
    terrain: Terrain,
    units: System,
) -> XY | None:
    own = known.get(name.casefold())
    lonlat = readings.places.get(name)
    if lonlat is None:
        return own
    x, y = (float(value) for value in to_local(terrain, [lonlat])[0])
    if own is None:
        return x, y
    apart = math.dist(own, (x, y))
    if not apart <= SAME_PLACE:
        msg = (
            f"{row}: {quoted(name)} is read {show(apart, 'distance', units)} from where the sketch "
            "or the stake list has it; put its lon and lat right, or give it another name"
        )
        raise InputError(msg)
    return own


def _check_near(
    name: str, row: Row, at: XY, known: Mapping[str, XY], terrain: Terrain, units: System
) -> None:
    west, south, east, north = terrain.bounds
    out = math.hypot(max(west - at[0], 0.0, at[0] - east), max(south - at[1], 0.0, at[1] - north))
    if not out <= 0.0:
        msg = (
            f"{row}: {quoted(name)} stands {show(out, 'distance', units)} outside the elevation "
            "data; put its place right (lon and lat may be exchanged), or give elevation data that "
            "reaches there"
        )
        raise InputError(msg)
    off = min((math.dist(at, other) for other in known.values()), default=0.0)
    if off > FAR:
        msg = (
            f"{row}: {quoted(name)} stands {show(off, 'distance', units)} from the nearest point "
            "of the sketch; put its place right, or leave it out"
        )
        raise InputError(msg)


def _passed(net: Network, rows: Mapping[int, Row], placed: set[int]) -> tuple[str, ...]:
    """A note on stations without a place: passed through, begun at, or marks of a list.

    Raises
    ------
    InputError
        One was read, and nothing was read from it.
    """
    beside: dict[int, set[int]] = {}
    ends = {int(end) for end, one in zip(net.end, net.read, strict=True) if one.method != "known"}
    for start, end in zip(net.start, net.end, strict=True):
        beside.setdefault(int(start), set()).add(int(end))
        beside.setdefault(int(end), set()).add(int(start))
    through = []
    for number, name in enumerate(net.names):
        if number in placed or is_datum(name):
            continue
        if len(beside[number]) < 2 and number in ends:
            raise _placeless(name, rows[number])
        through.append(name)
    if not through:
        return ()
    return (f"{_named(through)}: no place is known, so levels were only carried through there",)


def _placeless(name: str, row: Row) -> InputError:
    return InputError(
        f"{row}: it is not known where {quoted(name)} stands; write the name of a point of the "
        "sketch or of a stake, or its place in columns lon and lat"
    )


def _check_groups(net: Network, rows: Mapping[int, Row], sited: Sited) -> None:
    """That the elevation data tell the level of something in each group."""
    group = net.group()
    held = set(group[sited.index].tolist())
    for number, name in enumerate(net.names):
        if int(group[number]) not in held and not is_datum(name):
            raise _placeless(name, rows[number])


def _named(names: list[str]) -> str:
    told = ", ".join(names[:MOST_NAMED])
    return told if len(names) <= MOST_NAMED else f"{told} and {len(names) - MOST_NAMED} more"
