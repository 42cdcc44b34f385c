"""Cautions for the owner, and whom to tell."""

from collections import defaultdict
from collections.abc import Iterator

from planner.output.owner.words import Item, Section, has, listed, name_of
from planner.output.print.type import printable
from planner.record.value import Plan
from planner.units.show import show
from planner.wording.cautions import CAUTIONS

MOST_TOLD = 90  # letters of one whom the user named
FOR_OWNERS = ("drinking", "electric", "surge", "alone", "lids")


def caution_section(plan: Plan) -> Section:
    """The cautions that concern whoever lives with the scheme, water that is drunk first.

    That of a ram's waste valve stands where its start is told.
    """
    chosen = (CAUTIONS[code] for code in FOR_OWNERS)
    items = tuple(Item(text) for concerns, text in chosen if concerns(plan))
    return Section("Take care", items, least=len(items), run_in=True)


def told_section(plan: Plan) -> Section:
    """Whom the user named, then those the plan itself points at."""
    return Section("Whom to tell", tuple(_told(plan)), least=4)


def _told(plan: Plan) -> Iterator[Item]:
    for who in plan.site.papers.told:
        yield Item(printable(who, MOST_TOLD))
    units, water = plan.site.units, plan.water
    if water.taken is not None:
        flow = show(water.taken, "flow", units)
        yield Item(
            f"The plan takes {flow}: ask the water authority whether a right is needed.",
            lead="Water:",
        )
    elif plan.lines:
        yield Item("Ask the water authority whether a right is needed.", lead="Water:")
    land = _land(plan)
    if land:
        yield Item(
            f"The lines cross land of {listed(land, 5)}: agree in writing, with leave to dig"
            " again.",
            lead="Land:",
        )
    crossed = _crossed(plan)
    if crossed:
        yield Item(
            f"The lines cross {listed(crossed, 5)}: ask whoever keeps them before digging.",
            lead="Crossings:",
        )
    if has(plan, "distribution") or has(plan, "main"):
        yield Item(
            "Ask the health authority how water that is drunk must be treated and tested.",
            lead="Drinking:",
        )


def _land(plan: Plan) -> list[str]:
    metres: defaultdict[str, float] = defaultdict(float)
    for share in plan.owners:
        if share.owner is not None:
            metres[share.owner] += share.metres
    ranked = sorted(metres.items(), key=lambda one: -one[1])
    return [f"{name_of(who)} ({show(far, 'distance', plan.site.units)})" for who, far in ranked]


def _crossed(plan: Plan) -> list[str]:
    crossed = [one for line in plan.lines for one in line.crossed]
    named = list(dict.fromkeys(name_of(one.name) for one in crossed if one.name))
    streams = sum(1 for one in crossed if not one.name)
    if streams:
        named.append("a stream" if streams == 1 else f"streams at {streams} places")
    return named
