"""Findings in words, with their numbers."""

from planner.output.sheets.content import Numbered
from planner.record.value import Plan
from planner.wording.findings import sentence


def numbered(plan: Plan) -> tuple[Numbered, ...]:
    """The plan's findings in words, numbered by their place as on map and list."""
    rows = []
    for number, finding in enumerate(plan.findings, start=1):
        words = sentence(finding, plan.site.units)
        rows.append(
            Numbered(
                number,
                finding.level,
                words.message,
                words.remedy,
                finding.line,
                finding.chainage_m,
            )
        )
    return tuple(rows)
