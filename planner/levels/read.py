"""Files of readings from the field to differences in level: the one door into this floor.

What each header means, with an example of every kind, is told in `header` and in the module of
the kind.
"""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from pyproj import Geod

from planner.errors import InputError
from planner.levels.barometer import read_barometer
from planner.levels.book import read_book
from planner.levels.closing import closures
from planner.levels.entry import Written, entries
from planner.levels.gps import Track, is_gpx, read_gpx, taken_from
from planner.levels.header import read_header
from planner.levels.hose import read_hose
from planner.levels.known import read_known
from planner.levels.leg import Leg, LonLat, Place, Reduced, Run, Sight, Start
from planner.levels.names import StationNames, shown
from planner.levels.table import MOST_ROWS, read_table, shown_name
from planner.levels.traverse import Course, placed, read_traverse
from planner.levels.value import Difference, Known, Readings
from planner.site.field import LengthUnit
from planner.units.parse import quoted

MOST_FILES = 100
SAME_PLACE = 10.0  # m: two handheld sets at one station differ by no more (setting)
EARTH = Geod(ellps="WGS84")


def read_levels(
    files: Sequence[Path], *, unit: LengthUnit, stakes: Collection[str] = ()
) -> Readings:
    """All that files of readings hold, reduced.

    Parameters
    ----------
    files : sequence of Path
        CSV in UTF-8, each of one kind, told by its header; a GPX file tells places alone.
    unit : {"m", "ft"}
        Of lengths that carry none, in their cell or in the header.
    stakes : collection of str
        Names of the stakes that went to the field; a mapping of them to (lon, lat) [degrees] lets
        a traverse tell the places of stations beside them.

    Returns
    -------
    Readings
        In m and degrees; a station has one name throughout.

    Raises
    ------
    InputError
        A file or a reading can't be used; the message names the file and the line.
    """
    if len(files) > MOST_FILES:
        msg = f"{len(files)} files of levels were given; give at most {MOST_FILES}"
        raise InputError(msg)
    paths = [Path(one) for one in files]
    names = StationNames(stakes)
    reduced: list[Reduced] = []
    courses: list[Course] = []
    tracks: list[Track] = []
    for path, name in zip(paths, _names_of(paths), strict=True):
        if is_gpx(path):
            tracks.append(read_gpx(path, name))
            continue
        own, ways = _read(path, name, unit, names)
        reduced.append(own)
        courses += ways
    return _together(reduced, courses, tracks, names, stakes, unit)


def _names_of(paths: Sequence[Path]) -> list[str]:
    """A name for each file that no other has."""
    for index, path in enumerate(paths):
        if path in paths[:index]:
            msg = f"{shown_name(path.name)} is given twice; its readings would count twice"
            raise InputError(msg)
    own = [path.name for path in paths]
    longer = [f"{path.parent.name}/{path.name}" for path in paths]
    return [long if own.count(name) > 1 else name for name, long in zip(own, longer, strict=True)]


def _read(
    path: Path, name: str, unit: LengthUnit, names: StationNames
) -> tuple[Reduced, list[Course]]:
    """What one table holds, and the courses of a traverse."""
    table = read_table(path, name)
    header = read_header(table)
    rows = entries(table, header, unit)
    courses: list[Course] = []
    match header.kind:
        case "level book":
            own = read_book(rows, names)
        case "hose level":
            own = read_hose(rows, names)
        case "traverse":
            own, courses = read_traverse(rows, names)
        case "barometer":
            own = read_barometer(rows, names)
        case "known points":
            own = read_known(rows, names)
    if not own.legs and not own.knowns:
        msg = f"{table.name} is a {header.kind} without readings; write a row for each"
        raise InputError(msg)
    notes = list(own.notes)
    if header.aside:
        told = ", ".join(quoted(said) for said in header.aside[:10])
        notes.append(f"{table.name}: columns that hold no readings were left aside: {told}")
    if courses:
        notes.append(f"{table.name}: bearings were taken as counted from true north")
    return replace(own, notes=tuple(notes)), courses


def _together(
    reduced: Sequence[Reduced],
    courses: Iterable[Course],
    tracks: Iterable[Track],
    names: StationNames,
    stakes: Collection[str],
    unit: LengthUnit,
) -> Readings:
    """The readings of all files as one."""
    legs = [leg for own in reduced for leg in own.legs]
    knowns = tuple(known for own in reduced for known in own.knowns)
    if len(legs) + len(knowns) > MOST_ROWS:
        msg = f"the files of levels hold more than {MOST_ROWS:,} readings; give those of one site"
        raise InputError(msg)
    stations = {name for leg in legs for name in (leg.difference.start, leg.difference.end)}
    stations |= {known.station for known in knowns}
    _check_starts(reduced, knowns, stakes)
    told = [place for own in reduced for place in own.places]
    notes = [note for own in reduced for note in own.notes]
    for track in tracks:
        places, note = taken_from(track, stations, names)
        told += places
        notes.append(note)
    at = _one_place_each(told)
    staked = dict(stakes) if isinstance(stakes, Mapping) else {}
    at |= {place.station: place.at for place in placed(courses, {**staked, **at})}
    closed, doubts = closures(legs, map(_from_datum, knowns), "us" if unit == "ft" else "metric")
    return Readings(
        differences=tuple(leg.difference for leg in legs),
        knowns=knowns,
        places=at,
        closures=closed,
        notes=(*names.notes, *notes, *doubts),
    )


def _check_starts(
    reduced: Sequence[Reduced], knowns: Iterable[Known], stakes: Collection[str]
) -> None:
    """That a run that begins anew in the middle of a book begins at a station known elsewhere."""
    known = {one.station for one in knowns} | set(stakes)
    for own in reduced:
        others = {
            name
            for other in reduced
            if other is not own
            for leg in other.legs
            for name in (leg.difference.start, leg.difference.end)
        }
        for start in own.starts:
            if start.station not in known | others:
                raise _gap(start)


def _gap(start: Start) -> InputError:
    return InputError(
        f"{start.row}: the book has a gap: {shown(start.station)} is sighted back, but no sight "
        "before leads to it; begin at a station sighted before, or at one of known level"
    )


def _one_place_each(told: Iterable[Place]) -> dict[str, LonLat]:
    """Where each station stands; the first row that says so is taken."""
    first: dict[str, Place] = {}
    for place in told:
        before = first.setdefault(place.station, place)
        apart = EARTH.inv(*before.at, *place.at)[2]
        if apart > SAME_PLACE:
            msg = (
                f"{place.row}: {shown(place.station)} stands {apart:,.0f} m from where "
                f"{before.row} has it; keep the right place, or give the two stations two names"
            )
            raise InputError(msg)
    return {name: place.at for name, place in first.items()}


def _from_datum(known: Known) -> Leg:
    """A known level as a leg from the datum of its file, which is no station."""
    datum = f"\0{known.row.file}"
    rise = Difference(datum, known.station, known.level, known.error, "known", known.row)
    written = Written(known.level, 0.001, "", "meter")
    return Leg(rise, Sight(known.row, "level", written), None, 0, Run(known.row.file, 0))
