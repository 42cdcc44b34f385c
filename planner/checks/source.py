"""The source: what its flow stands on, what stays in the stream, and the intake it needs."""

from collections.abc import Iterator

from planner.checks.planned import chosen, name_of
from planner.checks.value import Limit, Values
from planner.hydraulics.intake import APPROACH_PASSIVE
from planner.record.value import Finding, Plan

SHARE_LEFT = Limit(0.3, "30 to 50 % of the lowest flow stays in a small stream", "setting")
APPROACH = Limit(
    APPROACH_PASSIVE, "fish screen criteria: 0.2 ft/s, a screen nobody cleans [m/s]", "published"
)


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
    source = plan.site.gauged
    if plan.water.source_flow is None:
        return
    case = _basis(plan)
    if case == "dry":
        if source.measured is None:
            yield Finding("warn", "flow-not-dry-season", {"case": "undated"})
        return
    values: Values = {"case": case}
    if case == "reduced" and source.season_factor is not None:
        values["low"], values["high"] = source.season_factor
    yield Finding("warn", "flow-not-dry-season", values)


def _basis(plan: Plan) -> str:
    """What the lowest flow stands on: a dry reading, a wet one, or a season nobody stated."""
    source, intake = plan.site.gauged, plan.water.intake
    dry = source.season == "dry" if intake is None else intake.lowest.for_design
    if dry:
        return "dry"
    if intake is not None and intake.lowest.basis == "wet reading, reduced":
        return "reduced"
    return "unsaid" if source.season is None else "wet"


def intake(plan: Plan) -> Iterator[Finding]:
    """Screen, chamber and cover to build for the flow taken."""
    works, source = plan.water.intake, chosen(plan, "source")
    if works is None:
        return
    chamber = works.chamber
    values: Values = {
        "screen_m2": works.screen.area,
        "open_m2": works.screen.opening,
        "cover_m": works.cover,
        "length_m": chamber.length,
        "width_m": chamber.width,
        "depth_m": chamber.depth,
    }
    at = None if source is None else source.xy
    yield Finding("note", "intake", values, name_of(plan, "supply"), at=at)
