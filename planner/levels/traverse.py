"""A traverse by tape and clinometer to differences, and to places where bearings tell them.

The clinometer (an Abney or hand level with an arc) is held at eye height and aimed at a mark at
eye height. An example, tape in m, angle in degrees and minutes::

    from, to, slope_distance, angle, bearing
    Spring, 1, 31.40, -4° 30', 112
    1, 2, 28.75, -6.5, 118
"""

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from pyproj import Geod

from planner.errors import UnitError
from planner.levels.entry import Entry, Written
from planner.levels.hose import shot_ends
from planner.levels.leg import Leg, LonLat, Place, Reduced, Run, Sight
from planner.levels.names import StationNames
from planner.levels.value import Difference, Row
from planner.units.parse import parse, quoted

# An Abney or hand level reads to 5 to 10 minutes (hydraulics notes, section 6 [GK-m]).
ANGLE_ERROR = math.radians(7.5 / 60.0)
LONGEST_SHOT = 500.0  # m, beyond what is taped or seen through a hand level
OTHER = "horizontal_distance"
STEEPEST_GRADE = 10.0  # 1000 %: steeper is written as an angle
EARTH = Geod(ellps="WGS84")

_DEGREES = re.compile(
    r"(?P<sign>[+−-]?)\s*(?P<degrees>[0-9]{1,4})\s*(?:°|deg|d|\s)\s*"
    r"(?P<minutes>[0-9]{1,2}(?:[.,][0-9]{1,6})?)\s*(?:'|′|’|min|m)?"
    r"(?:\s*(?P<seconds>[0-9]{1,2})\s*(?:\"|″|”|''|s))?",
    re.IGNORECASE,
)
_PLAIN_DEGREES = re.compile(r"(?P<number>[+−-]?\s*[0-9.,]+)\s*(?:°|deg|degrees?)?", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Course:
    """Where one station lies from another: bearing from true north [degrees], distance [m]."""

    start: str
    end: str
    bearing: float
    distance: float
    row: Row


def read_traverse(entries: Iterable[Entry], names: StationNames) -> tuple[Reduced, list[Course]]:
    """One difference for each shot, and the courses of those with a bearing.

    Raises
    ------
    InputError
        A shot has no distance or angle, one that can't be, or leads nowhere.
    """
    legs, courses, places = [], [], []
    for number, entry in enumerate(entries, start=1):
        if not set(entry.cells) - {"remark"}:
            continue
        leg, flat = _leg(number, entry, names)
        legs.append(leg)
        if (at := entry.place()) is not None:
            places.append(Place(leg.difference.end, at, entry.row))
        if "bearing" in entry.cells:
            shot = leg.difference
            bearing = _bearing(entry)
            courses.append(Course(shot.start, shot.end, bearing, flat, entry.row))
    return Reduced(tuple(legs), places=tuple(places)), courses


def placed(courses: Iterable[Course], known: Mapping[str, LonLat]) -> list[Place]:
    """Places of stations that courses lead to from one whose place is known, either way.

    Parameters
    ----------
    courses : iterable of Course
    known : mapping of str to (lon, lat)
        [degrees]
    """
    at, found, left = dict(known), [], list(courses)
    moved = True
    while moved:
        moved, waiting = False, []
        for course in left:
            ends = (course.start, course.end, course.bearing)
            if course.start not in at:
                ends = (course.end, course.start, course.bearing + 180.0)
            start, end, bearing = ends
            if start not in at:
                waiting.append(course)
            elif end not in at:
                lon, lat, _ = EARTH.fwd(*at[start], bearing, course.distance)
                at[end] = (float(lon), float(lat))
                found.append(Place(end, at[end], course.row))
                moved = True
        left = waiting
    return found


def _leg(number: int, entry: Entry, names: StationNames) -> tuple[Leg, float]:
    """A shot's difference and its horizontal distance."""
    start, end = shot_ends(entry, names)
    steepness = _steepness(entry)
    column = "slope_distance"
    if column not in entry.units or (column not in entry.cells and OTHER in entry.cells):
        column = OTHER
    far = entry.length(column)
    if far is None:
        raise entry.wrong(column, "it is empty; write the taped distance")
    if not 0.0 < far.value <= LONGEST_SHOT:
        what = f"{far.shown} is no taped distance; write one up to {LONGEST_SHOT:g} m"
        raise entry.wrong(column, what)
    if column == "horizontal_distance":
        if abs(steepness) > math.atan(STEEPEST_GRADE):
            what = "a horizontal distance tells no rise along so steep a shot; tape the slope"
            raise entry.wrong(column, what)
        flat, rise = far.value, far.value * math.tan(steepness)
    else:
        flat, rise = far.value * math.cos(steepness), far.value * math.sin(steepness)
    error = max(flat, 0.1 * far.value) * ANGLE_ERROR
    difference = Difference(start, end, rise, error, "traverse", entry.row, far.value)
    angle = "grade" if "grade" in entry.cells else "angle"
    as_rise = Written(rise, 0.01, entry.cells[angle], "meter")
    return Leg(
        difference, Sight(entry.row, angle, as_rise), None, 0, Run(entry.row.file, number)
    ), flat


def _steepness(entry: Entry) -> float:
    """The angle of a shot above the horizontal [radians]."""
    if "grade" in entry.cells:
        if "angle" in entry.cells:
            raise entry.wrong("grade", "angle and grade are both filled in; keep one of them")
        return math.atan(_grade(entry, entry.cells["grade"]))
    if "angle" not in entry.cells:
        column = "angle" if "angle" in entry.units else "grade"
        raise entry.wrong(column, "it is empty; write what the clinometer read, 0 where level")
    text = entry.cells["angle"]
    if "%" in text:
        return math.atan(_grade(entry, text))
    degrees = _degrees(entry, "angle", text)
    if abs(degrees) > 90.0:
        what = f"{quoted(text)} is more than 90°; write the angle above (+) or below (−) the level"
        raise entry.wrong("angle", what)
    return math.radians(degrees)


def _grade(entry: Entry, text: str) -> float:
    """Rise over run from a text; a bare number is in percent."""
    bare = re.fullmatch(r"[+−-]?[0-9.,]+", text) is not None
    try:
        plain = entry.plain(text)
        grade = parse(f"{plain} %" if bare else plain, "ratio")
    except UnitError as error:
        raise entry.wrong("grade", error.message) from error
    if abs(grade) > STEEPEST_GRADE:
        what = f"{quoted(text)} is steeper than 1000 %; write the angle in degrees instead"
        raise entry.wrong("grade", what)
    return grade


def _bearing(entry: Entry) -> float:
    degrees = _degrees(entry, "bearing", entry.cells["bearing"])
    if not 0.0 <= degrees <= 360.0:
        what = f"{quoted(entry.cells['bearing'])} is no bearing; write 0 to 360 degrees from north"
        raise entry.wrong("bearing", what)
    return degrees


def _degrees(entry: Entry, column: str, text: str) -> float:
    parts = _DEGREES.fullmatch(text)
    if parts is not None:
        minutes = float(parts["minutes"].replace(",", ".")) + int(parts["seconds"] or 0) / 60.0
        if minutes >= 60.0:
            raise entry.wrong(column, f"{quoted(text)} has 60 minutes or more; write less")
        size = float(parts["degrees"]) + minutes / 60.0
        return -size if parts["sign"] in ("-", "−") else size
    plain = _PLAIN_DEGREES.fullmatch(text)
    if plain is None:
        what = f"{quoted(text)} is no angle; write degrees, such as -4.5 or -4° 30'"
        raise entry.wrong(column, what)
    return entry.number(column, plain["number"].replace(" ", ""))
