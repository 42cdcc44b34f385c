"""Plans on which a vent or a washout is decided, placed by the chain itself."""

from dataclasses import replace

import numpy as np

from planner.chain.air_works import line_air
from planner.chain.decided import with_decided
from planner.record.value import Plan
from planner.site.fit import Fit, FittingKind
from planner.terrain.frame import to_lonlat
from tests.checks.altered import site
from tests.checks.works import crest


def decided(
    kind: FittingKind,
    *,
    on: str = "delivery",
    off: float = 0.0,
    opened: float = 515.0,
    closed: float = 520.0,
    velocity: float = 0.1,
) -> Plan:
    """One crest at 505 m and the sag behind it, with what is decided so far along from there."""
    plan = crest(opened=opened, closed=closed, velocity=velocity)
    (line,) = plan.lines
    turn = line.high_points[0] if kind == "vent" else line.low_points[0]
    place = line.profile.xy[turn.index] + np.array([off, 0.0])
    lon, lat = to_lonlat(plan.terrain, place[None, :])[0].tolist()
    plan = site(plan, fit=(Fit(on, kind, (lon, lat), "in a box"),))
    lines = with_decided(plan.site, plan.terrain, plan.lines)
    return replace(plan, lines=tuple(replace(one, air=line_air(one, closed)) for one in lines))
