"""Whether the fall is proven."""

import math
from collections.abc import Iterator

from planner.checks.levels import ends_levelled
from planner.checks.planned import expected
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Level, Plan

UNCERTAINTIES_STOP = Limit(
    3.0, "survey practice: no final drawing on a fall under 3 times its uncertainty"
)
UNCERTAINTIES_WARN = Limit(
    10.0, "a fall doubtful by a tenth makes the water delivered doubtful by as much", "setting"
)


def fall_not_proven(plan: Plan) -> Iterator[Finding]:
    """A fall that its own uncertainty could swallow."""
    band = plan.water.fall
    fall = expected(band)
    if band is None or fall is None or fall <= 0:
        return
    uncertainty = max(fall - float(band.low), float(band.high) - fall)
    if not math.isfinite(uncertainty):
        return
    levelled = ends_levelled(plan)
    level: Level = "note"
    if fall < UNCERTAINTIES_STOP.value * uncertainty:
        level = "stop"
    elif fall < UNCERTAINTIES_WARN.value * uncertainty:
        level = "warn"
    elif levelled == 2 or plan.terrain.provenance.kind == "levelled" or uncertainty == 0:
        return
    case = "half" if level == "note" and levelled == 1 else level
    values: Values = {"case": case, "fall_m": fall, "uncertainty_m": uncertainty}
    yield Finding(level, "fall-not-proven", values)
