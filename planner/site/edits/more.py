"""Features of another file taken into a drawing."""

from planner.errors import SketchError
from planner.site import geojson
from planner.site.edits.drawing import (
    Drawing,
    Json,
    feature_of,
    known_properties,
    said_of,
    telling,
)
from planner.site.edits.names import free_name
from planner.site.edits.points import CALLED
from planner.site.edits.value import AddFeatures
from planner.site.file import PointSaid
from planner.site.lonlat import to_lonlat
from planner.site.sketch import Said, make_sketch, same_place, understood
from planner.site.value import Gallon
from planner.site.words import clean_name
from planner.units.parse import quoted

PLACE = "what is to be added"


def add_features(drawing: Drawing, edit: AddFeatures, gallon: Gallon | None) -> list[Json]:
    """The features with others behind them; points that are there already are left out.

    Parameters
    ----------
    gallon : {"us", "imperial"} or None
        What a gallon is in the site file.

    Raises
    ------
    SketchError
        A feature does not tell what it is, can't be used, or all are there already.
    """
    taken = [point.name for point in drawing.sketch.points]
    points = list(drawing.sketch.points)
    added: list[Json] = []
    for number, given in enumerate(edit.features, start=1):
        feature, said = _understood(given, geojson.place(PLACE, number), gallon)
        if isinstance(said.about, PointSaid):
            (point,) = make_sketch([([said], None)]).points
            if any(same_place(point, other) for other in points):
                continue
            wanted = clean_name(str(said_of(feature, "name") or ""), said.place)
            name = free_name(wanted or CALLED[point.role], taken)
            feature = telling(feature, name=name, role=point.role)
            taken.append(name)
            points.append(point)
        added.append(feature)
    if not added:
        msg = "all that is to be added is in the sketch already; nothing is changed"
        raise SketchError(msg)
    return [*drawing.features, *added]


def _understood(given: Json, place: str, gallon: Gallon | None) -> tuple[Json, Said]:
    """A feature with what means something alone, in longitude/latitude."""
    feature = geojson.one(given, place)
    said = None if feature is None else understood(feature, gallon)
    if feature is None or said is None:
        name = quoted(str(said_of(given, "name") or place)[:80])
        msg = f"nothing tells what {name} is; choose what it is, or leave it out"
        raise SketchError(msg)
    shapes, _ = to_lonlat([feature.shape], None, [said.place])
    return feature_of(shapes[0], known_properties(feature, said)), said
