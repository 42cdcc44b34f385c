"""A plan to which the field has come back: levels, what they changed, a walked and a built line."""

import datetime
from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.levels.value import Levelled, Survey
from planner.record.value import Change, Line, Plan
from planner.record.works import AsBuilt, BuiltMark, Crossed
from planner.site.value import Crossing
from planner.terrain.frame import to_lonlat
from tests.example import PLACES, example_plan


def field_plan(odd: str = "") -> Plan:
    """The example with everything of the field; `odd` stands in every name a user can give."""
    plan = example_plan()
    lines = {line.name: line for line in plan.lines}
    lines["delivery"] = replace(lines["delivery"], crossed=(_crossed(lines["delivery"], odd),))
    lines["supply"] = replace(lines["supply"], walked=True)
    trough = lines["distribution-trough"]
    lines["distribution-trough"] = replace(trough, built=_built(trough, odd))
    track = to_lonlat(plan.terrain, [(-60.0, 10.0), (40.0, 25.0)])
    sketch = replace(
        plan.site.sketch, crossings=(Crossing(f"farm track{odd}", LineString(track), 30.0),)
    )
    return replace(
        plan,
        site=replace(plan.site, sketch=sketch),
        lines=tuple(lines.values()),
        survey=_survey(plan, odd),
        changes=(
            Change("fall", "", 1.5, 1.62, 0.3, 0.02),
            Change("high-point/gone", "delivery", 64.0, None),
        ),
    )


def _crossed(line: Line, odd: str) -> Crossed:
    at = line.profile.run.size // 2
    run, chainage = float(line.profile.run[at]), float(line.profile.chainage[at])
    return Crossed(f"farm track{odd}", at, run, chainage)


def _built(line: Line, odd: str) -> AsBuilt:
    x, y = line.profile.xy[40].tolist()
    mark = BuiltMark(
        float(line.profile.chainage[40]), (x, y), 0.45, f"tee{odd}", f"tee-1{odd}.jpg", ""
    )
    day = datetime.date(2026, 11, 20)
    return AsBuilt(day, (mark,), (f"trench{odd}.jpg",), f"laid by the neighbours{odd}")


def _survey(plan: Plan, odd: str) -> Survey:
    x, y = PLACES["ram"][1:]
    stations = tuple(
        Levelled(f"{name}{odd}", (x + shift, y + shift), level, 0.01, level - 0.12, ("level",))
        for name, shift, level in (("ram", 0.0, 497.31), ("peg A", 30.0, 499.02))
    )
    del plan
    return Survey(stations, np.eye(2) * 1e-4, 0.4, 60.0, 0.12, 0.03, notes=(f"as read{odd}",))
