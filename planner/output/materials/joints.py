"""Couplings, elbows, reducers and the clamps they take."""

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from planner.output.materials.bends import elbow_angle, elbows
from planner.output.materials.gather import Need
from planner.output.materials.sizes import Fit, fit_of, slug
from planner.output.materials.value import Article, Group, PipeOrder
from planner.record.value import Line, Plan
from planner.record.works import PipeRun
from planner.site.value import LineRole
from planner.units.show import show

GROUP: Group = "joints and bends"
# Couplings bought beyond those counted, of each size [trade guess]: a coil is found flattened or a
# pipe is cut through by the spade, and the shop is far.
SPARE = 1
UNDER_PRESSURE: tuple[LineRole, ...] = ("drive", "delivery", "main", "distribution")


def joint_needs(
    plan: Plan, lines: tuple[Line, ...], orders: tuple[PipeOrder, ...]
) -> Iterator[Need]:
    """Couplings by size; elbows and reducers where the line has them; clamps for their ends."""
    sizes: dict[str, Fit] = {}
    for line in lines:
        for run in line.runs if line.role in UNDER_PRESSURE else ():
            fit = fit_of(line, run, plan.site.units)
            sizes.setdefault(fit.code, fit)
        yield from _couplings(plan, line, orders)
        yield from _elbows(plan, line)
        yield from _changes(plan, line)
    for fit in sizes.values():
        yield _coupled(fit, "spare", SPARE, "in case a pipe is cut through")
        yield from clamps(fit, "spare", 2 * SPARE)


def clamps(fit: Fit, place: str, ends: int) -> Iterator[Need]:
    """Clamps, in pairs, for ends that are pushed over barbs; none for other joints."""
    if fit.clamps:
        words = f"Hose clamps, stainless, for {fit.words}, the pair"
        article = Article(f"clamps-{fit.code}", GROUP, "buy", words, "pair")
        yield Need(article, place, ends, "two a barb")


def _coupled(fit: Fit, place: str, count: int, why: str) -> Need:
    name = fit.coupling[0].upper() + fit.coupling[1:]
    article = Article(f"coupling-{fit.code}", GROUP, "buy", f"{name}, {fit.words}", "piece")
    return _joining(article, fit, place, count, why)


def _joining(article: Article, fit: Fit, place: str, count: int, why: str) -> Need:
    """A fitting with two ends that are pushed, screwed or glued on."""
    threads, glued = 2 * int(fit.threaded), 2 * int(fit.glued)
    return Need(article, place, count, why, threads=threads, glued=glued)


def _couplings(plan: Plan, line: Line, orders: tuple[PipeOrder, ...]) -> Iterator[Need]:
    """Between pieces of a run, and where one class gives way to another of the same size."""
    pieces = {
        (run.start_m, run.end_m): run.pieces
        for order in orders
        for run in order.runs
        if run.line == line.name
    }
    for run in line.runs:
        fit = fit_of(line, run, plan.site.units)
        count = pieces[run.start_m, run.end_m] - 1
        why = f"{run.form} to {run.form}"
        why += "; sticks often come with one" if fit.threaded else ""
        yield _coupled(fit, line.name, count, why)
        yield from clamps(fit, line.name, 2 * count)
    for before, after in pairwise(line.runs):
        if not _resized(before, after):
            fit = fit_of(line, after, plan.site.units)
            yield _coupled(fit, line.name, 1, "change of class")
            yield from clamps(fit, line.name, 2)


def _resized(before: PipeRun, after: PipeRun) -> bool:
    one, other = before.pipe, after.pipe
    return (one.nominal, one.standard) != (other.nominal, other.standard)


def _elbows(plan: Plan, line: Line) -> Iterator[Need]:
    found = elbows(line)
    counts = Counter((run, elbow_angle(turn)) for run, turn in found)
    for (run, angle), count in counts.items():
        fit = fit_of(line, run, plan.site.units)
        kind = "Long-sweep bend" if line.role == "drive" else "Elbow"
        words = f"{kind} {angle}, {fit.words}"
        of_it = [turn for its, turn in found if its is run and elbow_angle(turn) == angle]
        where = ", ".join(show(turn.chainage_m, "length", plan.site.units) for turn in of_it)
        article = Article(slug(words), GROUP, "buy", words, "piece")
        why = f"turns more sharply than the pipe bends, at {where}"
        yield _joining(article, fit, line.name, count, why)
        yield from clamps(fit, line.name, 2 * count)


def _changes(plan: Plan, line: Line) -> Iterator[Need]:
    for before, after in pairwise(line.runs):
        if _resized(before, after):
            one, other = (fit_of(line, run, plan.site.units) for run in (before, after))
            words = f"Reducing coupling, {one.words} to {other.words}"
            article = Article(slug(words), GROUP, "buy", words, "piece")
            at = show(after.start_m, "length", plan.site.units)
            yield _joining(article, one, line.name, 1, f"change of size at {at}")
            yield from clamps(one, line.name, 1)
            yield from clamps(other, line.name, 1)
