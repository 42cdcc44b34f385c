"""Files that came from outside, opened in a process of its own, as `once` calls these."""

from pathlib import Path
from typing import Any


def features_of(path: Path) -> tuple[dict[str, Any], ...]:
    """The features of a GPX, KML, GeoJSON, CSV or GeoPackage file, longitude and latitude.

    Raises
    ------
    SketchError
        It can't be read.
    """
    from planner.site.edits.features import features_of as features  # noqa: PLC0415  heavy

    return features(path)


def checked_elevation(path: Path) -> None:
    """Read an elevation file whole, so that the page need not fear it.

    Raises
    ------
    TerrainError
        It can't be read as elevation data.
    """
    from planner.terrain.read import read_terrain  # noqa: PLC0415  heavy

    read_terrain(path)
