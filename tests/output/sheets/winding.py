"""A plan of one long line that winds over the example's ground, for sheets that must match."""

from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.hydraulics.catalogue import catalogue
from planner.profile.value import HighPoint, Profile
from planner.record.value import LineWater, PlacedArea, Plan
from planner.record.works import Crossed, PipeRun
from planner.site.value import Units
from planner.terrain.sample import ground_at
from tests.example import example_plan

CORNERS = [
    (-150, -130),
    (-60, -90),
    (60, -120),
    (150, -60),
    (90, 20),
    (-40, 0),
    (-140, 60),
    (0, 130),
]


def winding_profile(plan: Plan) -> Profile:
    """About 930 m of pipe half a metre deep, a sample each half metre."""
    path = LineString(CORNERS)
    run = np.linspace(0.0, path.length, int(path.length * 2) + 2)
    xy = np.array([path.interpolate(at).coords[0] for at in run])
    ground = ground_at(plan.terrain, xy[:, 0], xy[:, 1])
    pipe = ground - 0.5
    steps = np.hypot(np.diff(run), np.diff(pipe))
    chainage = np.concatenate([[0.0], np.cumsum(steps)])
    return Profile(xy, run, chainage, ground, pipe, np.zeros(run.size, dtype=bool))


def winding_plan(units: Units = "metric") -> Plan:
    """The example with that one line, in two sizes of pipe, crossing a stream and two owners."""
    plan = example_plan()
    profile = winding_profile(plan)
    top = int(np.argmax(profile.pipe))
    whole = profile.length
    line = plan.line("delivery")
    still = np.full(profile.run.size, float(profile.pipe.max()) + 3.0)
    found = replace(
        line,
        profile=profile,
        high_points=(
            HighPoint(top, float(profile.run[top]), float(profile.chainage[top]), 0.0, 1.5, 0.5),
        ),
        low_points=(),
        water=LineWater(5e-5, 0.09, 1.4, still, still - profile.run / 200.0, 1.2),
        runs=_pipes(whole),
        crossed=(Crossed("", 200, float(profile.run[200]), float(profile.chainage[200])),),
    )
    (field,) = plan.areas
    owners = (
        PlacedArea("Hollow Farm", "owner", LineString([(-170, -75), (170, -75)]).buffer(75)),
        PlacedArea("Upper Pasture", "owner", LineString([(-170, 75), (170, 75)]).buffer(75)),
    )
    site = replace(plan.site, units=units)
    return replace(
        plan, site=site, lines=(found,), areas=(field, *owners), findings=plan.findings[1:]
    )


def _pipes(whole: float) -> tuple[PipeRun, ...]:
    """A wider pipe for the first half, a narrower for the second, in coils of 100 m."""
    first, second = catalogue()[0], catalogue()[1]
    return tuple(
        PipeRun(start, end, label, bore, 100.0, pipe, True, "coil", 100.0)
        for start, end, label, bore, pipe in (
            (0.0, whole / 2.0, "PE 40 PN 10", 0.0326, first),
            (whole / 2.0, whole, "PE 32 PN 16", 0.0260, second),
        )
    )
