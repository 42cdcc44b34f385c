"""The cautions a plan calls for: short, true, and only those that concern it."""

from collections.abc import Callable

from planner.record.value import Plan

_Concerns = Callable[[Plan], bool]


def _always(plan: Plan) -> bool:
    return True


def _ram(plan: Plan) -> bool:
    return plan.scheme == "ram"


def _powered(plan: Plan) -> bool:
    return plan.scheme == "powered"


def _vessels(plan: Plan) -> bool:
    return any(point.role in {"tank", "chamber"} for point in plan.points)


def _tank(plan: Plan) -> bool:
    return any(point.role == "tank" for point in plan.points)


def _outlet(plan: Plan) -> bool:
    return any(point.role == "outlet" for point in plan.points)


def _lines(plan: Plan) -> bool:
    return bool(plan.lines)


def _trench(plan: Plan) -> bool:
    return any(line.settings.laying.manner == "buried" for line in plan.lines)


def _unlevelled(plan: Plan) -> bool:
    return plan.terrain.provenance.kind != "levelled"


# In order of how soon and how badly each can hurt; the general ones frame the list.
CAUTIONS: dict[str, tuple[_Concerns, str]] = {
    "codes": (_always, "Local codes and licensed practice come first."),
    "levels": (
        _unlevelled,
        "Numbers from elevation data are to be levelled on the ground before pipe is cut.",
    ),
    "waste-valve": (
        _ram,
        "Keep fingers clear of the waste valve: it shuts without warning, with the force of the"
        " whole drive pipe.",
    ),
    "delivery-open": (_ram, "Never shut the delivery line while the ram is running."),
    "electric": (_powered, "A licensed electrician connects and protects the powered pump."),
    "trench": (_trench, "Trenches collapse: shore or slope them, and never work in one alone."),
    "services": (_trench, "Have buried cables and pipes located before digging."),
    "alone": (_vessels, "Nobody enters a tank or chamber alone."),
    "lids": (_vessels, "Lock lids against children."),
    "load": (
        _tank,
        "Loaded tanks are heavy and tip: one cubic metre of water weighs one tonne, 1,000 US"
        " gallons over 8,300 lb.",
    ),
    "air-test": (_lines, "Test pipes with water, never with compressed air."),
    "surge": (_lines, "Pipes are under pressure and surge: open and close valves slowly."),
    "air-gap": (_outlet, "Keep an air gap between every inlet pipe and the water in a trough."),
    "drinking": (
        _always,
        "Untreated water is not drinking water; disinfect drinking lines after every work on them.",
    ),
    "rights": (_always, "Check water rights and permits before taking water or crossing land."),
}


def cautions(plan: Plan) -> tuple[str, ...]:
    """The cautions that concern a plan, one sentence each, in plain text.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    tuple of str
        In the order in which to show them; never empty.
    """
    return tuple(text for concerns, text in CAUTIONS.values() if concerns(plan))
