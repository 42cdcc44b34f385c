"""Valves between structures, unions and wall fittings at both ends of every line."""

from collections.abc import Iterator

from planner.output.materials.gather import Need
from planner.output.materials.sizes import Fit, fit_of
from planner.output.materials.threads import adapter, nipple, piece, tee, through_wall, union
from planner.output.materials.value import Article
from planner.record.value import Line, Placed, Plan
from planner.site.value import LineRole

# Where a line is shut, and by what. Waste and overflow are never shut.
VALVES: dict[LineRole, tuple[str, str]] = {
    "supply": ("start", "Isolating valve, full bore"),
    "drive": ("end", "Drive valve, full bore"),
    "delivery": ("start", "Delivery valve, to shut and to throttle"),
    "main": ("start", "Isolating valve, full bore"),
    "distribution": ("start", "Isolating valve, full bore"),
}
TROUGHS = ("trough", "stock tank", "waterer", "drinker")  # in an outlet's name
WALLED = ("chamber", "tank", "source")  # structures that pipes pass the wall of


def valve_needs(plan: Plan, line: Line) -> Iterator[Need]:
    """What stands at both ends of a line."""
    fits = (
        fit_of(line, line.runs[0] if line.runs else None, plan.site.units),
        fit_of(line, line.runs[-1] if line.runs else None, plan.site.units),
    )
    points = {point.name: point for point in plan.points}
    where, words = VALVES.get(line.role, ("", ""))
    for end, name, fit in (("start", line.start, fits[0]), ("end", line.end, fits[1])):
        point = points.get(name)
        if end == where:
            yield Need(piece("valves", words, fit), line.name, 1, f"at {name}")
            yield nipple(fit, line.name, "between valve and union")
        if point is not None:
            yield from _joined(plan, line, point, fit, shut=end == where)
    if line.role == "delivery":
        yield from _delivery(plan, line, fits[0])
    if line.role == "drive":
        why = f"in {line.start}, over the pipe's mouth"
        yield Need(piece("valves", "Strainer", fits[0]), line.name, 1, why)
    if line.role in ("waste", "overflow"):
        article = piece("valves", "End screen against animals, hinged", fits[1])
        yield Need(article, line.name, 1, "its open end")


def _joined(plan: Plan, line: Line, point: Placed, fit: Fit, *, shut: bool) -> Iterator[Need]:
    """How a line joins the structure or outlet at one of its ends."""
    if point.role == "outlet":
        yield from _outlet(plan, line, point, fit)
        return
    if line.role == "waste":  # it drains the pit the ram stands in
        yield through_wall(fit, line.name, f"through the wall of the pit at {point.name}")
        return
    if point.role in WALLED:
        yield through_wall(fit, line.name, f"through the wall of {point.name}")
    if point.role == "pump" or shut:
        yield from union(fit, line.name, point.name)
    elif point.role in WALLED:
        yield from adapter(fit, line.name, f"at {point.name}")


def _outlet(plan: Plan, line: Line, point: Placed, fit: Fit) -> Iterator[Need]:
    yield from adapter(fit, line.name, f"at {point.name}")
    yield Need(piece("valves", "Outlet valve or tap", fit), line.name, 1, f"at {point.name}")
    if any(word in point.name.casefold() for word in TROUGHS):
        why = f"{point.name} is a trough, by its name"
        yield Need(piece("valves", "Float valve with its guard", fit), line.name, 1, why)
    post = Article("outlet-post", "valves", "buy", "Post or bracket that holds an outlet", "piece")
    yield Need(post, line.name, 1, f"at {point.name}")


def _delivery(plan: Plan, line: Line, fit: Fit) -> Iterator[Need]:
    """A cock that empties the line at its foot; a check valve where the pump has none."""
    why = f"drain at {line.start}, for frost and repair"
    yield from tee(fit, line.name, why)
    yield Need(piece("valves", "Drain cock", fit), line.name, 1, why)
    if plan.scheme == "powered":
        check = piece("valves", "Check valve, spring-loaded", fit)
        yield Need(check, line.name, 1, f"at {line.start}: the pump has none of its own")
