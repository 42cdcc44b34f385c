"""Where levels are worth taking: the stations that water and air hang on, along the water."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

from planner.output.stakes.value import Stake, StakedLine
from planner.record.value import Plan
from planner.site.value import LineRole, PointRole

ALONG: tuple[LineRole, ...] = (
    "supply",
    "drive",
    "main",
    "delivery",
    "distribution",
    "waste",
    "overflow",
)
POINTS: tuple[PointRole, ...] = ("source", "chamber", "pump", "tank", "outlet")
FALL: tuple[LineRole, ...] = ("supply", "drive", "main")
"""Lines whose fall is the scheme's: there an error of a hand's breadth tells."""


def along_water(staked: Iterable[StakedLine]) -> list[StakedLine]:
    """The lines in the order in which they are walked: from the source on."""
    return sorted(staked, key=lambda one: ALONG.index(one.line.role))


def stations(plan: Plan, staked: Iterable[StakedLine]) -> list[str]:
    """Names of points and stakes to be levelled, in a sequence that can be walked.

    Each line's start, the high and low points on its way, its end; without lines, the points.
    """
    found: list[str] = []
    for one in along_water(staked):
        if one.line.role in ("waste", "overflow"):
            continue
        between = (stake.name for stake in one.stakes[1:-1] if _turns(stake))
        found += [one.line.start, *between, one.line.end]
    if not found:
        found = [point.name for role in POINTS for point in plan.points if point.role == role]
    return list(dict.fromkeys(found))


def shots(staked: Iterable[StakedLine]) -> Iterator[tuple[str, str]]:
    """From stake to stake along the lines that make the fall."""
    for one in along_water(staked):
        if one.line.role not in FALL:
            continue
        inside = [stake.name for stake in one.stakes[1:-1]]
        names = [one.line.start, *inside, one.line.end]
        yield from pairwise(names)


def _turns(stake: Stake) -> bool:
    return bool({"high", "low"} & set(stake.reasons))
