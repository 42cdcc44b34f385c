"""The other ways to have a place on a laid line, each with what it costs more.

A detour is the line searched again between the high points (or ends) beside the place, which stay,
with vents priced dear or the trench kept shallow there. With one high point it is the best line of
all without it; with several it is the best that leaves the others where they are.
"""

from collections.abc import Sequence
from dataclasses import replace
from math import nan

import numpy as np
from shapely.geometry import LineString

from planner.profile.lay import Laid, lay
from planner.profile.value import BoolArray, FloatArray
from planner.routing.land import Land
from planner.routing.options import Kind, Option
from planner.routing.pins import pins_of
from planner.routing.stretches import NOTICED, Dug
from planner.routing.task import (
    Task,
    figures_of,
    laid_along,
    routed,
    slack_along,
)
from planner.routing.way import Place
from planner.terrain.burn import touched

DEAR = 4.0  # a detour is looked for up to so many times the price of a vent, or half the line
FREE = 0.02  # of the price of vents or digging: what the line would be if they were nearly free
BESIDE = 10.0  # cells round a stretch in which a detour may not dig deep either
MUCH_DEEPER = 1.0  # m below the deepest trench allowed; farther nobody digs for a small pipe
SHORTER = 0.01  # of its length, or `LEAST` metres, or it is the same line
LEAST = 1.0
SKIN = 0.02  # m; a pipe laid so little lower is not dug deeper


def dug_through(task: Task, laid: Laid, k: int) -> Option | None:
    """The trench that takes the line's high point `k` away."""
    high = laid.high_points[k]
    if not np.isfinite(high.deeper_m):
        return None
    before, after = _beside(laid, high.index)
    slack = slack_along(task, laid.profile)
    slack[before : after + 1] += high.deeper_m + 1e-6
    dug = _laid_with(task, laid, slack)
    vents = len(dug.high_points) - len(laid.high_points)
    if vents >= 0:
        return None
    lower = laid.profile.pipe - dug.profile.pipe
    steps = np.diff(laid.profile.run)
    section = float(np.sum(0.5 * (lower[1:] + lower[:-1]) * steps))
    price = task.laying.dig_cost
    return Option(
        kind="deeper",
        more_m=price * section + vents * task.vent_cost if price > 0.0 else nan,
        vents=vents,
        deeper_m=high.deeper_m,
        deepest_m=float(np.max(dug.profile.depth[lower > SKIN], initial=0.0)),
        over_m=_over(steps, lower > SKIN),
    )


def vented_instead(task: Task, laid: Laid, dug: Dug) -> Option | None:
    """The vents that spare a deep stretch."""
    if not task.rule.vents_allowed:
        return None
    slack = slack_along(task, laid.profile)
    part = slice(dug.first, dug.last + 1)
    slack[part] = np.minimum(slack[part], NOTICED)
    shallow = _laid_with(task, laid, slack)
    vents = len(shallow.high_points) - len(laid.high_points)
    old = {high.index for high in laid.high_points}
    new = [high for high in shallow.high_points if high.index not in old]
    if vents <= 0 or not new:
        return None
    at = min(new, key=lambda high: abs(high.index - dug.deepest))
    return Option(
        kind="vent",
        more_m=figures_of(task, shallow).cost - figures_of(task, laid).cost,
        vents=vents,
        at_m=at.chainage_m,
    )


def around_vent(task: Task, laid: Laid, k: int) -> Option | None:
    """A detour that needs no vent at the line's high point `k`, nor one in its place."""
    if not task.rule.vents_allowed:
        return None
    other = _around(task, laid, _dear(task, laid), laid.high_points[k].index)
    if other is None or len(other.high_points) >= len(laid.high_points):
        return None
    return replace(_compared(task, laid, other, "detour"), pins=pins_of(task, laid, other))


def around_digging(task: Task, laid: Laid, dug: Dug) -> Option | None:
    """A detour that digs no deep trench near a stretch, and needs no further vent."""
    dear = _dear(task, laid) if task.rule.vents_allowed else task
    shallow = replace(dear, land=_shallow(task, laid, dug))
    other = _around(task, laid, shallow, dug.deepest)
    if other is None or len(other.high_points) > len(laid.high_points):
        return None
    spared = figures_of(task, laid).digging - figures_of(task, other).digging
    return _compared(task, laid, other, "detour") if spared > 0.0 else None


