"""The pegs of a plan: where each line is staked out, and what is measured at each peg."""

import math
from bisect import bisect, insort
from collections import Counter
from collections.abc import Iterable, Iterator

import numpy as np
from pyproj import Geod

from planner.output.look import ROLES
from planner.output.stakes.marks import Mark, marks_of
from planner.output.stakes.value import Stake, StakedLine
from planner.record.value import Line, Plan
from planner.terrain.frame import to_lonlat
from planner.terrain.value import FloatArray

APART = 1.0  # m; marks nearer to each other share a peg
EARTH = Geod(ellps="WGS84")


def stakes_of(plan: Plan) -> tuple[StakedLine, ...]:
    """Every line of a plan with its stakes.

    A stake stands at both ends, at round chainages, and at each high and low point, crossing,
    joint, change of pipe, bend, change of grade, way point and finding. Of marks that are less than
    a metre apart the most telling keeps its place, and the others' reasons and remarks go to it.

    Parameters
    ----------
    plan : Plan
        `site.papers.stake_interval` is the distance [m] of round chainages, 10 m or 25 ft if it
        is None, at least 1 m.

    Returns
    -------
    tuple of StakedLine
        In the order of the plan's lines; the same plan gives the same stakes. `back_m` and
        `rise_m` of a line's stakes add up to its run and to the rise of its pipe.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    letters = _letters(plan.lines)
    return tuple(
        StakedLine(line, tuple(_stakes(plan, line, letters[line.name]))) for line in plan.lines
    )


def _letters(lines: Iterable[Line]) -> dict[str, str]:
    """What the names of each line's stakes begin with: "De", or "Di1", "Di2" where there are two.

    The site's lines keep their order, so that a name stays while nothing is added before it.
    """
    count = Counter(line.role for line in lines)
    seen: Counter[str] = Counter()
    letters = {}
    for line in lines:
        seen[line.role] += 1
        which = str(seen[line.role]) if count[line.role] > 1 else ""
        letters[line.name] = ROLES[line.role].letters + which
    return letters


def _stakes(plan: Plan, line: Line, letters: str) -> Iterator[Stake]:
    profile = line.profile
    pegs = _shared(marks_of(plan, line))
    chainage = np.array([group[0].chainage_m for group in pegs])
    run = np.interp(chainage, profile.chainage, profile.run)
    xy = np.column_stack([np.interp(run, profile.run, profile.xy[:, axis]) for axis in (0, 1)])
    lonlat = to_lonlat(plan.terrain, xy)
    ground, pipe = (np.interp(run, profile.run, level) for level in (profile.ground, profile.pipe))
    bearing = _bearings(lonlat)
    back, rise, ground_rise = (np.diff(values, prepend=values[0]) for values in (run, pipe, ground))
    digits = max(2, len(str(len(pegs))))
    for place, group in enumerate(pegs):
        last = place + 1 == len(pegs)
        yield Stake(
            name=f"{letters} {place + 1:0{digits}d}",
            line=line.name,
            number=place + 1,
            index=int(np.argmin(np.abs(profile.chainage - chainage[place]))),
            reasons=tuple(dict.fromkeys(mark.reason for mark in group)),
            remark=_remark(group),
            chainage_m=float(chainage[place]),
            run_m=float(run[place]),
            xy=(float(xy[place, 0]), float(xy[place, 1])),
            lonlat=(float(lonlat[place, 0]), float(lonlat[place, 1])),
            ground_m=float(ground[place]),
            pipe_m=float(pipe[place]),
            depth_m=float(ground[place] - pipe[place]),
            back_m=float(back[place]),
            bearing=bearing[place],
            rise_m=float(rise[place]),
            ground_rise_m=float(ground_rise[place]),
            grade_after=None if last else float(rise[place + 1] / back[place + 1]),
            findings=tuple(mark.finding for mark in group if mark.finding is not None),
        )


def _remark(group: list[Mark]) -> str:
    """What is done at a peg; that the grade changes goes without saying where the pipe turns."""
    turns = any(mark.reason in {"high", "low"} for mark in group)
    told = (mark.remark for mark in group if not (turns and mark.reason == "grade"))
    return "; ".join(dict.fromkeys(filter(None, told)))


def _shared(marks: Iterable[Mark]) -> list[list[Mark]]:
    """The marks of each peg, along the line; the first of each tells where it stands.

    Both ends stand whatever their distance; after them, by rank, a mark joins the nearest peg
    within `APART`, or is a peg of its own.
    """
    pegs: dict[float, list[Mark]] = {}
    places: list[float] = []
    for mark in marks:
        after = bisect(places, mark.chainage_m)
        beside = places[max(after - 1, 0) : after + 1]
        near = min(beside, key=lambda at: abs(at - mark.chainage_m), default=math.inf)
        if mark.reason != "end" and abs(near - mark.chainage_m) < APART:
            pegs[near].append(mark)
        else:
            pegs[mark.chainage_m] = [mark]
            insort(places, mark.chainage_m)
    return [pegs[place] for place in places]


def _bearings(lonlat: FloatArray) -> list[float | None]:
    """From each point's predecessor, clockwise from true north [degrees]; None for the first."""
    azimuth, _, _ = EARTH.inv(lonlat[:-1, 0], lonlat[:-1, 1], lonlat[1:, 0], lonlat[1:, 1])
    return [None, *(float(angle) for angle in np.asarray(azimuth) % 360.0)]
