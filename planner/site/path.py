"""What a line to cross must be: one or several paths of bearable size."""

import numpy as np
import shapely
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.outline import MOST_VERTICES, too_many_vertices

LINES = ("LineString", "LinearRing", "MultiLineString")


def paths(shape: BaseGeometry, place: str) -> list[LineString]:
    """The pieces of a line, each in one.

    Raises
    ------
    SketchError
        It is no line, a point of it is no number, it has no length or too many vertices.
    """
    if shape.geom_type not in LINES:
        msg = f"{place}: a crossing is a line, not a {shape.geom_type}; draw it as one"
        raise SketchError(msg)
    count = int(shapely.get_num_coordinates(shape))
    if count > MOST_VERTICES:
        raise SketchError(too_many_vertices(place, count))
    pieces = [LineString(piece.coords) for piece in shapely.get_parts(shape)]
    for piece in pieces:
        corners = shapely.get_coordinates(piece)
        if not np.all(np.isfinite(corners)):
            msg = f"{place}: the line has a point that is no number; draw it again"
            raise SketchError(msg)
        if len(np.unique(corners, axis=0)) < 2:
            msg = f"{place}: the line has no length; give it two different points or more"
            raise SketchError(msg)
    return pieces
