"""`Task`: what a line has to do, so that it can be routed again under other prices."""

from dataclasses import dataclass, replace

import numpy as np
from shapely.geometry import LineString

from planner.errors import InputError, NoRoute
from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.profile.lay import Laid
from planner.profile.value import FloatArray, Profile
from planner.routing.land import Land
from planner.routing.options import Figures
from planner.routing.way import Place, laid_falling, laid_in_pieces, route
from planner.site.value import Laying, LineRole
from planner.terrain.sample import grid_position

PARTS = 8  # of a step between samples, half a cell at most
TURN = 0.01  # radians; a pipe laid by eye turns so little unseen
STEEP_OVER = 3.0  # m of run; a grade over less is a bump of the data, not a slope to lay pipe on


@dataclass(frozen=True, eq=False, slots=True)
class Task:
    """From where to where a line runs, over which land, how it is laid and under which rule."""

    land: Land
    start: Place
    end: Place
    laying: Laying
    rule: GradeRule
    via: tuple[Place, ...] = ()
    begins: End = "open"

    @property
    def vent_cost(self) -> float:
        """What a vent costs here [m of pipe]; 0 where the rule has none."""
        return self.rule.vent_cost or 0.0

    def pricing(self, vent_cost: float) -> "Task":
        """The same task with vents at another price."""
        return replace(self, rule=replace(self.rule, vent_cost=vent_cost))


def task_of(
    role: LineRole,
    land: Land,
    ends: tuple[Place, Place],
    laying: Laying,
    via: tuple[Place, ...] = (),
    *,
    vented: bool = True,
) -> Task:
    """The task of a line of a role, `vented` False where it falls all the way."""
    least, greatest = laying.least_grade, laying.greatest_grade
    rule = (
        GradeRule(lowest=least, vent_cost=laying.vent_cost)
        if vented
        else GradeRule(lowest=None if greatest is None else -greatest, highest=-least)
    )
    begins: End = "closed" if role == "delivery" else "open"
    return Task(land, *ends, laying, rule, via, begins)


def routed(task: Task) -> LineString | None:
    """The cheapest line, or None where there is none, or the land is too large to search.

    With vents, digging is left out of the search, which takes far longer with it, and priced on the
    line found (`figures_of`): what it is weighed against may be a little cheaper still.
    """
    ends, laying = (task.start, task.end), task.laying
    if task.rule.vents_allowed:
        laying = replace(laying, dig_cost=0.0)
    try:
        return route(task.land, ends, laying, task.rule, via=task.via, begins=task.begins)
    except (NoRoute, InputError):
        return None


def laid_along(task: Task, line: LineString) -> Laid | None:
    """The line laid as its task asks, or None where its trench can't be."""
    if task.rule.vents_allowed:
        return laid_in_pieces(task.land, line, task.laying, task.begins)
    return laid_falling(task.land, line, task.laying)


def slack_along(task: Task, profile: Profile) -> FloatArray:
    """(n,) depth the trench may vary by at each sample [m]."""
    return task.land.slack_at(task.laying, profile.xy)


def figures_of(task: Task, laid: Laid) -> Figures:
    """What a laid line takes, at the true prices of its task."""
    profile = laid.profile
    factor = _factor_along(task.land, profile)
    extra = np.maximum(profile.depth - max(task.laying.least_cover, 0.0), 0.0)
    dug = 0.5 * (extra[1:] + extra[:-1]) * np.diff(profile.run)
    vents, bends = len(laid.high_points), _bends(profile)
    fittings = task.vent_cost * vents + task.laying.bend_cost * bends
    priced = np.diff(profile.chainage) + task.laying.dig_cost * dug
    return Figures(
        length=profile.length,
        vents=vents,
        digging=float(dug.sum()),
        steepest=_steepest(profile),
        cost=float(np.sum(factor * priced)) + fittings,
        depth=float(np.trapezoid(profile.depth, profile.run) / profile.run[-1]),
        bends=bends,
    )


def _factor_along(land: Land, profile: Profile) -> FloatArray:
    """(n - 1,) mean cost of the ground under each step; a closed cell only touched counts as plain.

    Cells with the price of a crossing are dear and thin, so that each step is looked at in parts.
    """
    part = (np.arange(PARTS) + 0.5) / PARTS
    xy = profile.xy[:-1, None, :] + part[:, None] * np.diff(profile.xy, axis=0)[:, None, :]
    row, col = grid_position(land.terrain, xy[..., 0], xy[..., 1])
    rows, cols = land.terrain.shape
    r = np.clip(np.rint(row), 0, rows - 1).astype(np.int64)
    c = np.clip(np.rint(col), 0, cols - 1).astype(np.int64)
    factor: FloatArray = np.where(np.isfinite(land.cost[r, c]), land.cost[r, c], 1.0).mean(axis=1)
    return factor


def _bends(profile: Profile) -> int:
    """How often the line turns; the samples between two bends lie straight."""
    heading = np.unwrap(np.arctan2(*np.diff(profile.xy, axis=0).T))
    return int(np.count_nonzero(np.abs(np.diff(heading)) > TURN))


def _steepest(profile: Profile) -> float:
    run, pipe = profile.run, profile.pipe
    over = min(STEEP_OVER, float(run[-1]))
    begin = run[run <= run[-1] - over + 1e-9]
    rise = np.interp(begin + over, run, pipe) - np.interp(begin, run, pipe)
    return float(np.max(np.abs(rise))) / over
