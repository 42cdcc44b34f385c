"""How the water gets there, and what the plan leaves out."""

from collections.abc import Iterator
from typing import TYPE_CHECKING

from planner.checks.planned import chosen, expected, served
from planner.record.value import Finding, Level, Placed, Plan
from planner.site.value import LineRole

if TYPE_CHECKING:
    from planner.checks.value import Values

_ONE_EACH = {"source", "pump", "tank"}
_PASS_WAYS: set[LineRole] = {"supply", "delivery", "main", "distribution"}  # others run straight


def gravity_works(plan: Plan) -> Iterator[Finding]:
    """Why there is no ram."""
    fall = expected(plan.water.fall)
    if plan.scheme == "gravity" and plan.scheme_reason == "tank-below-source":
        yield Finding("note", "gravity-works", {} if fall is None else {"fall_m": fall})


def ram_needed(plan: Plan) -> Iterator[Finding]:
    """Why there is a ram."""
    if plan.scheme != "ram":
        return
    yield Finding("note", "ram-needed", _above_source(plan))


def _above_source(plan: Plan) -> "Values":
    """How far the tank lies above the source, or below it with too little fall for a pipe."""
    source, goal = chosen(plan, "source"), _goal(plan)
    if source is None or goal is None:
        return {}
    above = goal.level - source.level
    return {"above_m": above} if above >= 0.0 else {"case": "little-fall", "fall_m": -above}


def _goal(plan: Plan) -> Placed | None:
    """The tank, or the outlet that stands for one."""
    return chosen(plan, "tank") or chosen(plan, "outlet")


def powered(plan: Plan) -> Iterator[Finding]:
    """A pump with a curve of its own."""
    if plan.scheme == "powered":
        yield Finding("note", "powered")


def ram_above_source(plan: Plan) -> Iterator[Finding]:
    """A ram that stands as high as the water that should drive it."""
    pump = chosen(plan, "pump")
    if plan.scheme != "ram" or pump is None:
        return
    for feed in (chosen(plan, "source"), chosen(plan, "chamber")):
        if feed is not None and pump.level >= feed.level:
            values: Values = {"above_m": pump.level - feed.level, "feed": feed.name}
            yield Finding("stop", "ram-above-source", values, at=pump.xy)
            return


def tank_above_source(plan: Plan) -> Iterator[Finding]:
    """A tank or outlet no water can reach by itself, and no pump."""
    source, goal = chosen(plan, "source"), _goal(plan)
    if plan.scheme == "gravity" or source is None or goal is None:
        return
    if chosen(plan, "pump") is None:
        values: Values = {**_above_source(plan), "tank": goal.name, "source": source.name}
        yield Finding("stop", "tank-above-source", values, at=goal.xy)


def not_planned(plan: Plan) -> Iterator[Finding]:
    """Points of the sketch that no line serves."""
    names = served(plan)
    placed = {point.name: point.xy for point in plan.points}
    passed = {line.role for line in plan.lines} | {line.role for line in plan.blocked}
    passed &= _PASS_WAYS
    for point in plan.site.sketch.points:
        if point.name in names or (point.role == "way" and point.line in passed):
            continue
        values: Values = {"point": point.name, "role": point.role}
        if point.role in _ONE_EACH:
            one = chosen(plan, point.role)
            unused = point.role == "pump" and plan.scheme == "gravity"
            if unused or one is None or one.name == point.name:
                continue
        else:
            values["case"] = point.role
        level: Level = "warn" if point.role == "outlet" else "note"
        yield Finding(level, "not-planned", values, at=placed.get(point.name))


def pump_not_used(plan: Plan) -> Iterator[Finding]:
    """A pump point where gravity does the work."""
    if plan.scheme != "gravity":
        return
    placed = {point.name: point.xy for point in plan.points}
    for point in plan.site.sketch.role("pump"):
        if point.name not in served(plan):
            yield Finding("note", "pump-not-used", {"point": point.name}, at=placed.get(point.name))


def chamber_placed(plan: Plan) -> Iterator[Finding]:
    """A chamber the user did not set."""
    for point in plan.points:
        if point.role == "chamber" and point.by_program:
            yield Finding("note", "chamber-placed", {"point": point.name}, at=point.xy)
