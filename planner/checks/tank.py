"""The tank: whether it lasts from day to day, and what it weighs.

No tank makes up for a delivery below the need; that is said by yield-below-need, and no size is
told, for it would only grow with the days followed.
"""

import math
from collections.abc import Iterator

from planner.checks.planned import chosen, expected
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Level, Placed, Plan
from planner.record.works import TankWorks

STAND_HIGHEST = Limit(1.0, "a stand above 1 m is an engineer's work [m]", "setting")
STAND_LARGEST = Limit(1.0, "a tank above 1 m³ on any stand is an engineer's work [m³]", "setting")


def _place(plan: Plan) -> tuple[float, float] | None:
    tank: Placed | None = chosen(plan, "tank")
    return None if tank is None else tank.xy


def _serving(plan: Plan) -> TankWorks | None:
    """The tank's works where enough is delivered for some tank to serve the need."""
    need, delivered = plan.water.need, expected(plan.water.delivered)
    return None if need is None or delivered is None or delivered < need else plan.water.tank


def too_small(plan: Plan) -> Iterator[Finding]:
    """A tank that runs empty though enough is delivered."""
    works = _serving(plan)
    if works is None or works.volume is None or works.storage is None:
        return
    short = works.storage.shortage_days
    if short > 0:
        values: Values = {
            "short": float(short),
            "days": float(works.days),
            "volume_m3": works.volume,
            "smallest_m3": works.smallest,
        }
        yield Finding("warn", "tank-too-small", values, at=_place(plan))


def smallest(plan: Plan) -> Iterator[Finding]:
    """The tank to buy, where none was named."""
    works = _serving(plan)
    if works is not None and works.volume is None and works.smallest > 0.0:
        values: Values = {"smallest_m3": works.smallest, "days": float(works.days)}
        yield Finding("note", "tank-smallest", values, at=_place(plan))


def load(plan: Plan) -> Iterator[Finding]:
    """What the full tank weighs, and whether an engineer is to see to what carries it."""
    works = plan.water.tank
    if works is None or works.load is None:
        return
    volume = works.volume if works.volume is not None else works.smallest
    if works.volume is None and _serving(plan) is None:
        return
    values: Values = {
        "volume_m3": volume,
        "mass": works.load.mass,
        "footing_m2": works.load.footing,
        "fill_s": works.fill_time if math.isfinite(works.fill_time) else math.nan,
    }
    level: Level = "note"
    if works.load.engineer:
        level, values["case"] = "warn", "engineer"
        if plan.site.tank.stand > 0.0:
            values["stand_m"] = plan.site.tank.stand
    yield Finding(level, "tank-load", values, at=_place(plan))
