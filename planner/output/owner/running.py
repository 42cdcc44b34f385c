"""How the scheme is started and stopped."""

from collections.abc import Iterator

from planner.hydraulics.ram_start import STEPS
from planner.output.owner.fittings import Fitting, valve_number
from planner.output.owner.words import Item, Section, has, listed, the
from planner.record.value import Line, Plan
from planner.site.value import LineRole
from planner.wording.quantity import show as say
from planner.wording.texts.ram import STEP_WORDS

VALVE_NAMES: dict[str, LineRole] = {"delivery valve": "delivery", "drive valve": "drive"}


def running_section(plan: Plan, found: tuple[Fitting, ...]) -> Section:
    """Start and stop, for the kind of scheme there is."""
    items: list[Item] = []
    if plan.scheme == "ram" and has(plan, "drive"):
        items += _ram(plan, found)
    if plan.scheme == "powered" and has(plan, "delivery"):
        items += _powered(plan, found)
    if has(plan, "main"):
        items += _gravity(plan, found, "main", the(plan, "tank", "the tank"))
    if has(plan, "distribution"):
        items += _outlets(plan, found)
    return Section("To start and to stop", tuple(items), least=4)


def _first(plan: Plan, role: LineRole) -> Line | None:
    return next((line for line in plan.lines if line.role == role), None)


def _number(plan: Plan, found: tuple[Fitting, ...], role: LineRole) -> str:
    line = _first(plan, role)
    return "" if line is None else valve_number(found, line.name)


def _ram(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[Item]:
    works = plan.water.ram
    steps = STEPS if works is None else works.start.steps
    text = "; ".join(STEP_WORDS[step] for step in steps)
    for name, role in VALVE_NAMES.items():
        text = text.replace(f"the {name}", f"the {name}{_number(plan, found, role)}", 1)
    full = filling(plan)
    if full:
        text = text.replace("until the line is full", f"until the line is full ({full})", 1)
    if works is not None:
        text += f" (about {works.beat.cycle.beats:.0f} a minute)"
    yield Item(f"{text}.", lead="Start the ram:")
    drive, delivery = (_number(plan, found, role) for role in VALVE_NAMES.values())
    yield Item(
        f"shut the drive valve{delivery}, then the delivery valve{drive}. Never shut the delivery"
        " line while the ram runs.",
        lead="Stop it:",
    )


def _powered(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[Item]:
    valve = _number(plan, found, "delivery")
    yield Item(
        "see that its inlet stands well under water and its casing is full; open the delivery"
        f" valve{valve} a little, switch on, open it slowly to the full.",
        lead="Start the pump:",
    )
    yield Item(f"switch off, then shut the delivery valve{valve}.", lead="Stop it:")


def _gravity(plan: Plan, found: tuple[Fitting, ...], role: LineRole, to: str) -> Iterator[Item]:
    valve = _number(plan, found, role)
    yield Item(
        f"open the main valve{valve} a quarter, slowly;{_air(plan, found, (role,))} wait until"
        f" water comes at {to} without spitting; then open it full, slowly.",
        lead="Start:",
    )
    yield Item(
        f"shut the main valve{valve} slowly, over half a minute: a valve slammed shut bursts pipe.",
        lead="Stop:",
    )


def _outlets(plan: Plan, found: tuple[Fitting, ...]) -> Iterator[Item]:
    numbers = [
        str(one.number)
        for one in found
        if one.kind == "valve" and plan.line(one.line).role == "distribution"
    ]
    tank = the(plan, "tank", "the tank")
    air = _air(plan, found, ("distribution",))
    yield Item(
        f"with water in {tank}, open {'valve' if len(numbers) == 1 else 'valves'}"
        f" {listed(numbers)} slowly, the outlet open;{air} shut the outlet slowly when it runs"
        " without spitting.",
        lead="Fill the outlets' lines:",
    )


def _air(plan: Plan, found: tuple[Fitting, ...], roles: tuple[LineRole, ...]) -> str:
    numbers = [
        str(one.number) for one in found if one.kind == "vent" and plan.line(one.line).role in roles
    ]
    if not numbers:
        return ""
    order = ", in this order" if len(numbers) > 1 else ""
    return f" let the air out at {listed(numbers)}{order};"


def filling(plan: Plan) -> str:
    """How long the delivery line takes to fill; "" where that is not known."""
    works = plan.water.ram
    if works is None or not works.start.filling_time > 0.0:
        return ""
    return say(works.start.filling_time, "duration", plan.site.units)
