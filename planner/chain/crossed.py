"""What each line crosses: streams found in the ground, and lines drawn to be crossed."""

import math
from collections.abc import Iterable

import numpy as np
import shapely
from shapely.geometry import LineString, Point

from planner.record.value import Line
from planner.record.works import Crossed
from planner.site.value import Sketch
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain

APART = 10.0  # m; crossings of one thing nearer than this are one place on the ground
AT_END = 2.0  # m; a line that ends in a stream does not cross it


def crossed(
    line: Line, terrain: Terrain, sketch: Sketch, streams: Iterable[Stream]
) -> tuple[Crossed, ...]:
    """Every place where a line crosses something, by chainage."""
    paths = [("", LineString(one.xy)) for one in streams if len(one.xy) > 1]
    paths += [
        (one.name, shapely.transform(one.shape, lambda lonlat: to_local(terrain, lonlat)))
        for one in sketch.crossings
    ]
    found = [
        _at(line, name, run)
        for name, path in paths
        for run in _meets(line, path)
        if name or AT_END < run < float(line.profile.run[-1]) - AT_END
    ]
    return tuple(sorted(found, key=lambda one: one.chainage_m))


def _at(line: Line, name: str, run: float) -> Crossed:
    profile = line.profile
    return Crossed(
        name=name,
        index=int(np.argmin(np.abs(profile.run - run))),
        run_m=run,
        chainage_m=float(np.interp(run, profile.run, profile.chainage)),
    )


def _meets(line: Line, path: LineString) -> list[float]:
    """Horizontal distances from the line's start at which it meets a path [m], each place once."""
    parts = shapely.get_parts(line.path.intersection(path))
    runs = sorted(
        float(line.path.project(Point(shapely.get_coordinates(part)[0])))
        for part in parts
        if not part.is_empty
    )
    places, last = [], -math.inf
    for run in runs:
        if run - last > APART:
            places.append(run)
        last = run
    return places
