"""Fittings that are decided and do nothing where they stand."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from planner.checks.fitted import decided
from planner.checks.spot import on_line
from planner.record.value import Finding, Line, Plan
from planner.record.works import Decided
from planner.terrain.frame import to_local

if TYPE_CHECKING:
    from planner.checks.value import Values

TURNS = {"vent": "high", "washout": "low"}


def idle(plan: Plan) -> Iterator[Finding]:
    """Vents and washouts that lie off their line, where it does not turn, or draw in air."""
    placed = {one.number for line in plan.lines for one in line.decided}
    for number, fit in enumerate(plan.site.fit):
        if number not in placed:
            x, y = to_local(plan.terrain, [fit.at])[0].tolist()
            values: Values = {"case": "off", "kind": fit.kind, "on": fit.line}
            yield Finding("warn", "fit-idle", values | {"number": number + 1.0}, at=(x, y))
    for line in plan.lines:
        for one in line.decided:
            yield from _on(line, one)


def _on(line: Line, one: Decided) -> Iterator[Finding]:
    values: Values = {"number": one.number + 1.0}
    if not one.at_turn:
        values |= {"case": "stray", "kind": one.kind, "turn": TURNS[one.kind]}
        yield on_line(line, one.index, "note", "fit-idle", values)
    elif line.air is not None and line.air.enough and not decided(line, one.chainage_m, one.kind):
        yield on_line(line, one.index, "warn", "fit-idle", values | {"case": "draws-air"})
