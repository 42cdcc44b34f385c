"""What every line that is looked for asks of the land: its way points, and the parcel first."""

from collections.abc import Callable, Iterator

from planner.errors import NoRoute
from planner.routing.land import Land
from planner.routing.way import Place, Way
from planner.site.value import LineRole, Site
from planner.terrain.frame import to_local


def way_points(site: Site, land: Land, role: LineRole) -> Iterator[Place]:
    """x, y of the points that lines of a role must pass, in order."""
    for point in site.sketch.points:
        if point.role == "way" and point.line == role:
            x, y = to_local(land.terrain, [point.at])[0]
            yield float(x), float(y)


def on_either(lands: tuple[Land, Land], find: Callable[[Land], Way]) -> Way:
    """On the parcel if a line can be found there, else off it.

    Raises
    ------
    NoRoute
        There is none on either.
    """
    inside, everywhere = lands
    try:
        return find(inside)
    except NoRoute:
        if inside is everywhere:
            raise
    return find(everywhere)
