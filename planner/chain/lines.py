"""Every line of a scheme: which there are, and the finder of each one's role."""

import re
import unicodedata
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from planner.chain.place import place_chamber
from planner.chain.scheme import Scheme
from planner.errors import NoRoute
from planner.profile.value import Profile
from planner.record.value import Blocked, Line, Placed
from planner.routing.delivery import find_delivery
from planner.routing.drive import chamber_on, find_drive
from planner.routing.drive_rule import drive_rule
from planner.routing.full import find_full
from planner.routing.land import Land
from planner.routing.outfall import find_overflow, find_waste
from planner.routing.supply import find_falling
from planner.routing.way import Place, Way
from planner.site.value import LineRole, Site
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_local

STREAM_END = "stream"
GROUND_END = "open ground"


@dataclass(frozen=True, slots=True)
class Run:
    """One line to find: its role and the points at its ends."""

    role: LineRole
    start: Placed
    end: Placed


@dataclass(frozen=True, slots=True)
class Lines:
    """The lines found, those blocked, and the scheme with the chamber that was used."""

    lines: tuple[Line, ...]
    blocked: tuple[Blocked, ...]
    scheme: Scheme


def find_lines(
    site: Site,
    scheme: Scheme,
    lands: tuple[Land, Land],
    streams: tuple[Stream, ...],
    say: Callable[[str], None],
) -> Lines:
    """Route and lay every line of a scheme.

    Parameters
    ----------
    lands : (Land, Land)
        The parcel to stay on, and the same land with its border open: a line that can't keep to
        the parcel is found off it, for a check to tell.
    streams : tuple of Stream
        Where a ram's waste water may go.
    say : function
        Told the name of each line before it is looked for.
    """
    scheme = _with_chamber(site, scheme, lands)
    lines: list[Line] = []
    blocked: list[Blocked] = []
    names: set[str] = set()
    for run in _runs(scheme):
        name = _name(run, names)
        say(name)
        try:
            way = _on_either(lands, partial(_find, site, run))
        except NoRoute as why:
            blocked.append(
                Blocked(
                    name,
                    run.role,
                    run.start.name,
                    run.end.name,
                    why.obstacle,
                    str(why),
                    why.where,
                    why.shortfall,
                    why.edge,
                )
            )
            continue
        lines.append(_line(site, name, run.role, (run.start.name, run.end.name), way))
    lines += _outfalls(site, scheme, lands, streams, say)
    return Lines(tuple(lines), tuple(blocked), scheme)


def _runs(scheme: Scheme) -> Iterable[Run]:
    head = scheme.chamber or scheme.source
    if scheme.chamber is not None:
        yield Run("supply", scheme.source, scheme.chamber)
    if scheme.kind == "gravity":
        yield Run("main" if scheme.goal.role == "tank" else "distribution", head, scheme.goal)
    elif scheme.pump is not None:
        if scheme.kind == "ram":
            yield Run("drive", head, scheme.pump)
        elif scheme.pump.xy != head.xy:
            yield Run("supply", head, scheme.pump)
        yield Run("delivery", scheme.pump, scheme.goal)
    start = scheme.goal if scheme.goal.role == "tank" else head
    for outlet in scheme.outlets:
        yield Run("distribution", start, outlet)


def _find(site: Site, run: Run, land: Land) -> Way:
    laying = site.lines[run.role].laying
    via = tuple(way_points(site, land, run.role))
    if run.role == "drive":
        rule = drive_rule(laying, [site.lines["drive"].pipe.bore])
        return find_drive(land, run.start.xy, run.end.xy, bend=rule if laying.bend else None)
    find = {"supply": find_falling, "delivery": find_delivery}.get(run.role, find_full)
    return find(land, run.start.xy, run.end.xy, laying, via)


def _on_either(lands: tuple[Land, Land], find: Callable[[Land], Way]) -> Way:
    """On the parcel if a line can be found there, else off it."""
    inside, everywhere = lands
    try:
        return find(inside)
    except NoRoute:
        if inside is everywhere:
            raise
    return find(everywhere)


def _with_chamber(site: Site, scheme: Scheme, lands: tuple[Land, Land]) -> Scheme:
    """A ram scheme without a chamber gets one on its supply line, where that gives most fall."""
    if scheme.kind != "ram" or scheme.chamber is not None or scheme.pump is None:
        return scheme
    ram, supply = scheme.pump, site.lines["supply"].laying
    via = tuple(way_points(site, lands[0], "supply"))
    try:
        way = _on_either(
            lands, lambda land: find_falling(land, scheme.source.xy, ram.xy, supply, via)
        )
    except NoRoute:
        return scheme
    line, drive = way.laid.profile, site.lines["drive"]
    beyond = _run_at(line, via[-1]) if via else 0.0
    places = (
        chamber_on(land, line, ram.xy, drive.laying, bores=[drive.pipe.bore], beyond=beyond)
        for land in lands
    )
    place = next(filter(None, places), None)
    if place is None or place == scheme.source.xy:
        return scheme
    names = [point.name for point in site.sketch.points]
    return replace(scheme, chamber=place_chamber(lands[0].terrain, place, names))


def _run_at(profile: Profile, place: Place) -> float:
    """Horizontal distance along a line at which it passes a place [m]."""
    away = np.hypot(profile.xy[:, 0] - place[0], profile.xy[:, 1] - place[1])
    return float(profile.run[int(np.argmin(away))])


def _outfalls(
    site: Site,
    scheme: Scheme,
    lands: tuple[Land, Land],
    streams: tuple[Stream, ...],
    say: Callable[[str], None],
) -> list[Line]:
    """Waste from the ram to the stream and overflow from the tank, where there is such a way."""
    found = []
    if scheme.kind == "ram" and scheme.pump is not None:
        say("waste")
        laying = site.lines["waste"].laying
        way = find_waste(lands[1], scheme.pump.xy, [s.xy for s in streams], laying)
        if way is not None:
            found.append(_line(site, "waste", "waste", (scheme.pump.name, STREAM_END), way))
    if scheme.goal.role == "tank":
        say("overflow")
        laying = site.lines["overflow"].laying
        way = find_overflow(lands[0], scheme.goal.xy, laying)
        if way is not None:
            ends = (scheme.goal.name, GROUND_END)
            found.append(_line(site, "overflow", "overflow", ends, way))
    return found


def way_points(site: Site, land: Land, role: LineRole) -> Iterable[Place]:
    """x, y of the points that lines of a role must pass, in order."""
    for point in site.sketch.points:
        if point.role == "way" and point.line == role:
            x, y = to_local(land.terrain, [point.at])[0]
            yield float(x), float(y)


def _line(site: Site, name: str, role: LineRole, ends: tuple[str, str], way: Way) -> Line:
    return Line(
        name=name,
        role=role,
        start=ends[0],
        end=ends[1],
        settings=site.lines[role],
        profile=way.laid.profile,
        high_points=way.laid.high_points,
        low_points=way.laid.low_points,
        flats=way.laid.flats,
        rule_kept=way.rule_kept,
    )


def _name(run: Run, taken: set[str]) -> str:
    """A name for the line, unique and safe as a file name."""
    name: str = run.role
    if run.role == "distribution":
        name = f"{run.role}-{_slug(run.end.name)}" if _slug(run.end.name) else run.role
    unique, count = name, 2
    while unique in taken:
        unique, count = f"{name}-{count}", count + 1
    taken.add(unique)
    return unique


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")
