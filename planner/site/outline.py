"""What the outline of an area must be: whole, of bearable size, and crossing itself nowhere."""

import re

import numpy as np
import shapely
from shapely.geometry import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError

MOST_VERTICES = 100_000


def too_many_vertices(place: str, count: int) -> str:
    """The message on a shape with too many vertices."""
    return f"{place}: the outline has {count:,} vertices; simplify it to at most {MOST_VERTICES:,}"


def outline(shape: BaseGeometry, place: str) -> Polygon | MultiPolygon:
    """The shape as an area; a closed line encloses one.

    Raises
    ------
    SketchError
        It encloses nothing, crosses itself, or has too many vertices.
    """
    count = int(shapely.get_num_coordinates(shape))
    if count > MOST_VERTICES:
        raise SketchError(too_many_vertices(place, count))
    if not np.all(np.isfinite(shapely.get_coordinates(shape))):
        msg = f"{place}: the outline has a corner that is no number; draw it again"
        raise SketchError(msg)
    lines = shapely.get_parts(shape)
    if shape.geom_type in ("LineString", "LinearRing", "MultiLineString"):
        shape = lines[0] if len(lines) == 1 else shape
        if not shape.is_closed or len(shape.coords) < 4:
            msg = f"{place}: an area needs three corners or more and must close; draw it again"
            raise SketchError(msg)
        shape = Polygon(shape)
    if not isinstance(shape, Polygon | MultiPolygon):
        msg = f"{place}: an area needs an outline, not a {shape.geom_type}; draw it as a polygon"
        raise SketchError(msg)
    if shape.convex_hull.area == 0.0:
        msg = f"{place}: the outline encloses nothing; draw it with three corners or more"
        raise SketchError(msg)
    reason = shapely.is_valid_reason(shape)
    if reason != "Valid Geometry":
        raise SketchError(_crossing(reason, place))
    return shape


def _crossing(reason: str, place: str) -> str:
    where = re.search(r"\[(\S+) (\S+)\]", reason)
    at = f" at {float(where[1]):.6f}, {float(where[2]):.6f}" if where else ""
    fault = reason.partition("[")[0].strip().lower()
    wrong = "crosses itself" if "intersection" in fault else f"is not sound ({fault})"
    return f"{place}: the outline {wrong}{at}; draw it so that its edges meet at corners alone"
