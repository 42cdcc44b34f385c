"""What to look at when water stops: the causes this scheme can have, the likeliest first."""

from collections.abc import Iterator

from planner.checks.fitted import fitted
from planner.output.owner.care import frost_told, shallow_lines
from planner.output.owner.fittings import Fitting
from planner.output.owner.words import Item, Section, freezes, has, listed, name_of, the
from planner.record.value import Plan
from planner.units.show import show
from planner.wording.quantity import show as say


def fault_section(plan: Plan, found: tuple[Fitting, ...]) -> Section:
    """Causes in the order in which they are worth looking at."""
    return Section("When water stops", tuple(_faults(plan, found)) if plan.lines else (), least=7)


def _faults(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[Item]:
    yield Item(_source(plan), lead="Source low or dry?")
    yield Item(
        f"Clear it at {the(plan, 'source', 'the source')}; look for air drawn in beside it.",
        lead="Screen blocked?",
    )
    valves = [str(one.number) for one in found if one.kind == "valve"]
    if valves:
        yield Item(f"{listed(valves, 8)} must all be open.", lead="Valve shut?")
    if plan.scheme == "ram":
        yield from _ram(plan)
    if plan.scheme == "powered":
        yield Item("Power, fuse, water in the casing; have it seen to.", lead="Pump stopped?")
    yield from _air(plan, found)
    yield Item(
        "Shut the valves one by one from the far end; where the flow or the tank's level holds, the"
        " leak lies beyond. Look for wet or green ground.",
        lead="Leak?",
    )
    yield from _frost(plan)


def _source(plan: Plan) -> str:
    taken = plan.water.taken
    if taken is None:
        return "Time it with bucket and watch."
    return f"It takes {show(taken, 'flow', plan.site.units)}: time what comes."


def _ram(plan: Plan) -> Iterator[Item]:
    chamber = the(plan, "chamber", "the chamber")
    yield Item(
        f"Valve stays open: too little water, or grit under it; see that {chamber} is full, clean"
        " the valve, start again. Valve stays shut: push it open, stroke by stroke, with a tool.",
        lead="Ram silent?",
    )
    yield Item(
        "The air vessel is full of water (it hammers): drain it. Or the delivery valve leaks: renew"
        " its rubber.",
        lead="Ram beats, delivers little?",
    )


def _air(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[Item]:
    """Air at the high points, each named with its place."""
    vents = [one for one in found if one.kind == "vent"]
    vented = {(one.line, round(one.chainage_m, 1)) for one in vents}
    places = [f"{one.number} ({one.where})" for one in vents]
    bare = [
        f"{say(high.chainage_m, 'station', plan.site.units)} of {name_of(line.name)}"
        for line in plan.lines
        if line.role in ("delivery", "main", "distribution")
        for high in line.high_points
        if (line.name, round(high.chainage_m, 1)) not in vented
        and not fitted(line, high.chainage_m, "vent")
    ]
    if places:
        yield Item(f"Open the vent at {listed(places, 3)} until water comes.", lead="Air?")
    if bare:
        yield Item(
            f"It gathers at the high point at {listed(bare, 3)}, which has no vent: open the far"
            " end full and let it run.",
            lead="Air without a vent?",
        )
    if not places and not bare and has(plan, "main", "distribution"):
        yield Item("Open the far end full until it runs without spitting.", lead="Air?")


def _frost(plan: Plan) -> Iterator[Item]:
    if freezes(plan) and plan.site.season == "all-year":
        shallow = shallow_lines(plan)
        where = f" {listed(shallow)} first" if shallow else " valves and taps first"
        yield Item(
            f"The ground freezes to {frost_told(plan)}: thaw{where}, with warm water, no flame.",
            lead="Frost?",
        )
