"""Where waste and overflow water may end: the stream below a ram, safe ground below a tank."""

from collections.abc import Iterable, Iterator

import numpy as np

from planner.errors import NoRoute
from planner.profile.value import FloatArray
from planner.routing.land import Land
from planner.routing.supply import find_falling
from planner.routing.way import Place, Way
from planner.site.value import Laying
from planner.terrain.sample import ground_at

FARTHEST = 150.0  # m, a waste pipe from ram to stream
MOST_TRIES = 6
APART = 5.0  # m, between places tried
SAFE = (12.0, 18.0, 25.0)  # m from a tank's footing, rings tried in turn
DIRECTIONS = 16


def find_waste(
    land: Land, start: Place, streams: Iterable[FloatArray], laying: Laying
) -> Way | None:
    """The shortest falling line from a ram to a stream, or None where no stream lies below it.

    Parameters
    ----------
    streams : (n, 2) ndarrays
        x, y of watercourses [m].
    """
    return _first(land, start, _on_streams(land, start, streams, laying), laying)


def find_overflow(land: Land, start: Place, laying: Laying) -> Way | None:
    """A falling line from a tank to the lowest ground a few metres away from its footing."""
    return _first(land, start, _on_rings(land, start, laying), laying)


def _first(land: Land, start: Place, places: Iterator[Place], laying: Laying) -> Way | None:
    for place, _ in zip(places, range(MOST_TRIES), strict=False):
        try:
            way = find_falling(land, start, place, laying)
        except NoRoute:
            continue
        if way.rule_kept:
            return way
    return None


def _on_streams(
    land: Land, start: Place, streams: Iterable[FloatArray], laying: Laying
) -> Iterator[Place]:
    points = [stream for stream in streams if len(stream)]
    if not points:
        return
    xy = np.concatenate(points)
    away = np.hypot(xy[:, 0] - start[0], xy[:, 1] - start[1])
    fall = ground_at(land.terrain, *start) - ground_at(land.terrain, xy[:, 0], xy[:, 1])
    fits = (away > APART) & (away < FARTHEST) & (fall >= laying.least_grade * away)
    taken: list[FloatArray] = []
    for k in np.argsort(np.where(fits, away, np.inf)):
        if not fits[k]:
            return
        if all(np.hypot(*(xy[k] - other)) > APART for other in taken):
            taken.append(xy[k])
            yield float(xy[k, 0]), float(xy[k, 1])


def _on_rings(land: Land, start: Place, laying: Laying) -> Iterator[Place]:
    level = float(ground_at(land.terrain, *start))
    turn = 2.0 * np.pi * np.arange(DIRECTIONS) / DIRECTIONS
    for radius in SAFE:
        x, y = start[0] + radius * np.cos(turn), start[1] + radius * np.sin(turn)
        fall = level - ground_at(land.terrain, x, y)
        for k in np.argsort(-np.nan_to_num(fall, nan=-np.inf))[:2]:
            if fall[k] >= 2.0 * laying.least_grade * radius:
                yield float(x[k]), float(y[k])
