"""The way of one line over the land: walked, or looked for by the finder of its role."""

from dataclasses import dataclass
from functools import partial

from planner.chain.held import Held
from planner.chain.on_land import on_either, way_points
from planner.chain.runs import Run
from planner.chain.walked import Walked, walked_way
from planner.errors import NoRoute
from planner.routing.delivery import find_delivery
from planner.routing.drive import find_drive
from planner.routing.drive_rule import drive_rule
from planner.routing.full import find_full
from planner.routing.land import Land
from planner.routing.outfall import find_overflow, find_waste
from planner.routing.supply import find_falling
from planner.routing.way import Place, Way
from planner.site.value import LineRole, Site
from planner.terrain.drainage import Stream


@dataclass(frozen=True, eq=False, slots=True)
class Seek:
    """What lines are looked for on.

    Attributes
    ----------
    lands : (Land, Land)
        The parcel to stay on, and the same land with its border open.
    streams : tuple of Stream
        Where a ram's waste water may go.
    held : Held
        What was found before is remembered there.
    """

    site: Site
    lands: tuple[Land, Land]
    streams: tuple[Stream, ...]
    held: Held


def seek_way(seek: Seek, run: Run, walked: Walked | None = None) -> Way | NoRoute | None:
    """Where a line runs; why there is no way; None of an outfall for which the land has none.

    Parameters
    ----------
    walked : Walked, optional
        The line as it was walked or laid: it lies where it lies.

    Raises
    ------
    InputError
        What was walked can't be used, or the search outgrew its memory.
    """
    laying = seek.site.lines[run.role].laying
    if walked is not None:
        return walked_way(walked, seek.lands[1], run.role, (run.start, run.end), laying)
    end = None if run.end is None else run.end.xy
    via = tuple(way_points(seek.site, seek.lands[0], run.role))
    on = tuple(map(seek.held.number, (*seek.lands, seek.streams)))
    bore = seek.site.lines[run.role].pipe.bore if run.role == "drive" else None
    key = (on, run.role, run.start.xy, end, laying, via, bore)
    return seek.held.recall("way", key, lambda: find_way(seek, run))


def find_way(seek: Seek, run: Run) -> Way | NoRoute | None:
    """The same, looked for whether or not it was found before."""
    laying, lands = seek.site.lines[run.role].laying, seek.lands
    via = tuple(way_points(seek.site, lands[0], run.role))
    if run.role == "waste":
        return find_waste(lands[1], run.start.xy, [s.xy for s in seek.streams], laying)
    if run.end is None:
        return find_overflow(lands[0], run.start.xy, laying)
    ends = run.start.xy, run.end.xy
    try:
        return on_either(lands, partial(_find, seek.site, run.role, ends, via))
    except NoRoute as why:
        why.__context__ = None  # nor the grids that it was raised among
        return why.with_traceback(None)


def _find(
    site: Site, role: LineRole, ends: tuple[Place, Place], via: tuple[Place, ...], land: Land
) -> Way:
    laying = site.lines[role].laying
    if role == "drive":
        rule = drive_rule(laying, [site.lines["drive"].pipe.bore])
        return find_drive(land, *ends, bend=rule if laying.bend else None)
    find = {"supply": find_falling, "delivery": find_delivery}.get(role, find_full)
    return find(land, *ends, laying, via)
