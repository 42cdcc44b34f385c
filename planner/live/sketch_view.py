"""`sketch_view`: a sketch as the page draws it while points are missing for a plan."""

from collections.abc import Sequence

import numpy as np

from planner.chain.place import lonlat_box, place_areas
from planner.errors import TerrainError
from planner.live.plan_view import stream_views
from planner.live.settings import settings_of
from planner.live.sketch_parts import area_views, crossing_views, point_views
from planner.live.value import PlanView
from planner.record.value import Placed
from planner.site.edits.incomplete import Incomplete
from planner.site.lonlat import unswap
from planner.site.value import Point
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_local
from planner.terrain.locate import level_of
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from planner.wording.cautions import CAUTIONS

ALWAYS = ("codes", "levels", "drinking", "rights")


def sketch_view(
    incomplete: Incomplete, terrain: Terrain, revision: int, streams: Sequence[Stream] = ()
) -> PlanView:
    """Points and areas drawn so far, and what to place next.

    A point off the elevation data is drawn too, so that it can be taken back; `missing` tells of it
    once nothing else is missing.

    Parameters
    ----------
    incomplete : Incomplete
    terrain : Terrain
    revision : int
        Of the draft.
    streams : sequence of Stream
        Found in the ground, where they are known.
    """
    site, units = incomplete.site, incomplete.units
    sketch = unswap(site.sketch, lonlat_box(terrain))
    return PlanView(
        state="sketch",
        revision=revision,
        missing=incomplete.missing or _astray(terrain, sketch.points),
        title=site.title,
        scheme="",
        units=units,
        points=point_views(
            _placed(terrain, sketch.points), sketch, units, powered=site.powered is not None
        ),
        areas=area_views(place_areas(terrain, sketch.areas), units),
        lines=[],
        turns=[],
        streams=stream_views(terrain, streams),
        crossings=crossing_views(terrain, sketch.crossings),
        findings=[],
        figures=[],
        cautions=[CAUTIONS[code][1] for code in ALWAYS],
        settings=settings_of(site.text),
    )


def _placed(terrain: Terrain, points: Sequence[Point]) -> list[Placed]:
    """Every point that the grid's coordinates reach, its level NaN off the data."""
    placed = []
    for point in points:
        x, y = to_local(terrain, point.at)[0].tolist()
        if np.isfinite([x, y]).all():
            ground = float(ground_at(terrain, x, y))
            placed.append(
                Placed(point.name, point.role, (x, y), point.at, ground, ground + point.height)
            )
    return placed


def _astray(terrain: Terrain, points: Sequence[Point]) -> str:
    """What is told of the first point that has no ground, "" where all have."""
    for point in points:
        try:
            level_of(terrain, point.name, point.at)
        except TerrainError as error:
            return error.message
    return ""
