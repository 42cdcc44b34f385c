"""Fall and lift of the ram."""

import math
from collections.abc import Iterator

from planner.checks.planned import expected, name_of
from planner.checks.value import Limit, Values
from planner.hydraulics import limits
from planner.record.value import Finding, Level, Plan

FALL_STOP = Limit.low(limits.FALL_ANY)
FALL_WARN = Limit.low(limits.FALL_TABLED)
FALL_NOTE = Limit.low(limits.FALL_SURE)
FALL_HIGH = Limit.high(limits.FALL_NORMAL)
FALL_HIGHER = Limit.high(limits.FALL_TABLED)
RATIO_WARN = Limit.high(limits.RATIO_GOOD)
RATIO_STRONG = Limit.high(limits.RATIO_RUNS)


def low(plan: Plan) -> Iterator[Finding]:
    """Little fall; none at all is said elsewhere."""
    fall = expected(plan.water.fall)
    if plan.scheme != "ram" or fall is None or fall <= 0:
        return
    steps: tuple[tuple[Level, Limit], ...] = (
        ("stop", FALL_STOP),
        ("warn", FALL_WARN),
        ("note", FALL_NOTE),
    )
    for level, limit in steps:
        if fall < limit.value:
            values: Values = {"case": level, "fall_m": fall, "limit_m": limit.value}
            yield Finding(level, "fall-low", values, name_of(plan, "drive"))
            return


def high(plan: Plan) -> Iterator[Finding]:
    """So much fall that it wears the valves."""
    fall = expected(plan.water.fall)
    if plan.scheme == "ram" and fall is not None and fall > FALL_HIGH.value:
        level: Level = "warn" if fall > FALL_HIGHER.value else "note"
        values: Values = {"fall_m": fall, "limit_m": FALL_HIGH.value}
        yield Finding(level, "fall-high", values, name_of(plan, "drive"))


def _ratio(plan: Plan) -> float | None:
    """Lift with friction over fall, where a ram has both and enough fall to run."""
    fall, lift = expected(plan.water.fall), expected(plan.water.lift)
    if plan.scheme != "ram" or fall is None or lift is None or fall < FALL_STOP.value:
        return None
    friction = plan.water.lift_friction
    return (lift + (friction if friction is not None and math.isfinite(friction) else 0.0)) / fall


def _no_figures(plan: Plan) -> bool:
    """A yield was asked for and no published figures reach that far."""
    return plan.water.delivered is not None and expected(plan.water.delivered) is None


def lift_ratio(plan: Plan) -> Iterator[Finding]:
    """A lift of many falls."""
    ratio = _ratio(plan)
    if ratio is None or ratio <= RATIO_WARN.value or _no_figures(plan):
        return
    strong = ratio > RATIO_STRONG.value
    values: Values = {
        "case": "strong" if strong else "warn",
        "ratio": ratio,
        "limit": (RATIO_STRONG if strong else RATIO_WARN).value,
    }
    yield Finding("warn", "lift-ratio", values, name_of(plan, "delivery"))


def reach_too_far(plan: Plan) -> Iterator[Finding]:
    """A lift beyond all published figures."""
    ratio = _ratio(plan)
    fall, lift = expected(plan.water.fall), expected(plan.water.lift)
    if ratio is None or fall is None or lift is None or not _no_figures(plan):
        return
    if ratio > RATIO_WARN.value:
        values: Values = {"fall_m": fall, "lift_m": lift}
        yield Finding("stop", "reach-too-far", values, name_of(plan, "delivery"))


def yield_unknown(plan: Plan) -> Iterator[Finding]:
    """No published figures, though the lift is ordinary: the fall or the flow is not."""
    ratio = _ratio(plan)
    if ratio is not None and ratio <= RATIO_WARN.value and _no_figures(plan):
        yield Finding("warn", "yield-unknown", {}, name_of(plan, "delivery"))
