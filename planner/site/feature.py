"""`Feature`: one thing of a file of geodata, before it is known what it is."""

from dataclasses import dataclass
from typing import Any

from pyproj import CRS
from shapely.geometry.base import BaseGeometry


@dataclass(frozen=True, slots=True)
class Feature:
    """A shape in its file's coordinates, its attributes by lower-case name, and where it stands."""

    shape: BaseGeometry
    said: dict[str, Any]
    place: str


@dataclass(frozen=True, slots=True)
class Collection:
    """All features of a file; `crs` None: it names no coordinate system."""

    features: tuple[Feature, ...]
    crs: CRS | None = None
