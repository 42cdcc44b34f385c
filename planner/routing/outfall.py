"""Waste and overflow: lines that end in the open, at the stream below a ram or on safe ground.

Such a line comes up out of its trench at its end, or its mouth would lie under the stream's bed.
"""

from collections.abc import Iterable, Iterator
from dataclasses import replace

import numpy as np

from planner.errors import NoRoute
from planner.profile.along import chainage_of
from planner.profile.lay import Laid
from planner.profile.value import FloatArray
from planner.routing.land import Land
from planner.routing.supply import find_falling
from planner.routing.way import Place, Way
from planner.site.value import Laying
from planner.terrain.sample import ground_at

FARTHEST = 150.0  # m, a waste pipe from ram to stream
MOST_TRIES = 6
APART = 5.0  # m, between places tried
SKIN = 1e-6  # m; rounding of levels that are equal on paper
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
        laid = in_the_open(way.laid, laying) if way.rule_kept else None
        if laid is not None:
            return replace(way, laid=laid)
    return None


def in_the_open(laid: Laid, laying: Laying) -> Laid | None:
    """The falling line with its mouth at ground level; None where the land is too flat for that.

    Two lines fall by the least grade everywhere: the one laid, and the one back from the mouth.
    The higher of the two does so as well, and it leaves the trench only near the mouth.
    """
    profile = laid.profile
    back = profile.ground[-1] + laying.least_grade * (profile.run[-1] - profile.run)
    pipe = np.maximum(profile.pipe, back)
    if pipe[0] > profile.pipe[0] + SKIN or np.any(pipe > profile.ground + SKIN):
        return None
    chainage = chainage_of(profile.run, pipe)
    return replace(laid, profile=replace(profile, pipe=pipe, chainage=chainage))


def _on_streams(
    land: Land, start: Place, streams: Iterable[FloatArray], laying: Laying
) -> Iterator[Place]:
    points = [stream for stream in streams if len(stream)]
    if not points:
        return
    xy = np.concatenate(points)
    away = np.hypot(xy[:, 0] - start[0], xy[:, 1] - start[1])
    fall = ground_at(land.terrain, *start) - ground_at(land.terrain, xy[:, 0], xy[:, 1])
    fits = (away > APART) & (away < FARTHEST) & (fall >= _least_fall(laying, away))
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
            if fall[k] >= _least_fall(laying, radius):
                yield float(x[k]), float(y[k])


def _least_fall(laying: Laying, away: FloatArray | float) -> FloatArray | float:
    """Fall of the ground [m] that brings a pipe from under its cover to the open."""
    return max(laying.least_cover, 0.0) + laying.least_grade * away
