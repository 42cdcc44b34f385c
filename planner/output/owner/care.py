"""The yearly care: each task only if the plan has the part, gathered by when it is due."""

from collections.abc import Callable, Iterator

from planner.checks.place import FROST_SPARE
from planner.output.owner.fittings import Fitting, Kind
from planner.output.owner.words import Item, Section, freezes, has, listed, name_of, the
from planner.record.value import Plan
from planner.units.show import show


def care_section(plan: Plan, found: tuple[Fitting, ...]) -> Section:
    """Tasks by season, the most frequent first."""
    seasons: tuple[tuple[str, Callable[[Plan, tuple[Fitting, ...]], Iterator[str]]], ...] = (
        ("After every storm:", _storm),
        ("Every month:", _month),
        ("Late in the dry season:", _dry),
        ("Before frost:", _frost),
        ("Each spring:", _spring),
    )
    items = (
        Item(f"{text[0].upper()}{text[1:]}.", lead=when)
        for when, tasks in seasons
        if plan.lines and (text := "; ".join(tasks(plan, found)))
    )
    return Section("Care through the year", tuple(items), least=5)


def _numbers(found: tuple[Fitting, ...], *kinds: Kind) -> str:
    return listed([str(one.number) for one in found if one.kind in kinds], most=8)


def _has(found: tuple[Fitting, ...], kind: Kind) -> bool:
    return any(one.kind == kind for one in found)


def _storm(plan: Plan, _: tuple[Fitting, ...]) -> Iterator[str]:
    yield f"clear leaves and gravel off the screen at {the(plan, 'source', 'the source')}"
    if any(point.role == "chamber" for point in plan.points):
        yield f"look into {the(plan, 'chamber', 'the chamber')} and drain its silt"


def _month(plan: Plan, _: tuple[Fitting, ...]) -> Iterator[str]:
    if plan.scheme == "ram":
        yield "count the ram's beats, and tighten what has shaken loose"
    if plan.scheme == "powered":
        yield "listen to the pump and look at its seal"
    if has(plan, "overflow"):
        yield "see that the overflow is open"
    yield "walk the lines: wet ground where none was is a leak"


def _dry(plan: Plan, _: tuple[Fitting, ...]) -> Iterator[str]:
    yield "time the source and what is delivered, with bucket and watch, and write both down"


def _frost(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[str]:
    if not freezes(plan):
        return
    washouts = _numbers(found, "washout", "drain")
    emptied = f" at {washouts}" if washouts else ""
    if plan.site.season == "summer":
        yield f"shut the inlet and empty every line{emptied}; leave valves and vents half open"
        return
    shallow = shallow_lines(plan)
    if shallow:
        yield f"cover {listed(shallow)}, or empty them{emptied}: frost reaches them"
    else:
        yield "see that covers of valve boxes lie tight"
    if plan.scheme == "ram":
        yield "keep the ram beating, or empty it and both its pipes"


def shallow_lines(plan: Plan) -> list[str]:
    """Lines that frost reaches, by name."""
    deep = (plan.site.frost_depth or 0.0) + FROST_SPARE.value
    return [
        name_of(line.name)
        for line in plan.lines
        if line.role not in ("waste", "overflow") and bool((line.profile.depth < deep).any())
    ]


def _spring(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[str]:
    if plan.scheme == "ram":
        yield (
            "stop the ram, drain its air vessel so that it fills with air, renew worn valve"
            " rubbers, clear the snifter, tighten all bolts"
        )
    if _has(found, "washout"):
        yield f"flush the washout at {_numbers(found, 'washout')} until it runs clear"
    if _has(found, "vent"):
        yield f"see that the air comes out freely at {_numbers(found, 'vent')}, clean the screen"
    if _has(found, "break-pressure tank"):
        yield "see that the float valves of the break-pressure tanks shut tight"
    if any(point.role == "tank" for point in plan.points):
        yield f"empty and clean {the(plan, 'tank', 'the tank')} from outside, see to its lid"
    yield "turn every valve once"


def frost_told(plan: Plan) -> str:
    """How deep the ground freezes."""
    return show(plan.site.frost_depth or 0.0, "length", plan.site.units)