def with_vents(task: Task, laid: Laid) -> tuple[Option, Laid] | None:
    """The line if vents were nearly free, shorter but with more of them; the tallest is told."""
    if not task.rule.vents_allowed:
        return None
    line = routed(task.pricing(FREE * task.vent_cost))
    other = None if line is None else laid_along(task, line)
    if other is None or not _shorter(laid, other):
        return None
    if len(other.high_points) <= len(laid.high_points):
        return None
    tallest = max(other.high_points, key=lambda high: high.rise_m)
    return replace(_compared(task, laid, other, "vent"), at_m=tallest.chainage_m), other


def with_depth(task: Task, laid: Laid) -> tuple[Option, Laid] | None:
    """The line if the trench might be much deeper than is allowed, at next to no price: shorter."""
    own = task.laying
    deepest, price = own.deepest_trench + MUCH_DEEPER, FREE * own.dig_cost
    deeper = replace(task, laying=replace(own, deepest_trench=deepest, dig_cost=price))
    line = routed(deeper)
    other = None if line is None else laid_along(deeper, line)
    if other is None or not _shorter(laid, other):
        return None
    beyond = other.profile.depth - task.laying.least_cover - slack_along(task, other.profile)
    below = beyond > SKIN
    if len(other.high_points) > len(laid.high_points) or not np.any(below):
        return None
    option = _compared(task, laid, other, "deeper")
    priced = task.laying.dig_cost > 0.0
    option = replace(
        option,
        more_m=option.more_m if priced else nan,
        deeper_m=float(beyond.max()),
        deepest_m=float(other.profile.depth[below].max()),
        over_m=_over(np.diff(other.profile.run), below),
    )
    return option, other


def _around(task: Task, laid: Laid, around: Task, index: int) -> Laid | None:
    """The line with the part between the high points beside a sample searched again."""
    before, after = _beside(laid, index)
    xy = laid.profile.xy
    piece = replace(
        around,
        start=_place(xy[before]),
        end=_place(xy[after]),
        via=_between(task.via, xy, before, after),
        begins=task.begins if before == 0 else "open",
    )
    found = routed(piece)
    if found is None:
        return None
    whole = np.concatenate([xy[:before], np.array(found.coords), xy[after + 1 :]])
    return laid_along(task, LineString(whole))


def _compared(task: Task, laid: Laid, other: Laid, kind: Kind) -> Option:
    was, now = figures_of(task, laid), figures_of(task, other)
    return Option(
        kind=kind,
        more_m=now.cost - was.cost,
        pipe_m=now.length - was.length,
        vents=now.vents - was.vents,
    )


def _shorter(laid: Laid, other: Laid) -> bool:
    own = laid.profile.length
    return other.profile.length < own - max(LEAST, SHORTER * own)


def _dear(task: Task, laid: Laid) -> Task:
    """The task with vents so dear that any detour worth telling of is taken instead."""
    return task.pricing(task.vent_cost + max(DEAR * task.vent_cost, 0.5 * laid.profile.length))


def _laid_with(task: Task, laid: Laid, slack: FloatArray) -> Laid:
    cover, least = task.laying.least_cover, task.laying.least_grade
    return lay(laid.profile, cover=cover, slack=slack, least=least, start=task.begins)


def _shallow(task: Task, laid: Laid, dug: Dug) -> Land:
    """The land with no deep trench round a stretch."""
    land = task.land
    stretch = LineString(laid.profile.xy[dug.first : dug.last + 1])
    near = touched(land.terrain, stretch.buffer(BESIDE * max(land.terrain.cell)))
    most = task.laying.least_cover + NOTICED
    return replace(land, deepest=np.where(near, np.minimum(land.deepest, most), land.deepest))


def _beside(laid: Laid, index: int) -> tuple[int, int]:
    """Samples of the high points, or ends, beside a sample."""
    highs = [high.index for high in laid.high_points]
    before = max((k for k in highs if k < index), default=0)
    after = min((k for k in highs if k > index), default=laid.profile.run.size - 1)
    return before, after


def _between(via: Sequence[Place], xy: FloatArray, before: int, after: int) -> tuple[Place, ...]:
    """The points to pass that lie on this part of the line."""
    nearest = [int(np.argmin(np.hypot(xy[:, 0] - x, xy[:, 1] - y))) for x, y in via]
    return tuple(point for point, k in zip(via, nearest, strict=True) if before < k < after)


def _place(xy: FloatArray) -> Place:
    return float(xy[0]), float(xy[1])


def _over(steps: FloatArray, below: BoolArray) -> float:
    """Length of the steps that are below at either end [m]."""
    return float(np.sum(steps[below[1:] | below[:-1]]))
