"""One leg of a line, from a place to the next: the search its rule asks for, part by part."""

from dataclasses import dataclass

from planner.errors import InputError
from planner.routing.asked import Asked
from planner.routing.band import State, find_in_band, one_sided
from planner.routing.between import find_between
from planner.routing.corridor import LARGE, SMALL, Part, parts
from planner.routing.follow import grades_of
from planner.routing.ground import Ground
from planner.routing.obstacle import why_blocked
from planner.routing.plain import find_plain
from planner.routing.stencil import Neighbours
from planner.routing.walk import Miss, Place, Walk


@dataclass(frozen=True, eq=False, slots=True)
class Leg:
    """What was found, and whether no line over the same moves costs less."""

    walk: Walk
    proven: bool


def find_leg(
    ground: Ground,
    asked: Asked,
    here: Place,
    there: Place,
    neighbours: Neighbours,
    carried: State | None,
) -> Leg:
    """The cheapest line over the cells from here to there.

    Around ends close together only a proven line is taken; of large ground the first corridor that
    holds a line is enough.

    Raises
    ------
    NoRoute
    InputError
        The search outgrew the memory set for it.
    """
    near: Place | None = None
    vent_cost = asked.prices.vent_cost or 0.0
    whole = SMALL if asked.unlimited else LARGE  # costs alone tell corridors where lines run
    for part in parts(ground, here, there, neighbours, vent_cost=vent_cost, whole=whole):
        found = _search(part, asked, here, there, carried)
        if isinstance(found, Miss):
            near = found.nearest
            continue
        closed = part.proves(found.cost)
        if closed or part.kind != "near":
            return Leg(found, found.exact and closed)
    raise why_blocked(ground, asked.rule, here, there, near)


def _search(
    part: Part, asked: Asked, here: Place, there: Place, carried: State | None
) -> Walk | Miss:
    """By kind of rule: without limits, with one, with two."""
    try:
        if asked.unlimited:
            return find_plain(part.grid, here, there)
        if one_sided(asked.rule):
            return find_in_band(
                part.grid,
                here,
                there,
                asked.rule,
                asked.prices,
                begins=asked.begins,
                carried=carried,
            )
        return find_between(part, grades_of(part.grid.ground, asked, here), here, there)
    except MemoryError:
        msg = "the land is too large to search at this cell size; use a smaller area of it"
        raise InputError(msg) from None
