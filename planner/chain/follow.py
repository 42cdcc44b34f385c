"""`Following`: what becomes of a plan while one of its points is dragged.

Lines that do not hang on the point stay as they are. Those that run full are read from fields
searched beforehand from their other ends (`planner.chain.legs`), the short ones that fall or run
straight are looked for anew. What is shown is a line as it will run, not the line of the plan: the
exact one is found when the point is let go.
"""

from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from planner.chain.chamber import with_chamber
from planner.chain.decided import with_decided
from planner.chain.held import Held
from planner.chain.lands import held_lands, streams_of
from planner.chain.lay_role import OPEN_MOUTHED
from planner.chain.legs import ready_legs, stops_of, way_by_legs
from planner.chain.line_water import line_water
from planner.chain.lines import blocked_line, laid_on, line_of
from planner.chain.measured import levelled
from planner.chain.on_land import way_points
from planner.chain.runs import Run, runs_of
from planner.chain.scheme import Scheme, choose_scheme
from planner.chain.seek import Seek, find_way
from planner.chain.walked import walked_lines
from planner.chain.water import water_of
from planner.errors import NoRoute, SketchError
from planner.levels.bend import ground_along
from planner.record.value import Blocked, Line, Placed, Plan, Water
from planner.routing.way import Place, Way
from planner.site.value import Site
from planner.terrain.frame import to_lonlat
from planner.terrain.locate import level_of
from planner.units.parse import quoted

ELSEWHERE = "no way was found there"


@dataclass(frozen=True, eq=False, slots=True)
class Followed:
    """A plan with one of its points elsewhere, as far as it changes.

    Attributes
    ----------
    point : Placed
        The point where it is now, with its level there.
    placed : Placed or None
        A chamber that the program put elsewhere for it.
    lines : tuple of Line
        Found anew, under the names they have in the plan, with their water but for those that run
        out into the open.
    gone : tuple of Blocked
        Lines of the plan that are not found from there.
    water : Water
        Of the whole scheme; no ram, tank or intake is worked out.
    """

    point: Placed
    placed: Placed | None
    lines: tuple[Line, ...]
    gone: tuple[Blocked, ...]
    water: Water


