"""`make_plan`: the chain, from what the user said to a checked plan."""

import datetime
from collections.abc import Callable
from dataclasses import replace
from functools import partial

from planner.chain.changes import changes
from planner.chain.choices import weigh_lines
from planner.chain.crossed import crossed
from planner.chain.held import Held
from planner.chain.lands import held_lands, streams_of
from planner.chain.lines import find_lines
from planner.chain.measured import (
    anything_measured,
    before_measuring,
    levelled,
    measure,
)
from planner.chain.owners import owner_shares
from planner.chain.pipes import named_pipes
from planner.chain.place import (
    box_around,
    lonlat_box,
    place_areas,
    place_points,
)
from planner.chain.scheme import choose_scheme
from planner.chain.water import scheme_water
from planner.chain.works import add_works
from planner.checks.run import run
from planner.levels.bend import ground_along
from planner.levels.value import Survey
from planner.record.value import Plan
from planner.routing.land import Land
from planner.routing.warm import warm_up
from planner.site.ground import read_elevation
from planner.site.lonlat import unswap
from planner.site.value import Elevation, Site
from planner.terrain.reach import reach_of, reads_whole
from planner.terrain.value import Terrain

Say = Callable[[str], None]
"""Told in a few words what is being done."""


def make_plan(
    site: Site,
    terrain: Terrain | None = None,
    *,
    held: Held | None = None,
    say: Say = lambda _: None,
    alternatives: int | None = 0,
) -> Plan:
    """Plan a site: routes, profiles, water and findings.

    Parameters
    ----------
    site : Site
    terrain : Terrain, optional
        The ground; None: read from the site's elevation files.
    held : Held, optional
        What earlier plans came to: the same plan is made, in less time.
    say : function, optional
        Told what is being done, for a progress display; what it raises breaks the plan off, and
        leaves what is held as it should be.
    alternatives : int or None
        How many other routes to look for, for each routed line; None: nor is it weighed what each
        line chose where.

    Raises
    ------
    InputError
        The elevation data can't be read, or a point of the sketch has no ground.
    """
    held = held or Held()
    say("preparing the routines (compiled once: a minute or two on the first run)")
    warm_up()
    say("reading the elevation data")
    box = _reach(site.elevation) if terrain is None else lonlat_box(terrain)
    site = replace(site, sketch=unswap(site.sketch, box))
    ground = _read_ground(site) if terrain is None else terrain
    bent, survey = measure(site, ground, held)
    plan, lands = _planned(site, bent, survey, say, held)
    if anything_measured(site):
        say("planning from the elevation data alone, to tell what measuring changed")
        before, _ = _planned(before_measuring(site), ground, None, lambda _: None, held)
        plan = replace(plan, changes=changes(before, plan))
    if alternatives is not None:
        lines = weigh_lines(
            site,
            plan.lines,
            lands,
            lambda name: say(f"weighing {name}"),
            alternatives=alternatives,
            held=held,
        )
        plan = replace(plan, lines=lines)
    say("checking")
    return replace(plan, findings=run(plan))


def _planned(
    site: Site, ground: Terrain, survey: Survey | None, say: Say, held: Held
) -> tuple[Plan, tuple[Land, Land]]:
    """Lines and water on a ground, and the land the lines were looked for on."""
    site, offered = named_pipes(site)
    points = levelled(place_points(ground, site.sketch), ground, survey)
    areas = place_areas(ground, site.sketch.areas)
    say("finding streams")
    streams = streams_of(ground, held)
    lands = held_lands(site, ground, areas, held)
    scheme = choose_scheme(site, points)
    laid_on = None if survey is None else partial(ground_along, survey, ground)
    found = find_lines(
        site, scheme, lands, streams, lambda name: say(f"routing {name}"), laid_on, held=held
    )
    say("computing the water")
    water, lines = scheme_water(site, ground, found.scheme, found.lines, survey)
    water, lines = add_works(site, offered, water, lines)
    lines = tuple(
        replace(line, crossed=crossed(line, ground, site.sketch, streams)) for line in lines
    )
    placed = found.scheme.chamber
    plan = Plan(
        site=site,
        terrain=ground,
        scheme=scheme.kind,
        scheme_reason=scheme.reason,
        points=points if placed is None or placed in points else (*points, placed),
        areas=areas,
        lines=lines,
        blocked=found.blocked,
        water=water,
        streams=streams,
        owners=owner_shares(lines, areas),
        made=datetime.datetime.now(tz=datetime.UTC).date(),
        survey=survey,
    )
    return plan, lands


def _reach(data: Elevation) -> tuple[float, float, float, float]:
    return reach_of(data.files, crs=data.crs, band=data.band)


def _read_ground(site: Site) -> Terrain:
    data = site.elevation
    box = box_around(site.sketch)
    whole = reads_whole(data.files, around=box, crs=data.crs, band=data.band)
    return read_elevation(data, None if whole else box, margin=data.margin)
