"""Pipe: metres along the slope, what is bought beyond them, coils or sticks, and what remains."""

from collections.abc import Iterator
from dataclasses import replace

from planner.output.materials.gather import Need, gather
from planner.output.materials.ground import rough_length
from planner.output.materials.loads import carriers_of
from planner.output.materials.packing import pack, whole_and_rest
from planner.output.materials.sizes import pipe_article
from planner.output.materials.value import Article, Item, LaidRun, PipeOrder
from planner.record.value import Line, Plan
from planner.record.works import PipeRun
from planner.site.field import Rates
from planner.units.show import show
from planner.wording.quantity import show as show_kind


def pipe_orders(plan: Plan, lines: tuple[Line, ...]) -> tuple[PipeOrder, ...]:
    """The pipe of every article whose class is chosen or likened, packed in coils or sticks.

    Parameters
    ----------
    lines : tuple of Line
        Those to be bought for; a line that is there twice is laid twice.
    """
    runs: dict[Article, list[tuple[PipeRun, LaidRun]]] = {}
    for line in lines:
        for run in line.runs:
            article = pipe_article(line, run, plan.site.units)
            runs.setdefault(article, []).append((run, _laid(plan, line, run)))
    return tuple(_order(article, found) for article, found in runs.items())


def _laid(plan: Plan, line: Line, run: PipeRun) -> LaidRun:
    rough = rough_length(plan, line, run.start_m, run.end_m)
    net = run.end_m - run.start_m
    spare = spare_of(plan.site.rates, net, rough)
    whole, rest = whole_and_rest(net + spare, run.piece)
    return LaidRun(line.name, run.start_m, run.end_m, rough, spare, whole + bool(rest))


def spare_of(rates: Rates, net: float, rough: float) -> float:
    """Pipe bought beyond a length [m], of which so much lies in stony ground or rock."""
    return (net - rough) * rates.allowance + rough * rates.rough_allowance


def _order(article: Article, found: list[tuple[PipeRun, LaidRun]]) -> PipeOrder:
    first = found[0][0]
    laid = tuple(run for _, run in found)
    mass = first.pipe.mass * first.piece
    return PipeOrder(article, first.form, first.piece, mass, laid, pack(laid, first.piece))


def pipe_items(
    plan: Plan, lines: tuple[Line, ...], orders: tuple[PipeOrder, ...]
) -> tuple[Item, ...]:
    """The rows of pipe: whole coils or sticks, or metres where no class was chosen."""
    by_article = {order.article: order for order in orders}
    found = []
    for item in gather(_needs(plan, lines)):
        order = by_article.get(item.article)
        if order is None:
            found.append(replace(item, note="choose a class before buying: length alone is known"))
        else:
            note = _note(order, plan)
            found.append(replace(item, quantity=float(len(order.pieces)), note=note))
    return tuple(found)


def _needs(plan: Plan, lines: tuple[Line, ...]) -> Iterator[Need]:
    units = plan.site.units
    for line in lines:
        for run in line.runs or (None,):
            start, end = (run.start_m, run.end_m) if run else (0.0, line.profile.length)
            rough = rough_length(plan, line, start, end)
            spare = spare_of(plan.site.rates, end - start, rough)
            why = f"{show(end - start, 'length', units)} along the slope"
            why += f" + {show(spare, 'length', units)} for bends and cuts"
            article = pipe_article(line, run, units)
            yield Need(article, line.name, end - start + spare, why)


def _note(order: PipeOrder, plan: Plan) -> str:
    units = plan.site.units
    wanted = sum(run.wanted_m for run in order.runs)
    bought = len(order.pieces) * order.length
    text = f"{show(bought, 'length', units)} bought, {show(wanted, 'length', units)} wanted"
    text += f", {show(order.left_m, 'length', units)} over"
    carriers = carriers_of(order.mass, plan.site.rates.load)
    weight = show_kind(order.mass, "mass", units)
    text += f"; {weight} a {order.form}, {carriers} to carry it"
    shared = sum(len({cut.line for cut in piece.cuts}) > 1 for piece in order.pieces)
    if shared:
        text += f"; {shared} {order.form}{'' if shared == 1 else 's'} cut for several lines"
    if order.left_m > 0.5 * order.length:
        text += "; a merchant who cuts to length spares most of that"
    return text
