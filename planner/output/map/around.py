"""How much of the ground a map of a plan shows: what lies round the plan."""

from collections.abc import Iterator

import numpy as np
import shapely

from planner.profile.value import FloatArray
from planner.record.value import Plan
from planner.terrain.part import part_of
from planner.terrain.place import Bounds
from planner.terrain.value import Terrain


def ground_around(plan: Plan) -> Terrain:
    """The terrain round points, lines and areas of a plan, by the margin the site asks for."""
    return part_of(plan.terrain, plan_box(plan), plan.site.elevation.margin)


def streams_around(plan: Plan) -> Iterator[FloatArray]:
    """The streams, x, y, as far as they run over that ground."""
    west, south, east, north = ground_around(plan).bounds
    for stream in plan.streams:
        x, y = stream.xy.T
        on = np.flatnonzero((x >= west) & (x <= east) & (y >= south) & (y <= north))
        if on.size > 1:
            yield stream.xy[on[0] : on[-1] + 1]


def plan_box(plan: Plan) -> Bounds:
    """West, south, east, north of all that is planned, x, y [m]; of the ground without any."""
    shapes = [*(line.path for line in plan.lines), *(area.shape for area in plan.areas)]
    shapes += [shapely.Point(point.xy) for point in plan.points]
    if not shapes:
        return plan.terrain.bounds
    west, south, east, north = np.round(shapely.total_bounds(shapes), 3).tolist()
    return west, south, east, north
