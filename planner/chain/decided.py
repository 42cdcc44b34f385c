"""Vents and washouts that are decided, each on the line it is meant for."""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np
from shapely.geometry import Point

from planner.checks.fitted import NEAR
from planner.profile.value import FloatArray
from planner.record.value import Line
from planner.record.works import Decided
from planner.site.fit import Fit
from planner.site.value import Site
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain


def with_decided(site: Site, terrain: Terrain, lines: Iterable[Line]) -> tuple[Line, ...]:
    """The lines with what is to be fitted on them.

    A vent is meant for the nearest high point of its line, a washout for the nearest low point,
    which it has to itself; one without such a point near by stands where it was put. One that lies
    off its line is on none: a check tells.
    """
    found = {line.name: line for line in lines}
    if site.fit:
        places = to_local(terrain, [fit.at for fit in site.fit])
        for number, (fit, xy) in enumerate(zip(site.fit, places, strict=True)):
            line = line_meant(fit, found.values(), xy)
            if line is not None:
                decided = (*line.decided, _decided(line, number, fit, xy))
                found[line.name] = replace(line, decided=decided)
    return tuple(found.values())


def line_meant(fit: Fit, lines: Iterable[Line], xy: FloatArray) -> Line | None:
    """The line of that name, else the nearest of its role; None where it is not near."""
    lines, place = tuple(lines), Point(xy)
    named = [line for line in lines if line.name == fit.line]
    of_role = [line for line in lines if line.role == fit.role]
    line = min(named or of_role, key=lambda one: one.path.distance(place), default=None)
    return None if line is None or line.path.distance(place) > NEAR else line


def _decided(line: Line, number: int, fit: Fit, xy: FloatArray) -> Decided:
    away = np.hypot(*(line.profile.xy - xy).T)
    turns = line.high_points if fit.kind == "vent" else line.low_points
    taken = {one.index for one in line.decided if one.kind == fit.kind}
    near = [one.index for one in turns if away[one.index] <= NEAR and one.index not in taken]
    index = min(near, key=lambda k: float(away[k]), default=int(np.argmin(away)))
    chainage = float(line.profile.chainage[index])
    return Decided(number, fit.kind, index, chainage, bool(near), fit.note)
