"""Gravity, ram or powered pump: what the levels ask for. Gravity is tried first."""

from dataclasses import dataclass

import numpy as np

from planner.record.value import Placed, SchemeKind
from planner.site.value import PointRole, Site


@dataclass(frozen=True, slots=True)
class Scheme:
    """The kind of scheme, why, and the points it runs through.

    `goal` is the tank, or the first outlet where there is none; `chamber` and `pump` are None
    where the sketch has none.
    """

    kind: SchemeKind
    reason: str
    source: Placed
    goal: Placed
    chamber: Placed | None
    pump: Placed | None
    outlets: tuple[Placed, ...]


def choose_scheme(site: Site, points: tuple[Placed, ...]) -> Scheme:
    """The scheme for the first source and the first tank (or outlet, where there is no tank).

    Gravity if the source stands above the goal by the least grade of a main over the straight
    distance; else the pump the site names, or a ram.
    """
    source = _all(points, "source")[0]
    outlets = _all(points, "outlet")
    goal = (_all(points, "tank") or outlets)[0]
    distance = float(np.hypot(source.xy[0] - goal.xy[0], source.xy[1] - goal.xy[1]))
    fall = source.level - goal.level
    kind: SchemeKind = "ram"
    reason = "tank-above-source" if fall <= 0.0 else "little-fall"
    if fall > site.lines["main"].laying.least_grade * distance:
        kind, reason = "gravity", "tank-below-source"
    elif site.powered is not None:
        kind, reason = "powered", "pump-curve"
    return Scheme(
        kind=kind,
        reason=reason,
        source=source,
        goal=goal,
        chamber=next(iter(_all(points, "chamber")), None),
        pump=next(iter(_all(points, "pump")), None),
        outlets=tuple(outlet for outlet in outlets if outlet is not goal),
    )


def _all(points: tuple[Placed, ...], role: PointRole) -> list[Placed]:
    return [point for point in points if point.role == role]
