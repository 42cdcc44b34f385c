"""All checks on one plan."""

from planner.checks.table import CHECKS
from planner.record.value import Finding, Level, Plan

_ORDER: dict[Level, int] = {"stop": 0, "warn": 1, "note": 2}


def run(plan: Plan) -> tuple[Finding, ...]:
    """What the checks find in a computed plan.

    Parameters
    ----------
    plan : Plan
        Fully computed; findings it already has are not looked at.

    Returns
    -------
    tuple of Finding
        Stops, then warnings, then notes; within a level in the order of the table, then along
        the lines.
    """
    found = (finding for check in CHECKS for finding in check.find(plan))
    return tuple(sorted(found, key=lambda finding: _ORDER[finding.level]))
