"""Way points that lead a line round a high point."""

from collections.abc import Iterator

from shapely.geometry import Point

from planner.record.value import Finding, Line, Plan
from planner.remedies.found import SAME, line_of, lonlat_at
from planner.remedies.value import Remedy
from planner.routing.options import Option
from planner.site.edits.value import AddPoint, Edit, Several
from planner.wording.quantity import show

NAMED = "Round the high point"


def detour(plan: Plan, finding: Finding) -> Iterator[Remedy]:
    """The way round that was weighed, where a few way points hold the line to it."""
    line = line_of(plan, finding)
    found = None if line is None else _weighed(line, finding)
    spared = finding.values.get("case") == "spared"
    if line is None or found is None or spared or _shared(plan, line):
        return
    edits: list[Edit] = []
    for place, name in zip(found.pins, _names(plan, len(found.pins)), strict=True):
        at = lonlat_at(plan, place)
        edits.append(AddPoint("way", at, name, line.role, _before(plan, line, place)))
    words = "Lead it round with a way point" if len(edits) == 1 else "Lead it round"
    if found.pipe_m >= 1.0:
        words += f", {show(found.pipe_m, 'about', plan.site.units)} more"
    yield Remedy("way-point", words, edits[0] if len(edits) == 1 else Several(words, (*edits,)))


def _weighed(line: Line, finding: Finding) -> Option | None:
    """The detour that spares the vent at a finding's place."""
    at = finding.chainage_m
    options = (
        option
        for choice in line.choices
        if at is not None and choice.chosen == "vent" and abs(choice.chainage_m - at) < SAME
        for option in choice.others
        if option.kind == "detour" and option.pins
    )
    return next(options, None)


def _shared(plan: Plan, line: Line) -> bool:
    """Whether other lines of the role would have to pass the way point too."""
    roles = [one.role for one in plan.lines] + [one.role for one in plan.blocked]
    return roles.count(line.role) > 1


def _before(plan: Plan, line: Line, place: tuple[float, float]) -> str | None:
    """The next way point of the sketch along the line."""
    roles = {point.name: point.line for point in plan.site.sketch.role("way")}
    along = line.path
    here = along.project(Point(place))
    after = [
        (along.project(Point(point.xy)), point.name)
        for point in plan.points
        if roles.get(point.name) == line.role and along.project(Point(point.xy)) > here
    ]
    return min(after)[1] if after else None


def _names(plan: Plan, count: int) -> list[str]:
    """Names that nobody has taken."""
    taken = {point.name.casefold() for point in plan.points}
    names = (NAMED if number == 1 else f"{NAMED} {number}" for number in range(1, 2000))
    free = (name for name in names if name.casefold() not in taken)
    return [next(free) for _ in range(count)]
