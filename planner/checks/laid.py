"""How lines lie against what the site asks: their grade, and the trench the ground bears."""

from collections.abc import Iterator

import numpy as np
import shapely

from planner.checks.spot import on_line
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Line, PlacedArea, Plan
from planner.terrain.value import BoolArray

GRADE_SPARE = Limit(0.001, "hand-laid pipe is no truer than this, rise over run", "setting")
SHALLOW_SPARE = Limit(0.05, "hand-laid pipe lies within 3 to 5 cm of its line [m]")


def steeper_than_asked(plan: Plan) -> Iterator[Finding]:
    """Lines that fall more steeply than the site file asks."""
    for line in plan.lines:
        greatest = line.settings.laying.greatest_grade
        if greatest is None:
            continue
        profile = line.profile
        fall = -np.diff(profile.pipe) / np.diff(profile.run)
        steep = fall > greatest + GRADE_SPARE.value
        if steep.any():
            worst = int(np.argmax(fall))
            values: Values = {
                "grade": float(fall[worst]),
                "limit": greatest,
                "metres_m": float(np.diff(profile.chainage)[steep].sum()),
            }
            yield on_line(line, worst, "warn", "steeper-than-asked", values)


def trench_too_shallow(plan: Plan) -> Iterator[Finding]:
    """Ground that can't be dug as deep as a line's cover asks for."""
    for line in plan.lines:
        cover = line.settings.laying.least_cover
        for area in plan.areas:
            depth = area.deepest_trench
            if area.role != "costly" or depth is None or depth >= cover - SHALLOW_SPARE.value:
                continue
            inside = _inside(line, area)
            # Where it comes up to its mouth it asks for no depth.
            asks = inside & (line.profile.depth > depth + SHALLOW_SPARE.value)
            if asks.any():
                metres = float(np.gradient(line.profile.chainage)[asks].sum())
                values: Values = {
                    "area": area.name,
                    "depth_m": depth,
                    "cover_m": cover,
                    "metres_m": metres,
                }
                first = int(np.argmax(asks))
                yield on_line(line, first, "warn", "trench-too-shallow", values)


def _inside(line: Line, area: PlacedArea) -> BoolArray:
    """(n,) which samples of a line lie in an area."""
    x, y = line.profile.xy.T
    inside: BoolArray = np.asarray(shapely.contains_xy(area.shape, x, y))
    return inside
