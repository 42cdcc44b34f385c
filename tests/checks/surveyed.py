"""The example with its levels measured: plans that only levels can bring into trouble."""

from dataclasses import replace
from typing import Any

import numpy as np

from planner.levels.value import Closure, Levelled, Survey
from planner.record.value import Plan
from planner.record.works import AsBuilt
from tests.checks.altered import base, line

ENDS = ("chamber", "ram", "tank", "spring", "trough")


def survey(names: tuple[str, ...] = ENDS, *, error: float = 0.005, **changes: Any) -> Survey:
    """Points of the example, levelled 0.2 m higher than the elevation data has them."""
    stations = tuple(
        Levelled(p.name, p.xy, p.ground + 0.2, error, p.ground, ("level",))
        for p in base().points
        if p.name in names
    )
    made = Survey(
        stations=stations,
        covariance=np.eye(len(stations)) * error**2,
        shift=0.0,
        reach=60.0,
        spread_before=0.2,
        spread_after=0.05,
    )
    return replace(made, **changes)


def surveyed(plan: Plan | None = None, **changes: Any) -> Plan:
    return replace(plan or base(), survey=survey(**changes))


def closing(misclosure: float, allowed: float) -> Plan:
    run = Closure("levels.csv", "chamber to ram and back", misclosure, allowed, 4, 120.0)
    return surveyed(closures=(run,))


def walked(*, built: bool = False) -> Plan:
    as_built = AsBuilt(None, (), (), "") if built else None
    return line("delivery", walked=True, built=as_built)
