"""What edits do to the areas of a drawing: each gives the features as they are afterwards."""

from planner.errors import SketchError
from planner.site.edits.drawing import Drawing, Json, said_of, telling
from planner.site.edits.points import on_earth
from planner.site.edits.value import AddArea, DeleteArea, LonLat, SetArea, ShapeArea
from planner.site.value import Area
from planner.site.words import area_roles, clean_name
from planner.units.parse import quoted

AREA_KEYS = ("name", "role", "factor", "deepest_trench", "ground")


def add_area(drawing: Drawing, edit: AddArea) -> list[Json]:
    """The features with a new area.

    Raises
    ------
    SketchError
        Its ring has less than three corners, or one that is no place on the Earth.
    """
    said = {"role": edit.role}
    name = clean_name(edit.name or "", "the new area")
    feature = {
        "type": "Feature",
        "properties": {"name": name, **said} if name else said,
        "geometry": {"type": "Polygon", "coordinates": [_closed(edit.ring, "the new area")]},
    }
    return [*drawing.features, feature]


def shape_area(drawing: Drawing, edit: ShapeArea) -> list[Json]:
    """The features with another outline of one area; holes in it stay.

    Raises
    ------
    SketchError
        There is no such area, it lies in several pieces, or the ring can't be.
    """
    number, area = _found(drawing, edit.area)
    if area.shape.geom_type != "Polygon":
        pieces = len(area.shape.geoms)
        if pieces > 1:
            msg = (
                f"the area {quoted(area.name)} lies in {pieces} pieces, which can't be given one "
                "outline; delete it and draw its pieces"
            )
            raise SketchError(msg)
    polygon = area.shape if area.shape.geom_type == "Polygon" else area.shape.geoms[0]
    holes = [[list(corner) for corner in hole.coords] for hole in polygon.interiors]
    rings = [_closed(edit.ring, f"the area {quoted(area.name)}"), *holes]
    feature = drawing.features[number]
    return _with(
        drawing, number, {**feature, "geometry": {"type": "Polygon", "coordinates": rings}}
    )


def set_area(drawing: Drawing, edit: SetArea) -> list[Json]:
    """The features with what is told of one area changed.

    Raises
    ------
    SketchError
        There is no such area, or nothing of the kind can be told of it.
    """
    number, area = _found(drawing, edit.area)
    if edit.key not in AREA_KEYS:
        msg = f"{quoted(edit.key)} is not told of an area; give its {', '.join(AREA_KEYS)}"
        raise SketchError(msg)
    value = edit.value
    if isinstance(value, str):
        value = clean_name(value, "the area") or None
    if edit.key == "role" and value is None:
        msg = f"the area {quoted(area.name)} needs a role; give avoid, costly, stay or owner"
        raise SketchError(msg)
    feature = telling(drawing.features[number], **{edit.key: value})
    told = area_roles(str(said_of(feature, "name") or ""))
    if said_of(feature, "role") is None and told != {area.role}:
        feature = telling(feature, role=area.role)
    return _with(drawing, number, feature)


def delete_area(drawing: Drawing, edit: DeleteArea) -> list[Json]:
    """The features without one area.

    Raises
    ------
    SketchError
        There is no such area.
    """
    number, _ = _found(drawing, edit.area)
    return [feature for n, feature in enumerate(drawing.features) if n != number]


def _found(drawing: Drawing, index: int) -> tuple[int, Area]:
    if not 0 <= index < len(drawing.areas):
        msg = f"there is no area no. {index + 1}; the sketch has {len(drawing.areas)}"
        raise SketchError(msg)
    return drawing.areas[index], drawing.sketch.areas[index]


def _closed(ring: tuple[LonLat, ...], place: str) -> list[list[float]]:
    corners = [on_earth(corner, place) for corner in ring]
    if corners and corners[0] == corners[-1]:
        corners.pop()
    if len({tuple(corner) for corner in corners}) < 3:
        msg = f"{place} needs three corners or more; draw it again"
        raise SketchError(msg)
    return [*corners, corners[0]]


def _with(drawing: Drawing, number: int, feature: Json) -> list[Json]:
    features = list(drawing.features)
    features[number] = feature
    return features
