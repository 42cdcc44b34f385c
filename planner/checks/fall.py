"""Fall and lift of the ram."""

from collections.abc import Iterator

from planner.checks.planned import expected, name_of
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Level, Plan

FALL_STOP = Limit(0.5, "USAID Water for the World RWS.4.D.5: fall of 0.5 m or more", "published")
FALL_WARN = Limit(1.0, "oldest trade tables start at 1 m", "published")
FALL_NOTE = Limit(2.0, "Warwick DTU ram papers: viable above about 2 m", "published")
FALL_HIGH = Limit(15.0, "German waterworks text: falls of 1 to 15 m in normal use", "published")
FALL_HIGHER = Limit(20.0, "trade tables end at 20 m; valves are pounded above", "setting")
RATIO_WARN = Limit(15.0, "Austrian installers: lift up to 15 falls", "published")
RATIO_STRONG = Limit(20.0, "Austrian installers, Eytelwein: 20 falls still run", "published")


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
    return (lift + (plan.water.lift_friction or 0.0)) / fall


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
