"""Other routes for a line that really differ from it and from one another.

Each is the cheapest line under other prices or limits: vents dear, vents nearly free, a shallow
trench, gentle grades; then with the neighbourhood of the routes already found made dearer. All are
laid and priced again at the site's own prices, so that what they trade is true.
"""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.profile.lay import Laid
from planner.routing.options import Alternative, Alternatives, Figures, Reason
from planner.routing.task import Task, figures_of, laid_along, routed
from planner.terrain.burn import touched

MOST_SHARED = 0.6  # of a route's length near another, or it is the same route
NEAR_CELLS = 4.0  # cells; nearer than this the pipe lies in the same strip of ground
NEAR_SHARE = 0.06  # of the distance between the ends, where that is more
MOST_COST = 2.0  # of the chosen line's cost; a dearer route is no alternative
DEAR, FREE = 8.0, 0.05  # times the price of a vent
SHALLOW = 0.25  # of the depth the trench may vary by
GENTLE = 0.75  # of the chosen line's steepest grade
ROOM = 1.5  # times its mean grade: nearer to that a line would wind, and take long to find
CHARGES = (1.3, 1.7, 2.5, 4.0)  # times the cost of the ground near routes already found
TOLD = {"length": 0.01, "digging": 0.1, "steepest": 0.1}  # shares by which a figure is better


def find_alternatives(task: Task, laid: Laid, count: int = 3) -> Alternatives:
    """Up to `count` other routes, cheapest first; fewer where the land offers no more.

    Parameters
    ----------
    task : Task
        What the line was routed for.
    laid : Laid
        The chosen line.

    Notes
    -----
    At most 4 searches under other prices and 4 for each route asked for; the same task always gives
    the same routes.
    """
    own = figures_of(task, laid)
    lines = [LineString(laid.profile.xy)]
    found: list[Alternative] = []

    def weigh(line: LineString | None) -> bool:
        """Keep a line if it is a real alternative."""
        made = None if line is None else _alternative(task, own, line, lines)
        if made is not None:
            found.append(made)
            lines.append(made.line)
        return made is not None

    for trial in _other_prices(task, laid, own):
        if len(found) < count:
            weigh(routed(trial))
    while len(found) < count:
        if not any(weigh(routed(trial)) for trial in _elsewhere(task, lines)):
            break
    return Alternatives(count, tuple(sorted(found, key=lambda other: other.more_m)))


def shared(line: LineString, others: list[LineString], near: float) -> float:
    """Greatest part of a line that runs within `near` metres of one of the others, 0..1."""
    parts = [float(line.intersection(other.buffer(near)).length) for other in others]
    return max(parts, default=0.0) / float(line.length)


def _other_prices(task: Task, laid: Laid, own: Figures) -> Iterator[Task]:
    """The task under other prices and limits."""
    if task.rule.vents_allowed:
        yield task.pricing(DEAR * task.vent_cost)
        yield task.pricing(FREE * task.vent_cost)
    cover, slack = task.laying.least_cover, task.laying.slack
    yield replace(task, laying=replace(task.laying, deepest_trench=cover + SHALLOW * slack))
    profile = laid.profile
    mean = abs(float(profile.pipe[-1] - profile.pipe[0])) / float(profile.run[-1])
    gentle = GENTLE * own.steepest
    if gentle < max(ROOM * mean, 2.0 * task.laying.least_grade):
        return
    if task.rule.vents_allowed:
        yield replace(task, rule=replace(task.rule, highest=gentle))
    else:
        steepest = task.rule.lowest
        lowest = -gentle if steepest is None else max(-gentle, steepest)
        yield replace(task, rule=replace(task.rule, lowest=lowest))


def _elsewhere(task: Task, lines: list[LineString]) -> Iterator[Task]:
    """The task with the ground near lines already found made dearer, more and more."""
    land = task.land
    strips = [touched(land.terrain, line.buffer(_near(task))) for line in lines]
    close = np.logical_or.reduce(strips)
    for charge in CHARGES:
        yield replace(task, land=replace(land, cost=np.where(close, land.cost * charge, land.cost)))


def _alternative(
    task: Task, own: Figures, line: LineString, lines: list[LineString]
) -> Alternative | None:
    """The line with its figures, or None where it is too like another, too dear or not laid."""
    part = shared(line, lines, _near(task))
    laid = laid_along(task, line) if part <= MOST_SHARED else None
    if laid is None:
        return None
    figures = figures_of(task, laid)
    if figures.cost > MOST_COST * own.cost:
        return None
    return Alternative(line, _reason(figures, own), figures, figures.cost - own.cost, part)


def _near(task: Task) -> float:
    apart = float(np.hypot(task.end[0] - task.start[0], task.end[1] - task.start[1]))
    return max(NEAR_CELLS * max(task.land.terrain.cell), NEAR_SHARE * apart)


def _reason(figures: Figures, own: Figures) -> Reason:
    """What a line does better than the chosen one, the most telling first."""
    if figures.vents < own.vents:
        return "fewer-vents"
    if figures.length < own.length * (1.0 - TOLD["length"]):
        return "shorter"
    if figures.digging < own.digging * (1.0 - TOLD["digging"]) - 1.0:
        return "less-digging"
    if figures.steepest < own.steepest * (1.0 - TOLD["steepest"]):
        return "gentler"
    return "elsewhere"
