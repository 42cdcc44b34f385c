"""How runs of levels close: on a station already levelled, or on another known one."""

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.errors import InputError
from planner.levels.book import SIGHT_ERROR, SIGHT_LENGTH
from planner.levels.leg import Leg, Run
from planner.levels.loop import Loop, loops_of, rounds_of
from planner.levels.names import shown
from planner.levels.slip import Rows, exchanged, explained, sights_by_row, suspects
from planner.levels.value import Closure
from planner.units.show import System, show

# Closure of ordinary levelling: 24 mm times the root of the kilometres, 12 mm of good levelling
# (hydraulics notes, section 6 [GK-h]).
ORDINARY = 0.024  # m
GROSS_TIMES = 5.0  # allowed misclosures, from which on it is a slip and no scatter (setting)
GROSS = 0.1  # m; less moves no pipe by more than a hand, and is told but not refused (setting)
ERRORS = 2.0  # standard errors that other readings than a builder's level may miss by
LEAST_WITHIN = 0.002  # m: to what a run closes once its slip is mended
SURE = 0.05  # m: readings with larger errors judge nothing


@dataclass(frozen=True, slots=True)
class Closed:
    """A closure, the run that made it, whether its readings are fine enough to judge, a note."""

    closure: Closure
    run: Run
    between_known: bool
    fine: bool
    note: str | None


def closures(
    legs: Iterable[Leg], known: Iterable[Leg], units: System
) -> tuple[tuple[Closure, ...], tuple[str, ...]]:
    """How the runs of all files close; of each run the longest closure, and its worst if bad.

    Parameters
    ----------
    legs : iterable of Leg
        In the order they were read.
    known : iterable of Leg
        From the datum of a file of known points to each of them.
    units : {"metric", "us"}
        Of messages.

    Returns
    -------
    closures : tuple of Closure
    notes : tuple of str
        On sights that, exchanged, would make a bad run close, and on readings nothing checks.

    Raises
    ------
    InputError
        A run closes so badly that a reading must be wrong.
    """
    datums = tuple(known)
    roots = {leg.difference.start for leg in datums}
    legs = tuple(legs)
    loops = [*loops_of(itertools.chain(datums, legs)), *rounds_of(legs)]
    sights = sights_by_row(itertools.chain(datums, legs))
    ended = [_closure(loop, roots) for loop in loops]
    _refuse_slips(loops, ended, sights, units)
    found: list[Closed] = []
    proved: set[Run] = set()
    for loop, closure in zip(loops, ended, strict=True):
        found.append(_closed(loop, closure, roots, sights, units))
        if found[-1].fine:
            proved.update(leg.run for leg, _ in loop)
    telling = tuple(_telling(found))
    notes = tuple(closed.note for closed in telling if closed.note is not None)
    return tuple(closed.closure for closed in telling), (*notes, *_unproved(legs, proved))


def _unproved(legs: Iterable[Leg], proved: set[Run]) -> Iterator[str]:
    """Notes on runs and shots of which a wrong reading would go unseen."""
    runs: dict[str, dict[Run, list[Leg]]] = {}
    for leg in legs:
        if leg.difference.method in ("level", "hose") and leg.run not in proved:
            runs.setdefault(leg.run.file, {}).setdefault(leg.run, []).append(leg)
    for file, own in runs.items():
        first, last = (next(iter(own.values()))[i].difference for i in (0, -1))
        if first.method == "hose":
            shots = "1 shot was" if len(own) == 1 else f"{len(own)} shots were"
            what = f"{shots} taken once and in no round"
        elif len(own) > 1:
            what = f"{len(own)} runs neither come back nor end on a known point"
        else:
            what = (
                f"the run from {shown(first.start)} to {shown(last.end)} neither comes back nor "
                "ends on a known point"
            )
        yield f"{file}: {what}, so nothing tells of a wrong reading; level it back"


def _closure(loop: Loop, roots: set[str]) -> Closure:
    """How a loop of legs closes."""
    leg = loop[0][0]
    misclosure = sum(sign * one.difference.rise for one, sign in loop)
    setups, length = _extent(loop)
    noted = all(math.isfinite(one.difference.distance) for one, _ in loop if one.run.number)
    return Closure(
        leg.difference.row.file,
        _what(loop, roots),
        misclosure,
        _allowed(loop, setups, length),
        setups,
        length if noted else math.nan,
    )


def _closed(loop: Loop, closure: Closure, roots: set[str], sights: Rows, units: System) -> Closed:
    """A closure with what else is to be known of it."""
    fine = all(one.difference.error <= SURE for one, _ in loop)
    known = any(one.difference.start in roots for one, _ in loop)
    note = _doubted(closure, loop, sights, units)
    return Closed(closure, loop[0][0].run, known, fine, note)


