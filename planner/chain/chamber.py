"""Where the chamber of a ram stands that the sketch does not set."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from planner.chain.held import Held
from planner.chain.on_land import on_either, way_points
from planner.chain.place import place_chamber
from planner.chain.scheme import Scheme
from planner.chain.walked import Walked, far_end
from planner.errors import NoRoute
from planner.profile.value import Profile
from planner.record.value import Placed
from planner.routing.drive import SHORTEST, chamber_on
from planner.routing.land import Land
from planner.routing.supply import find_falling
from planner.routing.way import Place
from planner.site.value import Site


def with_chamber(
    site: Site,
    scheme: Scheme,
    lands: tuple[Land, Land],
    walked: Mapping[str, Walked],
    held: Held | None = None,
) -> Scheme:
    """A ram scheme without a chamber gets one on its supply line, where that gives most fall.

    Where the supply or the drive pipe was walked or laid, the chamber is where they meet.
    """
    if scheme.kind != "ram" or scheme.chamber is not None or scheme.pump is None:
        return scheme
    place = _where_walked(scheme.source, scheme.pump, walked)
    chosen = place is None
    if place is None:
        place = _most_fall(site, scheme.source, scheme.pump, lands, held or Held())
    if place is None or place == scheme.source.xy:
        return scheme
    names = [point.name for point in site.sketch.points]
    chamber = place_chamber(lands[0].terrain, place, names)
    return replace(scheme, chamber=replace(chamber, by_program=chosen))


def _where_walked(source: Placed, ram: Placed, walked: Mapping[str, Walked]) -> Place | None:
    ends = [
        far_end(walked[name], start)
        for name, start in (("supply", source), ("drive", ram))
        if name in walked
    ]
    away = [end for end in ends if np.hypot(end[0] - ram.xy[0], end[1] - ram.xy[1]) >= SHORTEST]
    return away[0] if away else None


def _most_fall(
    site: Site, source: Placed, ram: Placed, lands: tuple[Land, Land], held: Held
) -> Place | None:
    supply, drive = site.lines["supply"].laying, site.lines["drive"]
    via = tuple(way_points(site, lands[0], "supply"))

    def place() -> Place | None:
        try:
            way = on_either(lands, lambda land: find_falling(land, source.xy, ram.xy, supply, via))
        except NoRoute:
            return None
        line = way.laid.profile
        beyond = _run_at(line, via[-1]) if via else 0.0
        places = (
            chamber_on(land, line, ram.xy, drive.laying, bores=[drive.pipe.bore], beyond=beyond)
            for land in lands
        )
        return next(filter(None, places), None)

    on = tuple(map(held.number, lands))
    key = (on, source.xy, ram.xy, supply, drive.laying, drive.pipe.bore, via)
    return held.recall("chamber", key, place)


def _run_at(profile: Profile, place: Place) -> float:
    """Horizontal distance along a line at which it passes a place [m]."""
    away = np.hypot(profile.xy[:, 0] - place[0], profile.xy[:, 1] - place[1])
    return float(profile.run[int(np.argmin(away))])
