"""The fewest vents with which a gravity line starts and runs, where they stand, of what kind."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

from planner.errors import OutsideRange
from planner.hydraulics.air_lock import (
    StartUp,
    Undulations,
    leg_friction,
    pocket_height,
    start_up,
)
from planner.hydraulics.domain import MOST_HEAD, between, positive
from planner.hydraulics.samples import sample_index

STANDPIPE_MOST = 10.0  # m, setting: higher open pipes are taken for unhandy
STANDPIPE_SPARE = 0.5  # m, setting: top above the highest level, against surge and waves
VALVE_SEALS = 5.0  # m, setting, 2 to 5: an automatic valve leaks under less
ROUNDING = 1e-6  # m; a line that carries all it can has no head to spare, and runs all the same
MOST_KEPT = 64  # choices of equal number kept side by side, none better in both; rarely above 3

VentKind = Literal["standpipe", "air-valve", "hand-cock"]


class Running(NamedTuple):
    """The line in service at the flow that is wanted of it.

    Attributes
    ----------
    friction : sequence of n + 1 floats
        Head lost from source to first crest, from crest to crest, from the last to the outlet [m].
    cleared : collection of int
        Crests (from 0) whose leg that flow surely sweeps clear.
    """

    friction: Sequence[float]
    cleared: Collection[int] = ()


@dataclass(frozen=True, slots=True)
class VentChoice:
    """Where vents are needed.

    Attributes
    ----------
    crests : tuple of int
        Crests (from 0) that need one, in the order of the flow.
    start : StartUp
        The line's start with them.
    run : StartUp or None
        The same for the running line; None where nothing was asked of it.
    proved : bool
        Whether no choice of fewer can do; False only on lines so odd that the search was cut.
    """

    crests: tuple[int, ...]
    start: StartUp
    run: StartUp | None
    proved: bool


class _Choice(NamedTuple):
    start: float  # level the first crest met so far must be pushed to, m
    run: float
    vented: tuple[int, ...]


def fewest_vents(
    line: Undulations,
    barometric: float,
    *,
    running: Running | None = None,
    forbidden: Collection[int] = (),
    given: Collection[int] = (),
) -> VentChoice | None:
    """Fewest vents that make a line start, and run at a flow; the widest margin among as few.

    Worked from the last crest upstream. Of all choices with one number of vents only those are
    kept that no other beats both in the level needed to start and in that needed to run: both
    grow with the level needed behind them, so what is beaten once is beaten to the end.

    Parameters
    ----------
    line : Undulations
    barometric : float
        Barometric head at the site [m], above 0 and at most 20.
    running : Running, optional
        The service it must be able to give.
    forbidden : collection of int
        Crests (from 0) that can't have one, such as those above the running grade line, where a
        vent would let air in.
    given : collection of int
        Crests (from 0) that have one already, whatever is chosen; not one that is forbidden.

    Returns
    -------
    VentChoice or None
        None where all the vents allowed are not enough: a wider pipe or another line is needed.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, or a crest is named that isn't there.

    Examples
    --------
    >>> line = Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0)
    >>> fewest_vents(line, 10.1).crests
    (1,)
    """
    n = len(line.crests)
    air = float(positive("barometric", barometric, 20.0))
    lost = leg_friction(line, None if running is None else running.friction)
    swept = set() if running is None else {sample_index("crest", k, n) for k in running.cleared}
    barred = {sample_index("crest", k, n) for k in forbidden}
    fixed = {sample_index("crest", k, n) for k in given} - barred
    kept, proved = [[_Choice(line.outlet, line.outlet, ())]], True
    for k in reversed(range(n)):
        sealed = k < len(line.sags)
        if k in fixed:
            kept = [[_vented(line, k, one, lost[k + 1]) for one in choices] for choices in kept]
            continue
        kept, cut = _step(line, k, kept, (air, lost[k + 1], k in swept), sealed and k not in barred)
        proved = proved and not cut
    for choices in kept:
        able = [
            c for c in choices
            if c.start < line.source and c.run + lost[0] <= line.source + ROUNDING
        ]  # fmt: skip
        if able:
            best = max(able, key=lambda c: line.source - max(c.start, c.run + lost[0]))
            return VentChoice(
                best.vented,
                start_up(line, air, best.vented),
                running
                and start_up(line, air, best.vented, cleared=swept, friction=running.friction),
                proved,
            )
    return None


def _step(
    line: Undulations,
    crest: int,
    kept: list[list[_Choice]],
    state: tuple[float, float, bool],
    may_vent: bool,
) -> tuple[list[list[_Choice]], bool]:
    """Choices by number of vents, one crest further upstream, and whether some were dropped."""
    air, lost, swept = state
    top, sealed = line.crests[crest], crest < len(line.sags)

    def shut(level: float) -> float:
        return level + pocket_height(line, crest, level, air) if sealed else max(level, top)

    wider: list[list[_Choice]] = [[] for _ in range(len(kept) + may_vent)]
    for count, choices in enumerate(kept):
        for start, run, vented in choices:
            after = max(run + lost, top) if swept else shut(run + lost)
            wider[count].append(_Choice(shut(start), after, vented))
            if may_vent:
                choice = _Choice(start, run, vented)
                wider[count + 1].append(_vented(line, crest, choice, lost))
    fronts = [_unbeaten(choices) for choices in wider]
    return [front[:MOST_KEPT] for front in fronts], any(len(f) > MOST_KEPT for f in fronts)


def _vented(line: Undulations, crest: int, behind: _Choice, lost: float) -> _Choice:
    """A choice with a vent at the next crest upstream."""
    top = line.crests[crest]
    start, run, vented = behind
    return _Choice(max(start, top), max(run + lost, top), (crest, *vented))


def _unbeaten(choices: list[_Choice]) -> list[_Choice]:
    front: list[_Choice] = []
    for choice in sorted(choices):
        if not front or choice.run < front[-1].run:
            front.append(choice)
    return front


@dataclass(frozen=True, slots=True)
class Vent:
    """What lets the air out at a crest.

    Attributes
    ----------
    kind : {"standpipe", "air-valve", "hand-cock"}
        Open pipe; valve that opens and shuts by itself; cock opened by hand while filling, and
        shut after.
    height : float
        Top of the standpipe above the crest [m]; NaN for the others.
    by_hand : bool
        Whether air gathers again while the line runs, so that someone must let it out.
    """

    kind: VentKind
    height: float
    by_hand: bool


def vent_kind(
    open_head: float,
    closed_head: float,
    *,
    cleared: bool | None = None,
    seals: float = VALVE_SEALS,
    highest: float = STANDPIPE_MOST,
) -> Vent | None:
    """The kind of vent a crest takes; None where it must have none.

    A cock for filling where the flow sweeps the air on; else an open standpipe where it needn't
    be too high; else an automatic valve where there's the pressure to shut it; else a cock, and
    someone who goes there.

    Parameters
    ----------
    open_head, closed_head : float
        Pressure head at the crest with the outlets open, and with all shut [m, gauge].
    cleared : bool or None
        Whether the flow surely carries the air of the leg behind it on.
    seals : float
        Least pressure head at which an automatic valve shuts tight [m].
    highest : float
        The highest standpipe put up [m].

    Returns
    -------
    Vent or None
        None where the pressure is negative, with outlets open or shut: it would suck air in.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd; the message names it.

    Examples
    --------
    >>> vent_kind(3.0, 6.0)
    Vent(kind='standpipe', height=6.5, by_hand=False)
    >>> vent_kind(12.0, 30.0).kind, vent_kind(2.0, 30.0).kind, vent_kind(-1.0, 4.0)
    ('air-valve', 'hand-cock', None)
    """
    running = float(between("open_head", open_head, -MOST_HEAD, MOST_HEAD))
    still = float(between("closed_head", closed_head, -MOST_HEAD, MOST_HEAD))
    tight = float(between("seals", seals, 0.0, MOST_HEAD))
    most = float(between("highest", highest, 0.0, MOST_HEAD))
    nan = float("nan")
    if min(running, still) < 0:
        return None
    if cleared is True:
        return Vent("hand-cock", nan, by_hand=False)
    height = max(running, still) + STANDPIPE_SPARE
    if height <= most:
        return Vent("standpipe", height, by_hand=False)
    if min(running, still) >= tight:
        return Vent("air-valve", nan, by_hand=False)
    return Vent("hand-cock", nan, by_hand=True)


def place_vents(
    line: Undulations,
    barometric: float,
    open_head: Sequence[float],
    closed_head: Sequence[float],
    running: Running | None = None,
) -> tuple[VentChoice, tuple[Vent, ...]] | None:
    """The fewest vents of a line with the kind of each, none where the pressure is negative.

    Parameters
    ----------
    line, barometric, running
        As for `fewest_vents`.
    open_head, closed_head : sequence of n floats
        Pressure heads at the crests with the outlets open, and with all shut [m, gauge].

    Returns
    -------
    (VentChoice, tuple of Vent) or None
        Kinds in the order of the choice's crests; None where vents don't help.

    Raises
    ------
    OutsideRange
        A value is NaN or absurd, or there is not one head for each crest.

    Examples
    --------
    >>> line = Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0)
    >>> choice, kinds = place_vents(line, 10.1, [2.0, 1.0, 0.5], [5.0, 6.0, 10.0])
    >>> choice.crests, kinds[0].kind, kinds[0].height
    ((1,), 'standpipe', 6.5)
    """
    n = len(line.crests)
    for name, heads in (("open_head", open_head), ("closed_head", closed_head)):
        if len(heads) != n:
            msg = f"{name} must be one for each of {n} crests, got {len(heads)}"
            raise OutsideRange(msg)
    swept = set() if running is None else set(running.cleared)
    kinds = [
        vent_kind(open_, closed, cleared=k in swept or None)
        for k, (open_, closed) in enumerate(zip(open_head, closed_head, strict=True))
    ]
    barred = [k for k, kind in enumerate(kinds) if kind is None]
    choice = fewest_vents(line, barometric, running=running, forbidden=barred)
    if choice is None:
        return None
    return choice, tuple(kind for k in choice.crests if (kind := kinds[k]) is not None)
