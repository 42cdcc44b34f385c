"""The example plan with choices and other routes on its delivery line."""

from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.record.value import Plan
from planner.routing.options import Alternative, Alternatives, Choice, Figures, Option, Reason
from tests.example import example_plan

OWN = Figures(length=204.0, vents=1, digging=11.0, steepest=0.31, cost=245.0, depth=0.55)
ASIDE: dict[Reason, tuple[float, float]] = {
    "fewer-vents": (45.0, -9.0),
    "gentler": (-50.0, 4.0),
    "elsewhere": (-90.0, 31.0),
}


def weighed_plan() -> Plan:
    """Three other routes for the delivery, which has a vent and a deep stretch."""
    plan = example_plan()
    delivery = plan.line("delivery")
    xy = delivery.profile.xy
    middle = xy[len(xy) // 2]
    found = tuple(
        Alternative(
            line=LineString([xy[0], middle + np.array([aside, -0.4 * aside]), xy[-1]]),
            reason=reason,
            figures=replace(OWN, vents=0 if reason == "fewer-vents" else 1, cost=245.0 + more),
            more_m=more,
            shared=0.2,
        )
        for reason, (aside, more) in ASIDE.items()
    )
    detour = Option("detour", more_m=-9.0, pipe_m=21.0, vents=-1)
    trench = Option("deeper", more_m=float("nan"), deeper_m=0.35, deepest_m=1.15, over_m=9.0)
    choices = (
        Choice(delivery.high_points[0].chainage_m, "vent", 30.0, others=(detour, trench)),
        Choice(150.0, "deeper", 3.5, deeper_m=0.3, over_m=12.0, detour_weighed=False),
    )
    weighed = replace(delivery, figures=OWN, choices=choices, alternatives=Alternatives(3, found))
    return replace(plan, lines=tuple(weighed if o is delivery else o for o in plan.lines))
