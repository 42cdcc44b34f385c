"""What was measured on the ground, taken into the chain before lines are looked for."""

from collections.abc import Iterable, Iterator
from dataclasses import replace

from planner.chain.held import Held
from planner.levels.bend import bend, doubt_at
from planner.levels.read import read_levels
from planner.levels.stakes_file import read_stakes
from planner.levels.survey import survey as adjust
from planner.levels.value import Readings, Survey
from planner.record.value import Placed
from planner.site.field import Measured
from planner.site.value import Site
from planner.terrain.frame import to_local
from planner.terrain.value import Terrain


def anything_measured(site: Site) -> bool:
    """Whether a plan of the elevation data alone would be another."""
    measured = site.measured
    laid = any(one.along or one.marks or one.depth is not None for one in site.built)
    return bool(measured.levels or measured.timings or measured.walked or site.ram.measured or laid)


def before_measuring(site: Site) -> Site:
    """The site as it was known before anyone went there: nothing measured, walked or built."""
    return replace(site, measured=Measured(), ram=replace(site.ram, measured=()), built=())


def measure(
    site: Site, terrain: Terrain, held: Held | None = None
) -> tuple[Terrain, Survey | None]:
    """The ground bent to the levels of the site, and the levels; None where there are none.

    Raises
    ------
    InputError
        A file of readings can't be used, or the levels contradict one another.
    """
    said = site.measured
    if not said.levels:
        return terrain, None
    unit = said.unit or ("ft" if site.units == "us" else "m")
    stakes = {} if said.stakes is None else read_stakes(said.stakes)
    lonlats = {**stakes, **{point.name: point.at for point in site.sketch.points}}
    readings = read_levels(said.levels, unit=unit, stakes=lonlats)
    xy = to_local(terrain, list(lonlats.values()))
    named = {name.casefold() for name in _stations(readings)}
    places = {
        name: (float(x), float(y))
        for name, (x, y) in zip(lonlats, xy, strict=True)
        if name.casefold() in named
    }

    def bent() -> tuple[Terrain, Survey]:
        found = adjust(readings, terrain, places, reach=said.reach, units=site.units)
        return bend(terrain, found), found

    held = held or Held()
    key = (held.number(terrain), repr(readings), repr(places), said.reach, site.units)
    return held.recall("survey", key, bent)


def _stations(readings: Readings) -> Iterator[str]:
    """Names of all that was read."""
    for one in readings.differences:
        yield from (one.start, one.end)
    yield from (known.station for known in readings.knowns)
    yield from readings.places


def levelled(
    points: Iterable[Placed], terrain: Terrain, survey: Survey | None
) -> tuple[Placed, ...]:
    """The points with the levels that were measured, and how sure each is.

    A point that was not levelled itself is surer where others near it were.
    """
    points = tuple(points)
    if survey is None:
        return points
    doubts = doubt_at(survey, terrain, [point.xy for point in points])
    return tuple(
        _levelled(point, survey, float(doubt)) for point, doubt in zip(points, doubts, strict=True)
    )


def _levelled(point: Placed, survey: Survey, doubt: float) -> Placed:
    station = survey.at(point.name, point.xy)
    if station is None:
        return replace(point, level_error=doubt)
    height = point.level - point.ground
    return replace(
        point, ground=station.level, level=station.level + height, level_error=station.error
    )
