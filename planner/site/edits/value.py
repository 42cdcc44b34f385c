"""The edits there are, each a value: what a hand on the page does to the site.

Places are (longitude, latitude) in degrees, WGS 84; quantities are text with a unit, as the site
file has them ("1.2 m", "0.4 L/s"), None to leave a key out.
"""

from dataclasses import dataclass
from typing import Any

from planner.site.value import AreaRole, LineRole, PointRole

LonLat = tuple[float, float]


@dataclass(frozen=True, slots=True)
class AddPoint:
    """A new point; without a name it is called after its role.

    A way point needs the `line` (role) it lies on and `before`, the name of the way point of that
    line which comes next along it, None for the last.
    """

    role: PointRole
    at: LonLat
    name: str | None = None
    line: LineRole | None = None
    before: str | None = None


@dataclass(frozen=True, slots=True)
class MovePoint:
    """A point moved."""

    name: str
    at: LonLat


@dataclass(frozen=True, slots=True)
class RenamePoint:
    """A point with a new name."""

    name: str
    to: str


@dataclass(frozen=True, slots=True)
class SetPoint:
    """What is told of a point: `key` is "height" or "flow"."""

    name: str
    key: str
    value: str | None


@dataclass(frozen=True, slots=True)
class DeletePoint:
    """A point taken away."""

    name: str


@dataclass(frozen=True, slots=True)
class AddArea:
    """A new area with its outer ring, three corners or more, not closed."""

    role: AreaRole
    ring: tuple[LonLat, ...]
    name: str | None = None


@dataclass(frozen=True, slots=True)
class ShapeArea:
    """The `area`-th area of the sketch (from 0, in the order of `Sketch.areas`) with a new ring."""

    area: int
    ring: tuple[LonLat, ...]


@dataclass(frozen=True, slots=True)
class SetArea:
    """What is told of an area: `key` is "name", "role", "factor", "deepest_trench" or "ground"."""

    area: int
    key: str
    value: str | float | None


@dataclass(frozen=True, slots=True)
class DeleteArea:
    """An area taken away."""

    area: int


@dataclass(frozen=True, slots=True)
class AddFeatures:
    """Features of another file: GeoJSON features in longitude/latitude, roles and names in them."""

    features: tuple[dict[str, Any], ...]


@dataclass(frozen=True, slots=True)
class SetValue:
    """A value of the site file: `path` such as ("lines", "delivery", "pipe"); None takes it out."""

    path: tuple[str, ...]
    value: str | float | bool | list[Any] | dict[str, Any] | None


@dataclass(frozen=True, slots=True)
class AddTable:
    """A further table of a list in the site file, such as ("fit",) for a [[fit]]."""

    path: tuple[str, ...]
    table: dict[str, Any]


@dataclass(frozen=True, slots=True)
class Several:
    """Edits that are done and undone together, with what the whole is called."""

    words: str
    edits: tuple["Edit", ...]


Edit = (
    AddPoint
    | MovePoint
    | RenamePoint
    | SetPoint
    | DeletePoint
    | AddArea
    | ShapeArea
    | SetArea
    | DeleteArea
    | AddFeatures
    | SetValue
    | AddTable
    | Several
)
