"""Lines that run full, while one of their stops is dragged: from fields searched beforehand.

A line runs from its start by way of its points to its end. Where one of these is dragged the one or
two legs beside it are read from fields (`planner.routing.moving`) of the stops at their other ends;
the rest of the line stays as it is in the plan.
"""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.geometry import LineString

from planner.chain.held import Held
from planner.chain.runs import Run
from planner.chain.seek import Seek
from planner.grade.laying import End
from planner.grade.rule import GradeRule
from planner.record.value import Line
from planner.routing.asked import Asked
from planner.routing.band import Prices
from planner.routing.coarse import Coarse, make_coarse
from planner.routing.ground import Ground, make_ground
from planner.routing.land import Land
from planner.routing.moving import Moving, moving_end
from planner.routing.way import Place, Way, laid_in_pieces
from planner.site.value import Laying, LineRole
from planner.terrain.frame import to_local
from planner.terrain.value import FloatArray

RUN_FULL: frozenset[LineRole] = frozenset({"delivery", "main", "distribution"})
SAME_PLACE = 1e-3  # m


@dataclass(frozen=True, slots=True)
class Stops:
    """What a line passes in order: names of its points, and their x, y [m]."""

    names: tuple[str, ...]
    places: tuple[Place, ...]


def stops_of(seek: Seek, run: Run) -> Stops | None:
    """The stops of a line that runs full; None of any other."""
    if run.role not in RUN_FULL or run.end is None:
        return None
    via = [
        point for point in seek.site.sketch.points if point.role == "way" and point.line == run.role
    ]
    xy = to_local(seek.lands[0].terrain, [point.at for point in via]) if via else np.empty((0, 2))
    return Stops(
        (run.start.name, *(point.name for point in via), run.end.name),
        (run.start.xy, *((float(x), float(y)) for x, y in xy), run.end.xy),
    )


def ready_legs(seek: Seek, run: Run, stops: Stops, name: str) -> None:
    """Search the fields for the legs beside a stop."""
    for leg in _beside(stops, name):
        _field(seek, seek.lands[0], run.role, stops, leg, leg == stops.names.index(name))


def way_by_legs(seek: Seek, run: Run, stops: Stops, name: str, line: Line | None) -> Way | None:
    """The line with a stop where it is now; None where no way leads there.

    Parameters
    ----------
    line : Line or None
        As it runs in the plan; needed where it has legs that are not beside the stop.
    """
    for land in dict.fromkeys(seek.lands):
        xy = _joined(seek, land, run.role, stops, name, line)
        if xy is not None:
            laying, begins = seek.site.lines[run.role].laying, _begins(run.role, 0)
            laid = laid_in_pieces(land, LineString(xy), laying, begins)
            return Way(laid, rule_kept=run.role != "delivery" or not laid.high_points)
    return None


def _joined(
    seek: Seek, land: Land, role: LineRole, stops: Stops, name: str, line: Line | None
) -> FloatArray | None:
    """(n, 2) vertices from start to end."""
    beside, at = _beside(stops, name), stops.names.index(name)
    laying = seek.site.lines[role].laying
    legs: list[FloatArray] = []
    for leg, (here, there) in enumerate(pairwise(stops.places)):
        if leg not in beside:
            if line is None:
                return None
            legs.append(_between(line.profile.xy, here, there))
            continue
        if np.hypot(here[0] - there[0], here[1] - there[1]) < SAME_PLACE:
            return None
        field = _field(seek, land, role, stops, leg, leg == at)
        xy = None
        if field is not None:
            place = stops.places[at]
            xy = field.line(place, bend_cost=laying.bend_cost, least_leg=laying.least_leg)
        if xy is None:
            return None
        legs.append(xy)
    return np.concatenate([legs[0], *(leg[1:] for leg in legs[1:])])


def _beside(stops: Stops, name: str) -> tuple[int, ...]:
    """The legs that begin or end at a stop."""
    at = stops.names.index(name)
    return tuple(leg for leg in (at - 1, at) if 0 <= leg < len(stops.names) - 1)


def _between(xy: FloatArray, here: Place, there: Place) -> FloatArray:
    """The part of a line between two places on it."""
    first, last = (int(np.argmin(np.hypot(*(xy - place).T))) for place in (here, there))
    return xy[first : last + 1]


def _begins(role: LineRole, leg: int) -> End:
    return "closed" if role == "delivery" and leg == 0 else "open"


def _field(
    seek: Seek, land: Land, role: LineRole, stops: Stops, leg: int, first_moves: bool
) -> Moving | None:
    """The field of a leg's other end, searched where it does not reach the stop yet."""
    here, there = stops.places[leg], stops.places[leg + 1]
    stays, moves = (there, here) if first_moves else (here, there)
    laying, held = seek.site.lines[role].laying, seek.held
    begins = _begins(role, leg)
    key = (held.number(land), laying, begins, stays, first_moves)

    def search() -> Moving | None:
        ground, coarse = _trench(land, laying, held)
        rule = GradeRule(lowest=laying.least_grade, vent_cost=laying.vent_cost)
        asked = Asked(rule, Prices(laying.vent_cost), begins)
        return moving_end(ground, coarse, asked, stays, moves, stays_first=not first_moves)

    found = held.recall("moving", key, search)
    if found is None or not found.reaches(moves):
        held.forget("moving", key)
        found = held.recall("moving", key, search)
    return found


def _trench(land: Land, laying: Laying, held: Held) -> tuple[Ground, Coarse]:
    """The ground as a line's trench has it, and its blocks."""

    def make() -> tuple[Ground, Coarse]:
        side_slope = np.inf if laying.side_slope is None else laying.side_slope
        ground = make_ground(land.terrain, land.slack(laying), land.cost, side_slope=side_slope)
        return ground, make_coarse(ground, vent_cost=laying.vent_cost)

    return held.recall("trench", (held.number(land), laying), make)
