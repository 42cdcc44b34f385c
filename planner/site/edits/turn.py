"""A sketch with latitude before longitude, put right once it is seen where the ground lies."""

from typing import Any

from planner.site.draft import Draft
from planner.site.edits.drawing import Json, read_drawing
from planner.site.edits.put_away import put_away
from planner.site.lonlat import unswap


def turned(draft: Draft, bounds: tuple[float, float, float, float]) -> Draft:
    """The draft with longitude and latitude exchanged, where only so it lies on the ground.

    A plan exchanges them by itself; a sketch that is to be changed must be put right first, or
    what is placed anew would lie where nothing else does.

    Parameters
    ----------
    draft : Draft
    bounds : (west, south, east, north)
        Of the elevation data [degrees].

    Returns
    -------
    Draft
        The same one where nothing is to be exchanged.

    Raises
    ------
    SiteError, SketchError
        The draft can't be read.
    """
    drawing = read_drawing(draft)
    if not unswap(drawing.sketch, bounds).swapped:
        return draft
    return put_away(draft, drawing, [_exchanged(feature) for feature in drawing.features])


def _exchanged(feature: Json) -> Json:
    geometry = feature.get("geometry")
    if not isinstance(geometry, dict) or "coordinates" not in geometry:
        return feature
    coordinates = _pairs_turned(geometry["coordinates"])
    return {**feature, "geometry": {**geometry, "coordinates": coordinates}}


def _pairs_turned(coordinates: Any) -> Any:
    if not isinstance(coordinates, list):
        return coordinates
    if len(coordinates) >= 2 and not any(isinstance(one, list) for one in coordinates):
        return [coordinates[1], coordinates[0], *coordinates[2:]]
    return [_pairs_turned(one) for one in coordinates]
