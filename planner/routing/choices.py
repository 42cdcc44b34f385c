"""What a laid line chose at each of its places, vent, deeper trench or detour, and the next best.

A vent and a deeper trench are weighed on the line as it runs, by laying it again. A detour is
looked for by searching once more, which takes as long as the first search, so that only the first
few places of a line get one.
"""

from collections.abc import Sequence
from functools import partial
from math import inf

import numpy as np
from shapely.geometry import LineString, Point

from planner.profile.lay import Laid
from planner.routing.options import Choice, Option
from planner.routing.other_ways import (
    around_digging,
    around_vent,
    dug_through,
    vented_instead,
    with_depth,
    with_vents,
)
from planner.routing.stretches import Dug, dug_stretches
from planner.routing.task import Task

MOST_DETOURS = 3  # searches on one line, beside the two for a line that is a detour itself
LONGER = 0.01  # of its length, or `LEAST` metres, longer than straight: may be a detour
LEAST = 1.0


def choices_of(task: Task, laid: Laid, *, detours: int = MOST_DETOURS) -> tuple[Choice, ...]:
    """The choices along a line, from its start to its end.

    Parameters
    ----------
    task : Task
        What the line was routed for.
    laid : Laid
        The chosen line.
    detours : int
        For how many places a detour is looked for: the highest points first, then the deepest
        stretches.
    """
    highs = sorted(range(len(laid.high_points)), key=lambda k: -laid.high_points[k].rise_m)
    stretches = sorted(dug_stretches(task, laid), key=lambda dug: -dug.deeper)
    weigh = [partial(_vent, task, laid, k) for k in highs]
    weigh += [partial(_deeper, task, laid, dug) for dug in stretches]
    made = [place(seek=number < detours) for number, place in enumerate(weigh)]
    made += _detour(task, laid) if detours else ()
    return tuple(sorted(made, key=lambda choice: choice.chainage_m))


def _vent(task: Task, laid: Laid, k: int, *, seek: bool) -> Choice:
    """A high point with its vent: a trench through it, or a detour without it."""
    options = [dug_through(task, laid, k), around_vent(task, laid, k) if seek else None]
    return Choice(
        chainage_m=laid.high_points[k].chainage_m,
        chosen="vent",
        price_m=task.vent_cost,
        others=_ranked(options),
        detour_weighed=seek,
    )


def _deeper(task: Task, laid: Laid, dug: Dug, *, seek: bool) -> Choice:
    """A stretch dug deeper than the least cover: a vent there, or a detour that digs less."""
    options = [vented_instead(task, laid, dug), around_digging(task, laid, dug) if seek else None]
    return Choice(
        chainage_m=float(laid.profile.chainage[dug.deepest]),
        chosen="deeper",
        price_m=task.laying.dig_cost * dug.section,
        deeper_m=dug.deeper,
        over_m=dug.over,
        others=_ranked(options),
        detour_weighed=seek,
    )


def _detour(task: Task, laid: Laid) -> tuple[Choice, ...]:
    """A line longer than it would be with more vents, or in a trench deeper than is allowed."""
    length = laid.profile.length
    if length <= _straight(task) + max(LEAST, LONGER * length):
        return ()
    plainer = [pair for pair in (with_vents(task, laid), with_depth(task, laid)) if pair]
    if not plainer:
        return ()
    shortest, line = min(plainer, key=lambda pair: pair[0].pipe_m)
    made = Choice(
        chainage_m=_farthest(laid, line),
        chosen="detour",
        price_m=-shortest.pipe_m,
        pipe_m=-shortest.pipe_m,
        others=_ranked([option for option, _ in plainer]),
    )
    return (made,)


def _straight(task: Task) -> float:
    """From start to end through the points to pass, straight and level [m]."""
    stops = np.array([task.start, *task.via, task.end])
    return float(np.sum(np.hypot(*np.diff(stops, axis=0).T)))


def _farthest(laid: Laid, other: Laid) -> float:
    """Where on the line the other one is farthest away [m along the pipe]."""
    line = LineString(other.profile.xy)
    away = [line.distance(Point(xy)) for xy in laid.profile.xy]
    return float(laid.profile.chainage[int(np.argmax(away))])


def _ranked(options: Sequence[Option | None]) -> tuple[Option, ...]:
    """Cheapest first; what has no price comes last."""
    found = [option for option in options if option is not None]
    return tuple(sorted(found, key=lambda o: inf if np.isnan(o.more_m) else o.more_m))
