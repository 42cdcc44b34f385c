"""Every line of a scheme, routed and laid."""

from collections.abc import Callable
from dataclasses import dataclass

from planner.chain.built import built_lines
from planner.chain.chamber import with_chamber
from planner.chain.held import Held
from planner.chain.lay_role import on_ground
from planner.chain.runs import Run, runs_of
from planner.chain.scheme import Scheme
from planner.chain.seek import Seek, seek_way
from planner.chain.walked import refuse_unknown_lines, walked_lines
from planner.errors import NoRoute
from planner.profile.value import FloatArray
from planner.record.value import Blocked, Line
from planner.routing.land import Land
from planner.routing.way import Way
from planner.site.value import Site
from planner.terrain.drainage import Stream

Ground = Callable[[FloatArray], FloatArray]
"""How much higher the ground was measured to be at (n, 2) x, y [m]: (n,) [m]."""


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
    *,
    held: Held | None = None,
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
    held : Held, optional
        Lines that were looked for before, and whose ends stay, are not looked for again.

    Raises
    ------
    InputError
        What is told of a line that was walked or laid can't be used.
    """
    refuse_unknown_lines(site, _possible(scheme))
    walked = walked_lines(site, lands[0].terrain)
    held = held or Held()
    scheme = with_chamber(site, scheme, lands, walked, held)
    seek = Seek(site, lands, streams, held)
    runs = runs_of(scheme)
    refuse_unknown_lines(site, runs)
    lines: list[Line] = []
    blocked: list[Blocked] = []
    for name, run in runs.items():
        say(name)
        way = seek_way(seek, run, walked.get(name))
        if isinstance(way, NoRoute):
            blocked.append(blocked_line(name, run, way))
        elif way is not None:
            way = laid_on(ground, lands[1], way, site, run)
            lines.append(line_of(site, name, run, way, walked=name in walked))
    laid = built_lines(site, lines, lands[0].terrain)
    return Lines(laid, tuple(blocked), scheme)


def _possible(scheme: Scheme) -> list[str]:
    """Names of the lines of a scheme, before it is known whether a chamber is placed."""
    names = list(runs_of(scheme))
    chamber = scheme.kind == "ram" and "supply" not in names
    return ["supply", *names] if chamber else names


def laid_on(ground: Ground | None, land: Land, way: Way, site: Site, run: Run) -> Way:
    """The line laid on the ground as it was measured."""
    if ground is None:
        return way
    added = ground(way.laid.profile.xy)
    return on_ground(land, way, added, role=run.role, laying=site.lines[run.role].laying)


def blocked_line(name: str, run: Run, why: NoRoute) -> Blocked:
    """A line for which no way was found."""
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


def line_of(site: Site, name: str, run: Run, way: Way, *, walked: bool = False) -> Line:
    """A line that was found, before its water is known."""
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
