"""What edits do to the points of a drawing: each gives the features as they are afterwards."""

import math
from collections.abc import Iterable

from planner.errors import SketchError
from planner.site.edits.drawing import Drawing, Json, said_of, telling
from planner.site.edits.names import free_name
from planner.site.edits.value import (
    AddPoint,
    DeletePoint,
    LonLat,
    MovePoint,
    RenamePoint,
    SetPoint,
)
from planner.site.value import Point, PointRole
from planner.site.words import clean_name, point_roles
from planner.units.parse import quoted

DECIMALS = 7  # of a degree, 1 cm on the ground
POINT_KEYS = ("height", "flow")
CALLED: dict[PointRole, str] = {
    "source": "Source",
    "chamber": "Chamber",
    "pump": "Ram",
    "tank": "Tank",
    "outlet": "Outlet",
    "way": "Way point",
}
"""Names of points that are given none."""


def add_point(drawing: Drawing, edit: AddPoint, *, powered: bool = False) -> list[Json]:
    """The features with a new point; a way point stands before the next along its line.

    Parameters
    ----------
    powered : bool
        The machine is a pump, not a ram, and is called so.

    Raises
    ------
    SketchError
        Its place is none on the Earth, its name is taken, or its line is not told.
    """
    taken = [point.name for point in drawing.sketch.points]
    usual = "Pump" if powered and edit.role == "pump" else CALLED[edit.role]
    name = clean_name(edit.name or "", "the new point") or free_name(usual, taken)
    _refuse_taken(name, drawing.sketch.points)
    if (edit.role == "way") != (edit.line is not None):
        msg = (
            f"{quoted(name)}: a way point needs the line that it lies on, such as delivery, and "
            "no other point has one"
        )
        raise SketchError(msg)
    said = {"name": name, "role": edit.role, "line": edit.line}
    feature = {
        "type": "Feature",
        "properties": {key: value for key, value in said.items() if value is not None},
        "geometry": at(edit.at, name),
    }
    features = list(drawing.features)
    features.insert(_before(drawing, edit), feature)
    return features


def move_point(drawing: Drawing, edit: MovePoint) -> list[Json]:
    """The features with one point elsewhere.

    Raises
    ------
    SketchError
        There is no such point, or its place is none on the Earth.
    """
    number, point = found(drawing, edit.name)
    feature = {**drawing.features[number], "geometry": at(edit.at, point.name)}
    return _with(drawing, number, feature)


def rename_point(drawing: Drawing, edit: RenamePoint) -> list[Json]:
    """The features with one point called otherwise; what it is stays, though the old name told it.

    Raises
    ------
    SketchError
        There is no such point, or the name is empty, too long or taken.
    """
    number, point = found(drawing, edit.name)
    name = clean_name(edit.to, quoted(point.name))
    if not name:
        msg = f"the point {quoted(point.name)} needs a name; write one of its own"
        raise SketchError(msg)
    _refuse_taken(name, (one for one in drawing.sketch.points if one is not point))
    return _with(drawing, number, _plainly(drawing.features[number], point, name))


def set_point(drawing: Drawing, edit: SetPoint) -> list[Json]:
    """The features with what is told of one point changed.

    Raises
    ------
    SketchError
        There is no such point, or nothing of the kind can be told of it.
    """
    number, _ = found(drawing, edit.name)
    if edit.key not in POINT_KEYS:
        msg = f"{quoted(edit.key)} is not told of a point; give its {' or its '.join(POINT_KEYS)}"
        raise SketchError(msg)
    value = edit.value if edit.value and edit.value.strip() else None
    return _with(drawing, number, telling(drawing.features[number], **{edit.key: value}))


def delete_point(drawing: Drawing, edit: DeletePoint) -> list[Json]:
    """The features without one point.

    Raises
    ------
    SketchError
        There is no such point.
    """
    number, _ = found(drawing, edit.name)
    return [feature for n, feature in enumerate(drawing.features) if n != number]


def found(drawing: Drawing, name: str) -> tuple[int, Point]:
    """Which feature a point is, and the point.

    Raises
    ------
    SketchError
        There is none of that name.
    """
    for number, point in zip(drawing.points, drawing.sketch.points, strict=True):
        if point.name.casefold() == name.casefold():
            return number, point
    known = ", ".join(quoted(point.name) for point in drawing.sketch.points[:10]) or "none"
    msg = f"there is no point called {quoted(name)}; the points are {known}"
    raise SketchError(msg)


def at(lonlat: LonLat, name: str) -> Json:
    """A place as a GeoJSON geometry.

    Raises
    ------
    SketchError
        It is none on the Earth.
    """
    return {"type": "Point", "coordinates": on_earth(lonlat, quoted(name))}


def on_earth(lonlat: LonLat, place: str) -> list[float]:
    """Longitude, latitude, to the centimetre.

    Raises
    ------
    SketchError
        They are no numbers, or none on the Earth; the message begins with `place`.
    """
    lon, lat = float(lonlat[0]), float(lonlat[1])
    if not (math.isfinite(lon) and math.isfinite(lat) and abs(lon) <= 180.0 and abs(lat) <= 90.0):
        msg = (
            f"{place}: {lon:.10g}, {lat:.10g} is no longitude and latitude in degrees; give a "
            "place on the plan"
        )
        raise SketchError(msg)
    return [round(lon, DECIMALS), round(lat, DECIMALS)]


def _with(drawing: Drawing, number: int, feature: Json) -> list[Json]:
    features = list(drawing.features)
    features[number] = feature
    return features


def _plainly(feature: Json, point: Point, name: str) -> Json:
    """The feature under a new name, with its role where the old name alone told it."""
    if said_of(feature, "role") is None and point_roles(name) != {point.role}:
        return telling(feature, name=name, role=point.role)
    return telling(feature, name=name)


def _refuse_taken(name: str, points: Iterable[Point]) -> None:
    other = next((one for one in points if one.name.casefold() == name.casefold()), None)
    if other is not None:
        msg = f"a point is called {quoted(other.name)} already; give this one a name of its own"
        raise SketchError(msg)


def _before(drawing: Drawing, edit: AddPoint) -> int:
    """Where in the features the new point stands."""
    if edit.before is None:
        return len(drawing.features)
    number, point = found(drawing, edit.before)
    if point.role != "way" or point.line != edit.line:
        msg = f"{quoted(point.name)} is no way point of that line; name the one that comes next"
        raise SketchError(msg)
    return number
