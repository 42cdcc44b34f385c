"""Where lines cross what the sketch draws to be crossed: roads, ditches, streams."""

import math
from collections.abc import Iterator

import shapely
from shapely.geometry import LineString, Point

from planner.checks.spot import on_line, sample_at_run
from planner.checks.value import Limit
from planner.record.value import Finding, Line, Plan
from planner.terrain.frame import to_local

APART = Limit(10.0, "crossings nearer than this are one place on the ground [m]", "setting")


def crossing_drawn(plan: Plan) -> Iterator[Finding]:
    """Each place where a line crosses a line of the sketch."""
    drawn = [
        (one.name, shapely.transform(one.shape, lambda lonlat: to_local(plan.terrain, lonlat)))
        for one in plan.site.sketch.crossings
    ]
    for line in plan.lines:
        for name, path in drawn:
            last = -math.inf
            for run in _meets(line, path):
                if run - last > APART.value:
                    index = sample_at_run(line, run)
                    yield on_line(line, index, "note", "crossing-drawn", {"crossing": name})
                last = run


def _meets(line: Line, path: LineString) -> list[float]:
    """Horizontal distances from the line's start at which it meets a path [m]."""
    parts = shapely.get_parts(line.path.intersection(path))
    return sorted(
        float(line.path.project(Point(shapely.get_coordinates(part)[0])))
        for part in parts
        if not part.is_empty
    )
