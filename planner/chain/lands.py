"""The land of a site: streams found in the ground, and where a pipe may go at what price."""

from planner.chain.held import Held
from planner.chain.place import crossings_of, lands_of
from planner.record.value import PlacedArea
from planner.routing.land import Land
from planner.site.value import Site
from planner.terrain.drainage import Stream, find_streams
from planner.terrain.value import Terrain


def streams_of(terrain: Terrain, held: Held) -> tuple[Stream, ...]:
    """Streams of the ground, found once."""
    return held.recall("streams", held.number(terrain), lambda: find_streams(terrain))


def held_lands(
    site: Site, terrain: Terrain, areas: tuple[PlacedArea, ...], held: Held
) -> tuple[Land, Land]:
    """The parcel to stay on and the land with its border open, made once for the same areas."""
    streams = streams_of(terrain, held)
    drawn = tuple((one.shape.wkb, one.cost) for one in site.sketch.crossings)
    burnt = tuple(
        (area.role, area.shape.wkb, area.factor, area.deepest_trench)
        for area in areas
        if area.role != "owner"
    )
    key = (held.number(terrain), burnt, drawn, site.stream_cost)
    return held.recall(
        "lands", key, lambda: lands_of(terrain, areas, crossings_of(terrain, site, streams))
    )
