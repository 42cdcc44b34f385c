"""Points and areas of the sketch on the ground."""

from collections.abc import Iterable
from itertools import chain, count

import numpy as np
from shapely import transform
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry

from planner.record.value import Placed, PlacedArea
from planner.routing.land import Land, make_land
from planner.site.value import Area, Site, Sketch
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.locate import level_of
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain


def box_around(sketch: Sketch) -> tuple[float, float, float, float]:
    """West, south, east, north of the sketch's points [degrees]."""
    lon, lat = zip(*(point.at for point in sketch.points), strict=True)
    return min(lon), min(lat), max(lon), max(lat)


def lonlat_box(terrain: Terrain) -> tuple[float, float, float, float]:
    """West, south, east, north of the elevation data [degrees], from its four corners."""
    west, south, east, north = terrain.bounds
    corners = [(west, south), (east, south), (east, north), (west, north)]
    lon, lat = to_lonlat(terrain, corners).T
    return float(lon.min()), float(lat.min()), float(lon.max()), float(lat.max())


def place_points(terrain: Terrain, sketch: Sketch) -> tuple[Placed, ...]:
    """Every point with its ground level; a point without ground is refused by name.

    Raises
    ------
    TerrainError
        A point lies outside the data, on a hole or in a sea of zeros.
    """
    placed = []
    for point in sketch.points:
        xy, ground = level_of(terrain, point.name, point.at)
        placed.append(Placed(point.name, point.role, xy, point.at, ground, ground + point.height))
    return tuple(placed)


def place_chamber(terrain: Terrain, xy: tuple[float, float], names: Iterable[str]) -> Placed:
    """A chamber where the program put it, under a name nobody has taken."""
    taken = {name.casefold() for name in names}
    wanted = chain(("chamber", "settling chamber"), (f"chamber {n}" for n in count(2)))
    name = next(name for name in wanted if name not in taken)
    lon, lat = to_lonlat(terrain, np.array([xy]))[0]
    level = float(ground_at(terrain, *xy))
    return Placed(name, "chamber", xy, (float(lon), float(lat)), level, level, by_program=True)


def place_areas(terrain: Terrain, areas: Iterable[Area]) -> tuple[PlacedArea, ...]:
    """Every area in the terrain's x, y."""
    return tuple(
        PlacedArea(
            area.name,
            area.role,
            _on_terrain(terrain, area.shape),
            area.factor,
            area.deepest_trench,
            area.ground,
        )
        for area in areas
    )


def crossings_of(
    terrain: Terrain, site: Site, streams: Iterable[Stream]
) -> tuple[tuple[LineString, float], ...]:
    """What pipes cross at a price: lines drawn in the sketch, and streams found in the ground."""
    drawn = [(_on_terrain(terrain, one.shape), one.cost) for one in site.sketch.crossings]
    found = [(LineString(one.xy), site.stream_cost) for one in streams if len(one.xy) > 1]
    return (*drawn, *found)


def lands_of(
    terrain: Terrain,
    areas: tuple[PlacedArea, ...],
    crossings: Iterable[tuple[LineString, float]] = (),
) -> tuple[Land, Land]:
    """The parcel to stay on, and the same land with its border open; one and the same without."""
    crossings = tuple(crossings)
    inside = land_of(terrain, areas, crossings)
    if not any(area.role == "stay" for area in areas):
        return inside, inside
    return inside, land_of(terrain, areas, crossings, stay=False)


def land_of(
    terrain: Terrain,
    areas: Iterable[PlacedArea],
    crossings: Iterable[tuple[LineString, float]] = (),
    *,
    stay: bool = True,
) -> Land:
    """The land with its closed and costly areas; `stay` False opens the ground off the parcel."""
    areas = tuple(areas)
    return make_land(
        terrain,
        avoid=[area.shape for area in areas if area.role == "avoid"],
        costly=[(a.shape, a.factor, a.deepest_trench) for a in areas if a.role == "costly"],
        stay=[area.shape for area in areas if stay and area.role == "stay"],
        crossings=crossings,
    )


def _on_terrain(terrain: Terrain, shape: BaseGeometry) -> BaseGeometry:
    return transform(shape, lambda lonlat: to_local(terrain, lonlat))
