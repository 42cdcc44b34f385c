"""The source's flow, what is taken of it, and whether it serves the need."""

import math
from collections.abc import Iterator

from planner.checks.planned import expected
from planner.checks.value import Limit, Values
from planner.record.value import Finding, Plan

DAY = 86400.0  # s

SHARE_LEFT = Limit(0.3, "30 to 50 % of the lowest flow stays in a small stream", "setting")
ROUNDING = Limit(1.01, "a flow is not known to one part in a hundred", "setting")


def below_need(plan: Plan) -> Iterator[Finding]:
    """Delivered water against the need."""
    band, need, middle = plan.water.delivered, plan.water.need, expected(plan.water.delivered)
    if band is None or middle is None or need is None or float(band.low) >= need:
        return
    values: Values = {
        "expected_m3": middle,
        "low_m3": float(band.low),
        "high_m3": float(band.high),
        "need_m3": need,
    }
    if middle >= need:
        yield Finding("note", "yield-below-need", {**values, "case": "maybe"})
    elif float(band.high) < need:
        yield Finding("warn", "yield-below-need", {**values, "case": "far"})
    else:
        yield Finding("warn", "yield-below-need", values)


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


def share_left_low(plan: Plan) -> Iterator[Finding]:
    """Little left in the stream."""
    share = plan.site.source.share_left
    if share < SHARE_LEFT.value:
        yield Finding("warn", "share-left-low", {"share_left": share, "limit": SHARE_LEFT.value})


def flow_unknown(plan: Plan) -> Iterator[Finding]:
    """No flow was measured."""
    if plan.water.source_flow is None:
        yield Finding("warn", "flow-unknown")


def flow_not_dry_season(plan: Plan) -> Iterator[Finding]:
    """A flow that may not be there in a dry year."""
    source = plan.site.source
    if plan.water.source_flow is None:
        return
    if source.season == "wet":
        yield Finding("warn", "flow-not-dry-season", {"case": "wet"})
    elif source.measured is None:
        yield Finding("warn", "flow-not-dry-season", {"case": "undated"})
    elif source.season is None:
        yield Finding("warn", "flow-not-dry-season", {"case": "unsaid"})
