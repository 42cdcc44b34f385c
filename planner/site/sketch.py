"""The sketch from its features: each gets a role and a name of its own, or a clear refusal."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from typing import Any

import shapely
from pydantic import ValidationError
from pyproj import CRS, Geod
from shapely.errors import ShapelyError
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Dot
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.defaults import CROSSING_COST
from planner.site.feature import Collection, Feature
from planner.site.file import AreaSaid, AreaTable, CrossingSaid, PointSaid, SketchTable
from planner.site.lonlat import to_lonlat
from planner.site.message import sentence
from planner.site.outline import outline
from planner.site.path import LINES, paths
from planner.site.value import Area, AreaRole, Crossing, Gallon, Point, PointRole, Sketch
from planner.site.words import area_roles, clean_name, is_crossing, point_roles
from planner.units.parse import quoted

MOST_POINTS = 1_000
SAME_PLACE = 1e-6  # degrees, some 0.1 m
FARTHEST = 50_000.0  # m from the first point to any other; no line of this kind is as long
EARTH = Geod(ellps="WGS84")
AREA_ROLES = ("avoid", "costly", "stay", "owner")

About = PointSaid | AreaSaid | CrossingSaid


@dataclass(frozen=True, slots=True)
class Said:
    """A feature whose attributes are checked: shape in its own coordinates."""

    shape: BaseGeometry
    about: About
    place: str


def written_here(table: SketchTable) -> list[Said]:
    """Points, areas and lines to cross written in the site file itself.

    Raises
    ------
    SketchError
        An outline can't be read.
    """
    points = [
        Said(Dot(point.at), point, _called(f"sketch.points no. {n}", point.name))
        for n, point in enumerate(table.points, start=1)
    ]
    areas = []
    for number, area in enumerate(table.areas, start=1):
        place = _called(f"sketch.areas no. {number}", area.name)
        areas.append(Said(_drawn(area, place), area, place))
    crossings = [
        Said(
            LineString(crossing.path),
            crossing,
            _called(f"sketch.crossings no. {n}", crossing.name),
        )
        for n, crossing in enumerate(table.crossings, start=1)
    ]
    return [*points, *areas, *crossings]


def from_file(collection: Collection, gallon: Gallon | None) -> tuple[list[Said], list[str]]:
    """Points, areas and lines to cross of a file, and the names of what else it holds.

    Raises
    ------
    SketchError
        An attribute can't be used.
    """
    kept: list[Said] = []
    ignored: list[str] = []
    for feature in collection.features:
        said = understood(feature, gallon)
        if said is None:
            ignored.append(str(feature.said.get("name") or feature.place)[:80])
        else:
            kept.append(said)
    return kept, ignored


def make_sketch(
    parts: Sequence[tuple[Sequence[Said], CRS | None]], ignored: Sequence[str] = ()
) -> Sketch:
    """The sketch of one or several parts, each with its coordinate system.

    Raises
    ------
    SketchError
        Names or places repeat, a role can't be told, a place is not on the Earth or far from the
        others, or an outline crosses itself.
    """
    points: list[Point] = []
    areas: list[Area] = []
    crossings: list[Crossing] = []
    swapped = False
    for saids, crs in parts:
        shapes, exchanged = to_lonlat(
            [said.shape for said in saids], crs, [said.place for said in saids]
        )
        swapped = swapped or exchanged
        for said, shape in zip(saids, shapes, strict=True):
            if isinstance(said.about, PointSaid):
                points.append(_point(said.about, shape, said.place))
            elif isinstance(said.about, CrossingSaid):
                crossings += _crossings(said.about, shape, said.place)
            else:
                areas.append(_area(said.about, shape, said.place))
    named = _named(points)
    _refuse_repeats(named)
    _refuse_far_apart(named)
    return Sketch(tuple(named), tuple(areas), swapped, tuple(ignored), tuple(crossings))


def _called(place: str, name: str | None) -> str:
    return place if not name else f"{place} ({quoted(name)})"


def _drawn(area: AreaTable, place: str) -> BaseGeometry:
    try:
        if area.ring is not None:
            return Polygon(area.ring)
        return shapely.from_wkt(area.wkt)
    except (ShapelyError, ValueError) as error:
        msg = f"{place}: its outline can't be read; give three corners or more, each [lon, lat]"
        raise SketchError(msg) from error


def understood(feature: Feature, gallon: Gallon | None) -> Said | None:
    """What a feature says of itself; None where neither a role nor its name tells what it is.

    Raises
    ------
    SketchError
        An attribute can't be used.
    """
    about = _about(feature, gallon)
    if about is None:
        return None
    return Said(feature.shape, about, _called(feature.place, about.name))


def _about(feature: Feature, gallon: Gallon | None) -> About | None:
    name = str(feature.said.get("name", ""))
    role = str(feature.said.get("role", "")).strip().lower()
    kind = _kind(feature.shape.geom_type, role, name)
    if kind is None:
        return None
    said: dict[str, Any] = {
        key: _plain(key, value) for key, value in feature.said.items() if key in kind.model_fields
    }
    said |= {key: word for key, word in (("role", role), ("name", name)) if word}
    try:
        return kind.model_validate(said, context={"gallon": gallon})
    except ValidationError as error:
        msg = f"{feature.place}: {sentence(error)}"
        raise SketchError(msg) from error


def _kind(geometry: str, role: str, name: str) -> type[About] | None:
    """What a feature is, by its role or else its name; None where neither tells."""
    if geometry in ("Point", "MultiPoint"):
        return PointSaid if role or point_roles(name) else None
    if geometry in LINES and role == "crossing":
        return CrossingSaid
    if geometry in LINES and role not in AREA_ROLES and not area_roles(name):
        return CrossingSaid if not role and is_crossing(name) else None
    return AreaSaid if role or area_roles(name) else None


def _plain(key: str, value: Any) -> Any:
    """An attribute as the site file would hold it: a table's numbers may come as text."""
    if key == "factor":
        with suppress(TypeError, ValueError):
            return float(value)
    return value


