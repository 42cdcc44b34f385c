"""Whose land a line crosses."""

from collections.abc import Iterator

from planner.checks.value import Limit, Values
from planner.record.value import Finding, Plan

METRES_LEAST = Limit(0.5, "less is drawing error [m]", "setting")


def crosses_owner(plan: Plan) -> Iterator[Finding]:
    """Metres of each line on each owner's land."""
    for share in plan.owners:
        if share.owner is not None and share.metres > METRES_LEAST.value:
            values: Values = {"owner": share.owner, "metres_m": share.metres}
            yield Finding("note", "crosses-owner", values, share.line)


def nobodys_land(plan: Plan) -> Iterator[Finding]:
    """Metres on land of no owner listed, where owners are listed at all."""
    if not any(area.role == "owner" for area in plan.areas):
        return
    for share in plan.owners:
        if share.owner is None and share.metres > METRES_LEAST.value:
            yield Finding("warn", "nobodys-land", {"metres_m": share.metres}, share.line)
