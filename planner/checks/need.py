"""What is asked of the source, and whether what is delivered serves the need."""

import math
from collections.abc import Iterator

from planner.band import Band
from planner.checks.planned import chosen, expected
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Plan

DAY = 86400.0  # s

ROUNDING = Limit(1.01, "a flow is not known to one part in a hundred", "setting")


def below_need(plan: Plan) -> Iterator[Finding]:
    """Delivered water against the need, both as bands."""
    band, need, middle = plan.water.delivered, _needed(plan), expected(plan.water.delivered)
    if band is None or middle is None or need is None or float(band.low) >= float(need.high):
        return
    values: Values = {
        "expected_m3": middle,
        "low_m3": float(band.low),
        "high_m3": float(band.high),
        "need_m3": float(need.expected),
    }
    if float(need.high) > float(need.low):
        values |= {"need_low_m3": float(need.low), "need_high_m3": float(need.high)}
    if middle >= float(need.expected):
        yield Finding("note", "yield-below-need", {**values, "case": "maybe"})
    elif float(band.high) < float(need.low):
        yield Finding("warn", "yield-below-need", {**values, "case": "far"})
    else:
        yield Finding("warn", "yield-below-need", values)


def _needed(plan: Plan) -> Band | None:
    """The need with its spread [m³/day]; exact where it was told as one figure."""
    if plan.water.need_band is not None or plan.water.need is None:
        return plan.water.need_band
    return Band.exact(plan.water.need)


def takes_too_much(plan: Plan) -> Iterator[Finding]:
    """More asked of the source than it gives, or than may be taken."""
    water = plan.water
    if water.source_flow is None or water.taken is None:
        return
    asked = max((water.need or 0.0) / DAY, _drawn(plan))
    values: Values = {
        "asked": asked,
        "source": water.source_flow,
        "taken": water.taken,
        "share_left": plan.site.source.share_left,
    }
    if asked > ROUNDING.value * water.source_flow:
        yield Finding("stop", "takes-too-much", {**values, "case": "all"})
    elif asked > ROUNDING.value * water.taken:
        yield Finding("warn", "takes-too-much", {**values, "case": "share"})


def _drawn(plan: Plan) -> float:
    """Flow of all lines that start at a source [m³/s]."""
    sources = {point.name for point in plan.points if point.role == "source"}
    flows = (line.water.flow for line in plan.lines if line.water and line.start in sources)
    return sum(flow for flow in flows if math.isfinite(flow))


def pump_draws_more(plan: Plan) -> Iterator[Finding]:
    """A powered pump that would draw more than comes: it runs dry."""
    draws, there = plan.water.pump_draws, plan.water.taken
    if draws is not None and there is not None and draws > ROUNDING.value * there:
        pump = chosen(plan, "pump")
        values: Values = {"draws": draws, "there": there}
        yield Finding("warn", "pump-draws-more", values, at=None if pump is None else pump.xy)