def _point(about: PointSaid, shape: BaseGeometry, place: str) -> Point:
    parts = shapely.get_parts(shape)
    if len(parts) != 1:
        msg = f"{place}: a point needs one place, not {len(parts)}; give each its own"
        raise SketchError(msg)
    name = clean_name(about.name or "", place)
    role: PointRole = about.role or _told(point_roles(name), name, place, "tank")
    if about.line is not None and role != "way":
        msg = f"{place}: only a way point has a line; leave line = {quoted(about.line)} out"
        raise SketchError(msg)
    return Point(
        name,
        role,
        (float(parts[0].x), float(parts[0].y)),
        about.line,
        about.height or 0.0,
        about.flow,
    )


def _area(about: AreaSaid, shape: BaseGeometry, place: str) -> Area:
    name = clean_name(about.name or "", place)
    role: AreaRole = about.role or _told(area_roles(name), name, place, "avoid")
    factor = 1.0 if about.factor is None else about.factor
    return Area(
        name or role, role, outline(shape, place), factor, about.deepest_trench, about.ground
    )


def _crossings(about: CrossingSaid, shape: BaseGeometry, place: str) -> list[Crossing]:
    name = clean_name(about.name or "", place) or "crossing"
    cost = CROSSING_COST if about.cost is None else about.cost
    return [Crossing(name, path, cost) for path in paths(shape, place)]


def _told(roles: set[str], name: str, place: str, example: str) -> Any:
    if len(roles) == 1:
        return next(iter(roles))
    reason = f"speaks of {' and '.join(sorted(roles))}" if roles else "does not tell what it is"
    remedy = f'give it a role, such as role = "{example}"'
    msg = f"{place}: the name {quoted(name)} {reason}; {remedy}"
    raise SketchError(msg)


def _named(points: list[Point]) -> list[Point]:
    """Points without a name are called after their role, with a number where it is needed."""
    taken = {point.name.casefold() for point in points}
    named = []
    for point in points:
        name, number = point.name or point.role, 1
        while not point.name and name.casefold() in taken:
            number += 1
            name = f"{point.role} {number}"
        taken.add(name.casefold())
        named.append(replace(point, name=name))
    return named


def _refuse_repeats(points: list[Point]) -> None:
    if len(points) > MOST_POINTS:
        msg = f"the sketch has {len(points):,} points; keep at most {MOST_POINTS:,}"
        raise SketchError(msg)
    names: dict[str, Point] = {}
    places: dict[tuple[str, int, int], Point] = {}
    for point in points:
        other = names.setdefault(point.name.casefold(), point)
        if other is not point:
            msg = (
                f"two points are called {quoted(point.name)} ({other.role} at {_at(other)} and "
                f"{point.role} at {_at(point)}); give each a name of its own"
            )
            raise SketchError(msg)
        other = places.setdefault(_spot(point), point)
        if other is not point:
            msg = (
                f"the points {quoted(other.name)} and {quoted(point.name)} have one role, "
                f"{point.role}, and one place, {_at(point)}; move or remove one"
            )
            raise SketchError(msg)


def same_place(one: Point, other: Point) -> bool:
    """Whether two points have one role and one place."""
    return _spot(one) == _spot(other)


def _spot(point: Point) -> tuple[str, int, int]:
    return point.role, round(point.at[0] / SAME_PLACE), round(point.at[1] / SAME_PLACE)


def _refuse_far_apart(points: list[Point]) -> None:
    for point in points[1:]:
        distance = EARTH.inv(*points[0].at, *point.at)[2]
        if distance > FARTHEST:
            msg = (
                f"the point {quoted(point.name)} at {_at(point)} lies {distance / 1000.0:,.0f} km "
                f"from {quoted(points[0].name)} at {_at(points[0])}; check the coordinates of "
                "both, longitude comes first"
            )
            raise SketchError(msg)


def _at(point: Point) -> str:
    return f"{point.at[0]:.6f}, {point.at[1]:.6f}"


def refuse_missing(sketch: Sketch) -> None:
    """Refuse a sketch that lacks what every plan needs: a source, and a tank or an outlet.

    Raises
    ------
    SketchError
        The message says what to add.
    """
    roles = {point.role for point in sketch.points}
    if "source" not in roles:
        missing = 'no source; add a point with role = "source" where the spring or intake is'
    elif not roles & {"tank", "outlet"}:
        missing = 'no tank and no outlet; add a point with role = "tank" or "outlet"'
    else:
        return
    known = ", ".join(quoted(name) for name in sketch.ignored[:5])
    hint = f" (not understood: {known})" if known else ""
    msg = f"the sketch has {missing}{hint}"
    raise SketchError(msg)
