"""Points, areas and drawn crossings of a sketch as the page draws them."""

from collections.abc import Iterable

import shapely

from planner.live.rounded import place, places
from planner.live.value import XY, AreaView, PointView
from planner.output.look import POINT_LETTERS, POINT_WORDS
from planner.record.value import Placed, PlacedArea
from planner.site.value import Crossing, Sketch, Units
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain
from planner.units.show import show


def point_views(
    placed: Iterable[Placed], sketch: Sketch, units: Units, *, powered: bool = False
) -> list[PointView]:
    """The points on the ground, outlets numbered; `powered`: what lifts is a pump, not a ram."""
    said = {point.name: point for point in sketch.points}
    views, outlets = [], 0
    for point in placed:
        own = said.get(point.name)
        outlets += point.role == "outlet"
        letter, word = POINT_LETTERS[point.role], POINT_WORDS[point.role]
        if point.role == "pump" and powered:
            letter, word = "P", "Pump"
        views.append(
            PointView(
                name=point.name,
                role=point.role,
                word=word,
                letter=str(outlets) if point.role == "outlet" else letter,
                at=place(point.xy),
                lonlat=[round(degrees, 7) for degrees in point.lonlat],
                ground=show(point.ground, "level", units),
                level=show(point.level, "level", units),
                height="" if own is None or not own.height else show(own.height, "level", units),
                flow=""
                if own is None or own.flow is None
                else show(own.flow, "flow", units, figures=3),
                line="" if own is None or own.line is None else own.line,
                by_program=point.by_program,
            )
        )
    return views


def area_views(areas: Iterable[PlacedArea], units: Units) -> list[AreaView]:
    """The areas in the order of the sketch."""
    return [
        AreaView(
            index=index,
            name=area.name,
            role=area.role,
            label=area.name if area.role != "costly" else f"{area.name} ×{area.factor:g}",
            parts=[
                [places(ring.coords)[:-1] for ring in (part.exterior, *part.interiors)]
                for part in getattr(area.shape, "geoms", (area.shape,))
            ],
            factor=area.factor,
            deepest_trench=""
            if area.deepest_trench is None
            else show(area.deepest_trench, "level", units),
            ground=area.ground or "",
        )
        for index, area in enumerate(areas)
    ]


def crossing_views(terrain: Terrain, crossings: Iterable[Crossing]) -> list[list[XY]]:
    """The roads, streams and ditches drawn in the sketch."""
    return [
        places(to_local(terrain, shapely.get_coordinates(crossing.shape))) for crossing in crossings
    ]
