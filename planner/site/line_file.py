"""A line drawn by hand or walked with a GPS, from a file."""

from pathlib import Path

import numpy as np
import shapely
from pyproj import Geod
from shapely.geometry import LineString

from planner.errors import SketchError
from planner.site.geodata import read_features
from planner.site.lonlat import to_lonlat
from planner.terrain.value import FloatArray

LARGEST_GAP = 25.0  # m between pieces that are still one line: a GPS that lost sight of the sky
MOST_VERTICES = 100_000
EARTH = Geod(ellps="WGS84")


def read_line(path: str | Path) -> LineString:
    """The one line of a GeoJSON, GPX (track or route), KML or GeoPackage file.

    Parameters
    ----------
    path : str or Path
        Several pieces are joined in their order where each begins within 25 m of the end of the
        one before.

    Returns
    -------
    shapely.LineString
        Longitude, latitude [degrees, WGS 84], without repeated points.

    Raises
    ------
    SketchError
        The file can't be read, holds no line, or lines that do not belong together.
    """
    path = Path(path)
    collection = read_features(path)
    shapes = [f for f in collection.features if f.shape.geom_type.endswith("LineString")]
    if not shapes:
        msg = f"{path.name} holds no line; give one with a LineString, a track or a route"
        raise SketchError(msg)
    lines, swapped = to_lonlat(
        [feature.shape for feature in shapes], collection.crs, [f.place for f in shapes]
    )
    if swapped:
        msg = f"{path.name} has latitude before longitude; save it with longitude first"
        raise SketchError(msg)
    return LineString(_joined([*shapely.get_parts(lines)], path.name))


def _joined(pieces: list[LineString], name: str) -> FloatArray:
    whole = shapely.get_coordinates(pieces[0])
    for number, piece in enumerate(pieces[1:], start=2):
        more = shapely.get_coordinates(piece)
        gap = EARTH.inv(*whole[-1], *more[0])[2]
        if gap > LARGEST_GAP:
            msg = (
                f"{name} holds {len(pieces)} pieces, and number {number} begins {gap:,.0f} m from "
                f"the end of the one before; keep one line in the file, or pieces in order"
            )
            raise SketchError(msg)
        whole = np.concatenate([whole, more])
    moved = np.any(np.diff(whole, axis=0) != 0.0, axis=1)
    line: FloatArray = whole[np.concatenate([[True], moved])]
    if len(line) < 2:
        msg = f"the line in {name} stands still; give one of two points or more"
        raise SketchError(msg)
    if len(line) > MOST_VERTICES:
        msg = f"the line in {name} has {len(line):,} points; keep at most {MOST_VERTICES:,}"
        raise SketchError(msg)
    return line