def _extent(loop: Loop) -> tuple[int, float]:
    """Set-ups or shots of a loop and the length of their sights, reckoned where not noted [m]."""
    shots: dict[tuple[str, int, int], float] = {}
    for leg, _ in loop:
        if not leg.run.number:
            continue  # a known level
        own = leg.difference.row
        key = (own.file, leg.setup, 0) if leg.setup else (own.file, 0, own.line)
        noted = leg.difference.distance
        length = noted if math.isfinite(noted) else 2.0 * SIGHT_LENGTH
        shots[key] = max(shots.get(key, 0.0), length)
    return len(shots), sum(shots.values())


def _allowed(loop: Loop, setups: int, length: float) -> float:
    """What a loop may miss by [m]: ordinary levelling, and twice the error of all else."""
    others = sum(leg.difference.error**2 for leg, _ in loop if leg.difference.method != "level")
    if not any(leg.difference.method == "level" for leg, _ in loop):
        return ERRORS * math.sqrt(others)
    ordinary = ORDINARY * math.sqrt(length / 1000.0)
    least = SIGHT_ERROR * math.sqrt(2.0 * setups)  # two sights a set-up
    return math.hypot(max(ordinary, least), ERRORS * math.sqrt(others))


def _what(loop: Loop, roots: set[str]) -> str:
    """Which stations a loop runs between."""
    ends = [leg.difference.end for leg, _ in loop if leg.difference.start in roots]
    first = loop[0][0].difference
    if len(ends) == 2:
        return f"from {shown(ends[0])} to {shown(ends[1])}, both known"
    if len(loop) == 2 and {first.start, first.end} == _ends(loop[1][0]):
        return f"{shown(first.start)} to {shown(first.end)}, read twice"
    return f"from {shown(first.end)} round and back to it"


def _ends(leg: Leg) -> set[str]:
    return {leg.difference.start, leg.difference.end}


def _refuse_slips(loops: list[Loop], closures: list[Closure], sights: Rows, units: System) -> None:
    """Refuse readings of which one must be wrong, and name the one that explains it.

    Raises
    ------
    InputError
        A loop misses so badly that no scatter of readings does it.
    """
    ended = list(zip(loops, closures, strict=True))
    bad = [loop for loop, closure in ended if _gross(closure)]
    if not bad:
        return
    loop = min(bad, key=len)  # the shortest holds fewest rows to look at
    closure = closures[loops.index(loop)]
    blamed = suspects(bad, [loop for loop, closure in ended if closure.good])
    within = max(closure.allowed, LEAST_WITHIN)
    why = explained(loop, closure.misclosure, within, sights, blamed)
    raise InputError(_missed(closure, loop, units) + why)


def _gross(closure: Closure) -> bool:
    return abs(closure.misclosure) > max(GROSS_TIMES * closure.allowed, GROSS)


def _doubted(closure: Closure, loop: Loop, sights: Rows, units: System) -> str | None:
    """What to say of a run that misses by more than scatter, and would close with two exchanged."""
    if not abs(closure.misclosure) > 2.0 * closure.allowed:
        return None
    why = exchanged(loop, closure.misclosure, max(closure.allowed, LEAST_WITHIN), sights)
    return None if why is None else _missed(closure, loop, units) + why


def _missed(closure: Closure, loop: Loop, units: System) -> str:
    rows = sorted({str(leg.difference.row) for leg, _ in loop})
    where = " and ".join(rows) if len(rows) <= 2 else f"closing at {loop[0][0].difference.row}"
    sizes = (abs(closure.misclosure), closure.allowed)
    missed, allowed = (show(size, "level", units, decimals=3) for size in sizes)
    return (
        f"{closure.file}: the run {closure.what} ({where}) misses by {missed}, where {allowed} "
        "would be usual; "
    )


def _telling(found: Iterable[Closed]) -> Iterator[Closed]:
    """Of each run what a person wants to hear: between known points, the longest, the worst."""
    by_run: dict[Run, list[Closed]] = {}
    for closed in found:
        if closed.fine:
            by_run.setdefault(closed.run, []).append(closed)
    for own in by_run.values():
        told = [closed for closed in own if closed.between_known][:1]
        told += [max(own, key=lambda one: one.closure.setups)]
        worst = max(own, key=lambda one: abs(one.closure.misclosure) / one.closure.allowed)
        told += [worst] if all(one.closure.good for one in told) and not worst.closure.good else []
        yield from {id(one): one for one in told}.values()
