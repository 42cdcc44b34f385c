"""What each routed line chose where, and on request other routes for it."""

from collections.abc import Callable
from dataclasses import replace

import numpy as np

from planner.chain.held import Held
from planner.chain.on_land import way_points
from planner.profile.lay import Laid
from planner.record.value import Line
from planner.routing.alternatives import find_alternatives
from planner.routing.choices import choices_of
from planner.routing.land import Land
from planner.routing.options import Alternatives, Choice, Figures
from planner.routing.task import Task, figures_of, task_of
from planner.site.value import LineRole, Site
from planner.terrain.sample import cell_of

ROUTED: frozenset[LineRole] = frozenset({"supply", "delivery", "main", "distribution"})


def weigh_lines(
    site: Site,
    lines: tuple[Line, ...],
    lands: tuple[Land, Land],
    say: Callable[[str], None],
    *,
    alternatives: int = 0,
    held: Held | None = None,
) -> tuple[Line, ...]:
    """The lines, the routed ones with what they take, their choices and alternatives.

    Parameters
    ----------
    lands : (Land, Land)
        The parcel to stay on, and the same land with its border open.
    say : function
        Told the name of each line before it is weighed.
    alternatives : int
        How many other routes to look for, for each line; 0: none are asked for.
    held : Held, optional
        Lines that were weighed before are not weighed again.
    """
    held = held or Held()
    return tuple(
        _weighed(site, line, lands, say, alternatives, held) if _was_routed(line) else line
        for line in lines
    )


def _was_routed(line: Line) -> bool:
    """Whether a route was looked for, so that another could have been chosen."""
    return line.role in ROUTED and not line.walked and line.built is None


def _weighed(
    site: Site,
    line: Line,
    lands: tuple[Land, Land],
    say: Callable[[str], None],
    count: int,
    held: Held,
) -> Line:
    say(line.name)
    task = _task(site, line, lands)
    laid = Laid(line.profile, line.high_points, line.low_points, line.flats)

    def weigh() -> tuple[Figures, tuple[Choice, ...], Alternatives | None]:
        others = find_alternatives(task, laid, count) if count else None
        return figures_of(task, laid), choices_of(task, laid), others

    lies = (line.profile.xy.tobytes(), line.profile.pipe.tobytes(), laid.high_points, laid.flats)
    asked = (task.laying, task.rule, task.via, task.begins, count)
    key = (held.number(task.land), lies, asked)
    figures, choices, others = held.recall("weighed", key, weigh)
    return replace(line, figures=figures, choices=choices, alternatives=others)


def _task(site: Site, line: Line, lands: tuple[Land, Land]) -> Task:
    """What the line was routed for: inside the parcel, if that is where it runs."""
    inside, everywhere = lands
    land = inside if _keeps_to(inside, line) else everywhere
    laying = line.settings.laying
    vented = line.role != "supply" or bool(line.high_points)
    if not vented and not line.rule_kept:  # found where the land is too steep for what was asked
        laying = replace(laying, greatest_grade=None)
    xy = line.profile.xy
    (x0, y0), (x1, y1) = xy[0].tolist(), xy[-1].tolist()
    return task_of(
        line.role,
        land,
        ((x0, y0), (x1, y1)),
        laying,
        tuple(way_points(site, land, line.role)),
        vented=vented,
    )


def _keeps_to(land: Land, line: Line) -> bool:
    """Whether no sample of the line stands on closed ground."""
    cells = (cell_of(land.terrain, x, y) for x, y in line.profile.xy.tolist())
    return all(cell is not None and bool(np.isfinite(land.cost[cell])) for cell in cells)
