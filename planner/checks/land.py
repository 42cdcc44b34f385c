"""Whose land a line crosses."""

from collections.abc import Iterator

from planner.checks.value import Limit, Values
from planner.record.value import Finding, OwnerShare, Plan

METRES_LEAST = Limit(0.5, "less is drawing error [m]", "setting")


def crosses_owner(plan: Plan) -> Iterator[Finding]:
    """Metres of pipe on each owner's land, line by line."""
    crossed: dict[str, list[OwnerShare]] = {}
    for share in plan.owners:
        if share.owner is not None and share.metres > METRES_LEAST.value:
            crossed.setdefault(share.owner, []).append(share)
    for owner, shares in crossed.items():
        values: Values = {
            "owner": owner,
            "metres_m": sum(share.metres for share in shares),
            "lines": ", ".join(share.line for share in shares),
        }
        yield Finding("note", "crosses-owner", values)


def nobodys_land(plan: Plan) -> Iterator[Finding]:
    """Metres on land of no owner listed, where owners are listed at all."""
    if not any(area.role == "owner" for area in plan.areas):
        return
    for share in plan.owners:
        if share.owner is None and share.metres > METRES_LEAST.value:
            yield Finding("warn", "nobodys-land", {"metres_m": share.metres}, share.line)
