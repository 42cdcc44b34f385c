"""`materials_of`: all that a plan takes; `priced_materials`: the same with the user's prices."""

from collections.abc import Iterator

from planner.output.materials.cost import Priced, priced
from planner.output.materials.earthwork import CAUTION, earth_needs, land_needs, work_needs, work_of
from planner.output.materials.gather import Need, gather, listed
from planner.output.materials.ground import EDGES, dug, unknown_length
from planner.output.materials.joints import joint_needs
from planner.output.materials.loads import loads_of, unweighed
from planner.output.materials.marking import marking_needs, peg_needs
from planner.output.materials.openings import opening_needs
from planner.output.materials.pipes import pipe_items, pipe_orders
from planner.output.materials.prices import read_prices
from planner.output.materials.said import said_needs
from planner.output.materials.structures import structure_needs
from planner.output.materials.threads import sealing
from planner.output.materials.tools import tool_needs
from planner.output.materials.value import Dug, Materials, PipeOrder
from planner.output.materials.valves import valve_needs
from planner.record.value import Line, Plan
from planner.units.show import show


def materials_of(plan: Plan) -> Materials:
    """Goods, earth, loads and days of a plan, each with how its number came about.

    Lines that are laid already need nothing more, and are left out. Where several rams stand side
    by side, the drive pipe is listed once for each.

    Parameters
    ----------
    plan : Plan
        The same plan gives the same list.
    """
    rams = _rams(plan)
    lines = tuple(
        line
        for line in plan.lines
        if line.built is None
        for _ in range(rams if line.role == "drive" else 1)
    )
    trench = tuple(row for line in lines for row in dug(plan, line))
    orders = pipe_orders(plan, lines)
    rest = gather(_needs(plan, lines, orders, trench, rams))
    items = listed((*pipe_items(plan, lines, orders), *rest))
    rates, units = plan.site.rates, plan.site.units
    return Materials(
        title=plan.site.title,
        made=plan.made,
        units=units,
        items=items,
        pipes=orders,
        trench=trench,
        edges=EDGES[units],
        work=work_of(rates, trench, lines),
        carried=loads_of(items, rates.load),
        unweighed=unweighed(items),
        owned=plan.owners,
        notes=tuple(_notes(plan, lines, trench)),
        trench_width=rates.trench_width,
        load=rates.load,
    )


def priced_materials(plan: Plan) -> Priced:
    """The materials with the user's prices, where the site names a list of them.

    Raises
    ------
    InputError
        The price list can't be read or used; the message names its file and line.
    """
    rates = plan.site.rates
    prices = None if rates.prices is None else read_prices(rates.prices, rates.currency)
    return priced(materials_of(plan), prices)


def _rams(plan: Plan) -> int:
    """How many rams stand side by side: as the plainest arrangement has it."""
    works = plan.water.ram
    return works.options[0].count if works is not None and works.options else 1


def _needs(
    plan: Plan,
    lines: tuple[Line, ...],
    orders: tuple[PipeOrder, ...],
    trench: tuple[Dug, ...],
    rams: int,
) -> Iterator[Need]:
    """All but the pipe itself."""
    joined = [*joint_needs(plan, lines, orders)]
    for line in lines:
        joined += [*said_needs(plan, line), *valve_needs(plan, line), *opening_needs(plan, line)]
    joined += tool_needs(plan, lines, trench)
    yield from joined
    yield from sealing(joined)
    yield from structure_needs(plan, rams)
    for line in lines:
        yield from marking_needs(plan, line)
    yield from peg_needs(plan, lines)
    yield from earth_needs(trench, plan.site.units)
    yield from work_needs(plan, trench, lines)
    yield from land_needs(plan)


def _notes(plan: Plan, lines: tuple[Line, ...], trench: tuple[Dug, ...]) -> Iterator[str]:
    units = plan.site.units
    yield "Every fitting and valve must bear at least what the pipe beside it bears."
    for line in plan.lines:
        if line.built is not None:
            yield f"{line.name} is laid already: nothing is listed for it."
    for blocked in plan.blocked:
        yield f"{blocked.name} has no route: nothing is listed for it."
    for line in lines:
        lost = unknown_length(line)
        if lost:
            told = show(lost, "length", units)
            yield f"{line.name}: the ground is not known along {told}; no trench is counted there."
    if any(not run.named for line in lines for run in line.runs):
        yield (
            "Pipe of which only the bore was said is likened to the nearest that is made: choose "
            "size and class before buying, for fittings go by them."
        )
    if any(row.depth == 3 for row in trench):
        yield CAUTION
