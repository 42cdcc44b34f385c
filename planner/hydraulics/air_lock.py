"""Whether a gravity line with several undulations starts at all, with the air shut into it.

At the first filling water spills over a crest, pools in the sag behind it and seals the air of
the falling leg between. Each such pocket must be lifted against; together they can take more head
than the source has. Static analysis, worst case: each falling leg all air, each rising leg all
water; a leg of one slope and bore; the air keeps the temperature of the water.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from math import sqrt

import numpy.typing as npt

from planner.errors import OutsideRange
from planner.hydraulics.domain import MOST_HEAD, between, positive
from planner.hydraulics.samples import MOST_SAMPLES, sample_index

MOST_CRESTS = 1000


@dataclass(frozen=True, slots=True)
class Undulations:
    """Levels of a line's turning points in the order of the flow [m].

    Parameters
    ----------
    source : float
        Water level where the line begins.
    crests : tuple of n floats
        The highest points, at most 1000.
    sags : tuple of n - 1 or n floats
        The low point behind each crest. With n - 1 the last leg falls to the outlet and runs
        free; with n the line climbs from its last sag to the outlet.
    outlet : float
        Where the water leaves the line.

    Raises
    ------
    OutsideRange
        A level is NaN or absurd, or the levels do not go up and down in turn.
    """

    source: float
    crests: tuple[float, ...]
    sags: tuple[float, ...]
    outlet: float

    def __post_init__(self) -> None:
        for name in ("source", "crests", "sags", "outlet"):
            between(f"{name} level", getattr(self, name), -MOST_HEAD, MOST_HEAD)
        n, m = len(self.crests), len(self.sags)
        if n > MOST_CRESTS or m not in {n, max(n - 1, 0)}:
            msg = f"a line needs a sag between each two of up to {MOST_CRESTS} crests, got {n}, {m}"
            raise OutsideRange(msg)
        for k, sag in enumerate(self.sags):
            if sag >= min(self.crests[k], self.after(k)):
                msg = f"sag {k + 1} at {sag:g} m must lie below the crests on both sides of it"
                raise OutsideRange(msg)
        if n > m and self.outlet >= self.crests[-1]:
            msg = f"the outlet at {self.outlet:g} m must lie below the last crest or behind a sag"
            raise OutsideRange(msg)

    def after(self, crest: int) -> float:
        """Level to which the water must climb next behind a crest: a crest, or the outlet."""
        return self.crests[crest + 1] if crest + 1 < len(self.crests) else self.outlet


def undulations(
    pipe: npt.ArrayLike, crests: Sequence[int], lows: Sequence[int], source: float
) -> Undulations:
    """Turning levels of a laid line.

    Parameters
    ----------
    pipe : (n,) array
        Level of the pipe along the flow [m].
    crests, lows : sequence of int
        Samples where it turns from rising to falling, and from falling to rising. Low points
        before the first crest fill with water and shut nothing in.
    source : float
        Water level where the line begins [m].

    Raises
    ------
    OutsideRange
        As for `Undulations`.

    Examples
    --------
    >>> undulations([9, 8, 9.5, 7, 8, 5], [2, 4], [1, 3], 12)
    Undulations(source=12.0, crests=(9.5, 8.0), sags=(7.0,), outlet=5.0)
    """
    z = between("pipe level", pipe, -MOST_HEAD, MOST_HEAD)
    if z.ndim != 1 or not 2 <= z.size <= MOST_SAMPLES:
        msg = f"pipe level must be a row of 2 or more levels, got {z.shape}"
        raise OutsideRange(msg)
    highs = sorted(sample_index("crest", k, z.size) for k in crests)
    first = highs[0] if highs else z.size
    behind = sorted(k for k in (sample_index("low point", k, z.size) for k in lows) if k > first)
    return Undulations(
        float(source),
        tuple(float(z[k]) for k in highs),
        tuple(float(z[k]) for k in behind),
        float(z[-1]),
    )


@dataclass(frozen=True, slots=True)
class StartUp:
    """Whether the line starts, and what stands in its way.

    Attributes
    ----------
    starts : bool
        Whether the margin is above 0.
    pockets : tuple of n floats
        Height of the air left in the leg behind each crest [m]; 0 where vented, or running free.
    heads : tuple of n floats
        Pressure head at each crest that it takes to push the water out of the far end [m].
    needed : float
        That of the first crest, or 0 on a line without crests [m].
    available : float
        Level of the source above the first crest (the outlet, without crests) [m].
    margin : float
        Available less needed, less the friction before the first crest [m].
    """

    starts: bool
    pockets: tuple[float, ...]
    heads: tuple[float, ...]
    needed: float
    available: float
    margin: float


def start_up(
    line: Undulations,
    barometric: float,
    vented: Collection[int] = (),
    *,
    cleared: Collection[int] = (),
    friction: Sequence[float] | None = None,
) -> StartUp:
    """Static start-up, air pressed together at constant temperature, from the last pocket upstream.

    A pocket behind crest i of height a and pressure p, in a leg of height d, holds a (B + p) =
    d B and stands under the water of the next crest, p = p' + z' - (z - a). A line starts if the
    head the first crest needs is below what the source has over it. With `friction` and `cleared`
    it is the same balance for a line that runs. No suction is counted on: no crest below 0.

    Parameters
    ----------
    line : Undulations
    barometric : float
        Barometric head B at the site [m], above 0 and at most 20. The lower it is, the less air
        is shut in, and the easier the line starts.
    vented : collection of int
        Crests (from 0) from which the air can leave.
    cleared : collection of int
        Crests (from 0) from whose leg the flow has carried the air.
    friction : sequence of n + 1 floats, optional
        Head lost from source to first crest, from crest to crest and from the last to the outlet
        [m], each 0 or more. None: still water.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd, or a crest is named that isn't there.

    Notes
    -----
    Uniform legs; a leg steep at its top and flat at its foot keeps a higher pocket than told.

    References
    ----------
    Corcos' manual for spring-fed gravity systems has the same method.

    Examples
    --------
    >>> line = Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0)
    >>> locked = start_up(line, 10.1)
    >>> locked.starts, round(locked.needed, 2), locked.available
    (False, 8.11, 5.0)
    >>> start_up(line, 10.1, vented=[1]).starts
    True
    """
    n = len(line.crests)
    air = float(positive("barometric", barometric, 20.0))
    open_legs = {sample_index("crest", k, n) for k in (*vented, *cleared)}
    lost = leg_friction(line, friction)
    level, pockets, heads = line.outlet, [0.0] * n, [0.0] * n
    for k in reversed(range(n)):
        level += lost[k + 1]
        if k in open_legs or k >= len(line.sags):
            level = max(level, line.crests[k])
        else:
            pockets[k] = pocket_height(line, k, level, air)
            level += pockets[k]
        heads[k] = level - line.crests[k]
    first = line.crests[0] if n else line.outlet
    available, needed = line.source - first, level - first
    margin = line.source - level - lost[0]
    return StartUp(margin > 0, tuple(pockets), tuple(heads), needed, available, margin)


def uncompressed_head(line: Undulations, vented: Collection[int] = ()) -> float:
    """Head the first crest would need if air could not be pressed together [m]: the upper bound.

    Examples
    --------
    >>> uncompressed_head(Undulations(100.0, (95.0, 94.0, 90.0), (88.0, 80.0), 84.0))
    16.0
    """
    level = line.outlet
    for k in reversed(range(len(line.crests))):
        if k in vented or k >= len(line.sags):
            level = max(level, line.crests[k])
        else:
            level += line.crests[k] - line.sags[k]
    return level - (line.crests[0] if line.crests else line.outlet)


def pocket_height(line: Undulations, crest: int, level: float, barometric: float) -> float:
    """Height of the pocket behind a crest under water pushed to a level behind it [m].

    The positive root of a² + a (B + level - crest) - d B = 0, in the form that loses no digits.
    """
    drop = line.crests[crest] - line.sags[crest]
    over = barometric + level - line.crests[crest]
    root = sqrt(over * over + 4.0 * drop * barometric)
    return 2.0 * drop * barometric / (over + root) if over > 0 else (root - over) / 2.0


def leg_friction(line: Undulations, friction: Sequence[float] | None) -> tuple[float, ...]:
    """Friction of the n + 1 stretches between source, crests and outlet [m], 0 where not given.

    Raises
    ------
    OutsideRange
        One is NaN, negative or absurd, or there are not n + 1.
    """
    n = len(line.crests) + 1
    lost = between("friction", [0.0] * n if friction is None else friction, 0.0, MOST_HEAD)
    if lost.shape != (n,):
        msg = f"friction must be {n} heads, one more than the crests, got {lost.shape}"
        raise OutsideRange(msg)
    return tuple(float(head) for head in lost)
