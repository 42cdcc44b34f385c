"""Coordinates of a sketch to longitude and latitude, and the two exchanged where they must be."""

from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
import shapely
from pyproj import CRS, Transformer
from pyproj.exceptions import CRSError, ProjError
from shapely.geometry.base import BaseGeometry

from planner.errors import SketchError
from planner.site.value import Sketch
from planner.terrain.value import BoolArray, FloatArray
from planner.units.parse import quoted

WGS84 = CRS.from_epsg(4326)


def known_crs(text: str, place: str) -> CRS:
    """The coordinate system a user named.

    Raises
    ------
    SketchError
        It is not known.
    """
    try:
        return CRS.from_user_input(text)
    except (CRSError, ProjError) as error:
        msg = (
            f"{place}: the coordinate system {quoted(text)} is not known; "
            'give an EPSG code such as "EPSG:4326"'
        )
        raise SketchError(msg) from error


def to_lonlat(
    shapes: Sequence[BaseGeometry], crs: CRS | None, places: Sequence[str]
) -> tuple[list[BaseGeometry], bool]:
    """Shapes in longitude/latitude, and whether the two had been exchanged.

    Parameters
    ----------
    shapes : sequence of geometry
        In the axis order x, y (longitude, latitude).
    crs : pyproj.CRS or None
        None: longitude and latitude.
    places : sequence of str
        Where each shape stands, for messages.

    Raises
    ------
    SketchError
        A coordinate is no place on the Earth, not even with the two exchanged.
    """
    flat = [shapely.force_2d(shape) for shape in shapes]
    if crs is not None and crs != WGS84:
        transformer = Transformer.from_crs(crs, WGS84, always_xy=True)
        flat = [shapely.transform(shape, _mover(transformer)) for shape in flat]
    if all(_on_earth(shape) for shape in flat):
        return flat, False
    if crs is None or crs.is_geographic:
        turned = exchanged(flat)
        if all(_on_earth(shape) for shape in turned):
            return turned, True
    at = next(i for i, shape in enumerate(flat) if not _on_earth(shape))
    first = shapely.get_coordinates(shapes[at])[0]
    msg = (
        f"{places[at]}: {first[0]:.10g}, {first[1]:.10g} is no longitude and latitude in degrees; "
        "write longitude first, or name the coordinate system, such as "
        'crs = "EPSG:32633" under [sketch]'
    )
    raise SketchError(msg)


def exchanged(shapes: Sequence[BaseGeometry]) -> list[BaseGeometry]:
    """The shapes with x and y exchanged."""
    return [shapely.transform(shape, lambda xy: xy[:, ::-1]) for shape in shapes]


def unswap(sketch: Sketch, bounds: tuple[float, float, float, float]) -> Sketch:
    """The sketch with longitude and latitude exchanged, where that brings it onto the data.

    Parameters
    ----------
    sketch : Sketch
    bounds : (west, south, east, north)
        Of the elevation data [degrees].

    Returns
    -------
    Sketch
        With `swapped` set if every point lay outside and every point exchanged lies inside; else
        the sketch as it is.
    """
    lonlat = np.array([point.at for point in sketch.points], dtype=np.float64).reshape(-1, 2)
    if not len(lonlat) or _inside(lonlat, bounds).any():
        return sketch
    if not _inside(lonlat[:, ::-1], bounds).all():
        return sketch
    points = tuple(replace(point, at=point.at[::-1]) for point in sketch.points)
    outlines = exchanged([area.shape for area in sketch.areas])
    areas = tuple(
        replace(area, shape=outline) for area, outline in zip(sketch.areas, outlines, strict=True)
    )
    lines = exchanged([crossing.shape for crossing in sketch.crossings])
    crossings = tuple(
        replace(crossing, shape=line)
        for crossing, line in zip(sketch.crossings, lines, strict=True)
    )
    return replace(sketch, points=points, areas=areas, crossings=crossings, swapped=True)


def _mover(transformer: Transformer) -> Callable[[FloatArray], FloatArray]:
    def move(xy: FloatArray) -> FloatArray:
        return np.column_stack(transformer.transform(xy[:, 0], xy[:, 1]))

    return move


def _on_earth(shape: BaseGeometry) -> bool:
    size = np.abs(shapely.get_coordinates(shape))
    return bool(np.all(np.isfinite(size)) and np.all(size <= (180.0, 90.0)))


def _inside(lonlat: FloatArray, bounds: tuple[float, float, float, float]) -> BoolArray:
    west, south, east, north = bounds
    low, high = np.array([west, south]), np.array([east, north])
    inside: BoolArray = np.all((lonlat >= low) & (lonlat <= high), axis=1)
    return inside