class Following:
    """A plan whose points can be dragged.

    Parameters
    ----------
    plan : Plan
    held : Held
        That of the plan's own making, or a new one; fields are kept there from drag to drag.
    """

    def __init__(self, plan: Plan, held: Held) -> None:
        self._plan, self._held = plan, held
        lands = held_lands(plan.site, plan.terrain, plan.areas, held)
        self._seek = Seek(plan.site, lands, streams_of(plan.terrain, held), held)
        self._scheme = choose_scheme(plan.site, plan.points)
        survey = plan.survey
        self._laid_on = None if survey is None else partial(ground_along, survey, plan.terrain)

    def ready(self, name: str) -> None:
        """Search the fields for the lines at a point before it is dragged; none where none hang."""
        for run in runs_of(self._scheme).values():
            stops = stops_of(self._seek, run)
            if stops is not None and name in stops.names and self._is_routed(run):
                ready_legs(self._seek, run, stops, name)

    def move(self, name: str, xy: Place) -> Followed:
        """The plan's lines with a point at x, y [m].

        Raises
        ------
        TerrainError
            There is no ground.
        SketchError
            The plan has no such point.
        """
        plan, point = self._plan, self._moved(name, xy)
        points = tuple(point if one.name == name else one for one in plan.points)
        seek = replace(self._seek, site=_with(plan.site, point))
        scheme = self._scheme_of(seek, points)
        lines, gone = self._found(seek, scheme, name)
        all_lines = self._with_the_others(seek, lines, gone, scheme)
        water, flow = water_of(seek.site, plan.terrain, scheme, all_lines, plan.survey)
        fresh = {line.name for line in lines}
        return Followed(
            point=point,
            placed=scheme.chamber if scheme.chamber not in plan.points else None,
            lines=tuple(
                line
                if line.role in OPEN_MOUTHED
                else replace(line, water=line_water(seek.site, scheme, water, line, flow))
                for line in all_lines
                if line.name in fresh
            ),
            gone=gone,
            water=water,
        )

    def _with_the_others(
        self, seek: Seek, lines: tuple[Line, ...], gone: tuple[Blocked, ...], scheme: Scheme
    ) -> tuple[Line, ...]:
        """Lines found anew and those that stay, in the order of the plan, with what is decided."""
        fresh = {line.name for line in lines} | {line.name for line in gone}
        kept = tuple(line for line in self._plan.lines if line.name not in fresh)
        order = list(runs_of(scheme))
        found = with_decided(seek.site, self._plan.terrain, lines)
        return tuple(sorted((*found, *kept), key=lambda line: order.index(line.name)))

    def _moved(self, name: str, xy: Place) -> Placed:
        """A point elsewhere, with its level there."""
        plan = self._plan
        lon, lat = to_lonlat(plan.terrain, np.array([xy]))[0]
        at = float(lon), float(lat)
        _, ground = level_of(plan.terrain, name, at)
        for one in plan.points:
            if one.name == name:
                level = ground + one.level - one.ground
                moved = Placed(name, one.role, xy, at, ground, level)
                return levelled((moved,), plan.terrain, plan.survey)[0]
        msg = f"the plan has no point {quoted(name)} that could be moved"
        raise SketchError(msg)

    def _scheme_of(self, seek: Seek, points: tuple[Placed, ...]) -> Scheme:
        """The scheme between the points where they are now; a chamber goes with its ends."""
        scheme, before = choose_scheme(seek.site, points), self._scheme
        chamber = scheme.chamber
        stay = scheme.source == before.source and scheme.pump == before.pump
        if chamber is None or not chamber.by_program or stay:
            return scheme
        scheme = replace(scheme, chamber=None)
        walked = walked_lines(seek.site, seek.lands[0].terrain)
        return with_chamber(seek.site, scheme, seek.lands, walked, seek.held)

    def _found(
        self, seek: Seek, scheme: Scheme, name: str
    ) -> tuple[tuple[Line, ...], tuple[Blocked, ...]]:
        """The lines that change, and those that are gone."""
        runs, before = runs_of(scheme), runs_of(self._scheme)
        lines: list[Line] = []
        gone: list[Blocked] = []
        for called, run in runs.items():
            if not self._is_routed(run) or self._stays(seek, run, before.get(called)):
                continue
            way = self._way(seek, called, run, name)
            if way is None or isinstance(way, NoRoute):
                why = way or NoRoute(ELSEWHERE, obstacle="grade")
                gone.append(blocked_line(called, run, why))
            else:
                way = laid_on(self._laid_on, seek.lands[1], way, seek.site, run)
                lines.append(line_of(seek.site, called, run, way))
        for called in before.keys() - runs.keys():
            why = NoRoute(f"a {scheme.kind} scheme has no such line", obstacle="fall")
            gone.append(blocked_line(called, before[called], why))
        return tuple(lines), tuple(gone)

    def _stays(self, seek: Seek, run: Run, before: Run | None) -> bool:
        """Whether a line is as it is in the plan."""
        via = [list(way_points(one.site, one.lands[0], run.role)) for one in (seek, self._seek)]
        return run == before and via[0] == via[1]

    def _way(self, seek: Seek, called: str, run: Run, name: str) -> Way | NoRoute | None:
        stops, line = stops_of(seek, run), self._line(called)
        if stops is None or name not in stops.names or (line is None and len(stops.names) > 2):
            return find_way(seek, run)
        return way_by_legs(seek, run, stops, name, line)

    def _line(self, called: str) -> Line | None:
        return next((line for line in self._plan.lines if line.name == called), None)

    def _is_routed(self, run: Run) -> bool:
        """Whether a way is looked for: not where it was walked or laid."""
        lines = [line for line in self._plan.lines if line.role == run.role]
        return not any(
            line.walked and (line.start, line.end) == (run.start.name, run.end_name)
            for line in lines
        )


def _with(site: Site, point: Placed) -> Site:
    """The site with a point of its sketch elsewhere."""
    points = tuple(
        replace(one, at=point.lonlat) if one.name == point.name else one
        for one in site.sketch.points
    )
    return replace(site, sketch=replace(site.sketch, points=points))
