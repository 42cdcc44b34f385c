"""The few points of a detour that make it the line, when the line is found again through them."""

from dataclasses import replace

import numpy as np
import shapely
from shapely.geometry import LineString, Point

from planner.errors import InputError, NoRoute
from planner.profile.lay import Laid
from planner.routing.task import Task, laid_along
from planner.routing.way import Place, route

PINS = (1, 3)  # how many are tried; one that does is easier moved by hand than three
APART = 2.0  # cells; nearer to the chosen line the detour is that line still


def pins_of(task: Task, laid: Laid, detour: Laid) -> tuple[Place, ...]:
    """Points on a detour through which the line, found again at the task's own prices, is better.

    Better is one with fewer high points: between the points the cheapest way is free to go back
    over what the detour leads round, so that this is tried and not believed.

    Returns
    -------
    tuple of Place
        x, y [m] along the detour; empty where so few points do not hold it.
    """
    for count in PINS:
        pins = _spread(task, laid, detour, count)
        via = _in_turn(detour, (*task.via, *pins))
        found = _found_again(replace(task, via=via)) if pins else None
        if found is not None and len(found.high_points) < len(laid.high_points):
            return pins
    return ()


def _found_again(task: Task) -> Laid | None:
    """The line as its finder gives it, digging at its price."""
    ends, laying = (task.start, task.end), task.laying
    try:
        line = route(task.land, ends, laying, task.rule, via=task.via, begins=task.begins)
    except (NoRoute, InputError):
        return None
    return laid_along(task, line)


def _spread(task: Task, laid: Laid, detour: Laid, count: int) -> tuple[Place, ...]:
    """So many places of the detour, from where it leaves the line to where it comes back."""
    xy, run = detour.profile.xy, detour.profile.run
    away = shapely.distance(shapely.points(xy), LineString(laid.profile.xy))
    off = np.flatnonzero(away > APART * max(task.land.terrain.cell))
    if not off.size:
        return ()
    if count == 1:
        return (_place(xy[int(np.argmax(away))]),)
    shares = (np.arange(count) + 1.0) / (count + 1.0)
    at = run[off[0]] + shares * (run[off[-1]] - run[off[0]])
    return tuple(_place(xy[int(np.argmin(np.abs(run - one)))]) for one in at)


def _in_turn(detour: Laid, places: tuple[Place, ...]) -> tuple[Place, ...]:
    path = LineString(detour.profile.xy)
    return tuple(sorted(places, key=lambda place: path.project(Point(place))))


def _place(xy: np.ndarray) -> Place:
    return float(xy[0]), float(xy[1])
