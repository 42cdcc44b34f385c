"""Every line of a scheme: which there are, and the finder of each one's role."""

import re
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import partial

from planner.chain.built import built_lines
from planner.chain.chamber import with_chamber
from planner.chain.lay_role import on_ground
from planner.chain.on_land import on_either, way_points
from planner.chain.scheme import Scheme
from planner.chain.walked import Walked, refuse_unknown_lines, walked_lines, walked_way
from planner.errors import NoRoute
from planner.profile.value import FloatArray
from planner.record.value import Blocked, Line, Placed
from planner.routing.delivery import find_delivery
from planner.routing.drive import find_drive
from planner.routing.drive_rule import drive_rule
from planner.routing.full import find_full
from planner.routing.land import Land
from planner.routing.outfall import find_overflow, find_waste
from planner.routing.supply import find_falling
from planner.routing.way import Way
from planner.site.value import LineRole, Site
from planner.terrain.drainage import Stream

STREAM_END = "stream"
GROUND_END = "open ground"

Ground = Callable[[FloatArray], FloatArray]
"""How much higher the ground was measured to be at (n, 2) x, y [m]: (n,) [m]."""


@dataclass(frozen=True, slots=True)
class Run:
    """One line to find: its role and the points at its ends; `mouth` names an end in the open."""

    role: LineRole
    start: Placed
    end: Placed | None
    mouth: str = ""

    @property
    def end_name(self) -> str:
        """What the plan calls the end."""
        return self.mouth if self.end is None else self.end.name


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
    ground: Ground | None = None,
) -> Lines:
    """Route and lay every line of a scheme; one that was walked or laid lies where it lies.

    Parameters
    ----------
    lands : (Land, Land)
        The parcel to stay on, and the same land with its border open: a line that can't keep to
        the parcel is found off it, for a check to tell.
    streams : tuple of Stream
        Where a ram's waste water may go.
    say : function
        Told the name of each line before it is looked for.
    ground : function, optional
        Each line is found on the terrain, and laid on the ground as it was measured.

    Raises
    ------
    InputError
        What is told of a line that was walked or laid can't be used.
    """
    refuse_unknown_lines(site, _possible(scheme))
    walked = walked_lines(site, lands[0].terrain)
    scheme = with_chamber(site, scheme, lands, walked)
    runs = _named([*_runs(scheme), *_outfalls(scheme)])
    refuse_unknown_lines(site, runs)
    lines: list[Line] = []
    blocked: list[Blocked] = []
    for name, run in runs.items():
        say(name)
        try:
            way = _way(site, run, walked.get(name), lands, streams)
        except NoRoute as why:
            blocked.append(_blocked(name, run, why))
            continue
        if way is not None:
            way = _on(ground, lands[1], way, site, run)
            lines.append(_line(site, name, run, way, walked=name in walked))
    laid = built_lines(site, lines, lands[0].terrain)
    return Lines(laid, tuple(blocked), scheme)


def _possible(scheme: Scheme) -> list[str]:
    """Names of the lines of a scheme, before it is known whether a chamber is placed."""
    names = list(_named([*_runs(scheme), *_outfalls(scheme)]))
    chamber = scheme.kind == "ram" and "supply" not in names
    return ["supply", *names] if chamber else names


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


def _outfalls(scheme: Scheme) -> Iterable[Run]:
    """Waste from the ram to the stream and overflow from the tank."""
    if scheme.kind == "ram" and scheme.pump is not None:
        yield Run("waste", scheme.pump, None, STREAM_END)
    if scheme.goal.role == "tank":
        yield Run("overflow", scheme.goal, None, GROUND_END)


def _way(
    site: Site,
    run: Run,
    walked: Walked | None,
    lands: tuple[Land, Land],
    streams: tuple[Stream, ...],
) -> Way | None:
    """Where a line runs; None of an outfall for which the land has no way."""
    laying = site.lines[run.role].laying
    if walked is not None:
        return walked_way(walked, lands[1], run.role, (run.start, run.end), laying)
    if run.role == "waste":
        return find_waste(lands[1], run.start.xy, [s.xy for s in streams], laying)
    if run.end is None:
        return find_overflow(lands[0], run.start.xy, laying)
    return on_either(lands, partial(_find, site, run.role, run.start, run.end))


def _find(site: Site, role: LineRole, start: Placed, end: Placed, land: Land) -> Way:
    laying = site.lines[role].laying
    via = tuple(way_points(site, land, role))
    if role == "drive":
        rule = drive_rule(laying, [site.lines["drive"].pipe.bore])
        return find_drive(land, start.xy, end.xy, bend=rule if laying.bend else None)
    find = {"supply": find_falling, "delivery": find_delivery}.get(role, find_full)
    return find(land, start.xy, end.xy, laying, via)


def _on(ground: Ground | None, land: Land, way: Way, site: Site, run: Run) -> Way:
    """The line laid on the ground as it was measured."""
    if ground is None:
        return way
    added = ground(way.laid.profile.xy)
    return on_ground(land, way, added, role=run.role, laying=site.lines[run.role].laying)


def _blocked(name: str, run: Run, why: NoRoute) -> Blocked:
    return Blocked(
        name,
        run.role,
        run.start.name,
        run.end_name,
        why.obstacle,
        str(why),
        why.where,
        why.shortfall,
        why.edge,
    )


def _line(site: Site, name: str, run: Run, way: Way, *, walked: bool) -> Line:
    return Line(
        name=name,
        role=run.role,
        start=run.start.name,
        end=run.end_name,
        settings=site.lines[run.role],
        profile=way.laid.profile,
        high_points=way.laid.high_points,
        low_points=way.laid.low_points,
        flats=way.laid.flats,
        rule_kept=way.rule_kept,
        walked=walked,
    )


def _named(runs: Iterable[Run]) -> Mapping[str, Run]:
    """Each line under a name, unique and safe as a file name."""
    named: dict[str, Run] = {}
    for run in runs:
        slug = _slug(run.end_name) if run.role == "distribution" else ""
        name = f"{run.role}-{slug}" if slug else str(run.role)
        unique, count = name, 2
        while unique in named:
            unique, count = f"{name}-{count}", count + 1
        named[unique] = run
    return named


def _slug(name: str) -> str:
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")
