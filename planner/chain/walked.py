"""Lines that were walked, staked or laid: they lie where they lie, and no route is looked for."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import shapely
from shapely.geometry import LineString, Point
from shapely.ops import substring

from planner.chain.lay_role import lay_role
from planner.chain.on_data import refuse_off_data
from planner.chain.trail import is_trail, without_spikes, without_wobble
from planner.errors import InputError, SketchError
from planner.profile.along import profile_along
from planner.record.value import Placed
from planner.routing.land import Land
from planner.routing.way import Way
from planner.site.line_file import is_recorded, read_line
from planner.site.value import Laying, LineRole, Site
from planner.terrain.frame import to_local
from planner.terrain.value import FloatArray, Terrain
from planner.units.parse import quoted

NEAR = 5.0  # m; a handheld tells no place better, so an end this near a point is that point
FAR = 50.0  # m; a line that begins farther off belongs to another point,
SHARE = 0.5  # as does one that begins farther off than so much of its length,
NOT_FAR = 10.0  # m; though never nearer than this


@dataclass(frozen=True, eq=False, slots=True)
class Walked:
    """A line as its file has it: x, y [m], leaps of the GPS left out, and where it is named."""

    xy: FloatArray
    trail: bool
    file: str
    place: str


def walked_lines(site: Site, terrain: Terrain) -> dict[str, Walked]:
    """Every line that was walked or laid, by its name; where it was laid stands before the walk.

    Raises
    ------
    InputError
        A file can't be used.
    """
    return {
        name: _read(file, name, place, terrain)
        for name, (file, place) in dict(_files(site)).items()
    }


def refuse_unknown_lines(site: Site, names: Iterable[str]) -> None:
    """Refuse a name under `walked` or `built` that no line of the scheme has.

    Raises
    ------
    SketchError
        It lists the lines there are.
    """
    names = list(names)
    told = [(name, "measured.walked") for name in site.measured.walked]
    told += [(built.line, "built") for built in site.built]
    for name, place in told:
        if name not in names:
            msg = f"{place}: the plan has no line {quoted(name)}; its lines are {', '.join(names)}"
            raise SketchError(msg)


def walked_way(
    walked: Walked, land: Land, role: LineRole, ends: tuple[Placed, Placed | None], laying: Laying
) -> Way:
    """The line from point to point where it was walked, laid by the rule of its role.

    Its heights are never used. It is turned round if it was walked from the other end, and its ends
    are moved to the points. A trail of fixes is cut where it passes them, and freed of the GPS's
    own wobble, see `planner.chain.trail`; a line put down vertex by vertex keeps them all.

    Parameters
    ----------
    ends : (Placed, Placed or None)
        None: the line ends in the open, wherever it was walked to.

    Raises
    ------
    SketchError
        An end lies far from its point.
    TerrainError
        The line leaves the elevation data or crosses a hole in it.
    """
    start, end = ends
    xy = _turned(walked.xy, start, end)
    xy = _from_point(xy, start, walked, "begins")
    if end is not None:
        xy = _from_point(xy[::-1], end, walked, "ends")[::-1]
    if walked.trail:
        xy = without_wobble(xy)
    profile = profile_along(land.terrain, LineString(xy))
    refuse_off_data(land.terrain, profile, _line(walked))
    return lay_role(land, profile, role, laying)


def far_end(walked: Walked, start: Placed) -> tuple[float, float]:
    """x, y [m] of the end of a walked line that is not the one at its start."""
    x, y = _turned(walked.xy, start, None)[-1]
    return float(x), float(y)


def _files(site: Site) -> Iterator[tuple[str, tuple[Path, str]]]:
    for name, file in site.measured.walked.items():
        yield name, (file, f"measured.walked.{name}")
    for built in site.built:
        if built.along is not None:
            yield built.line, (built.along, f"built {built.line}, along")


def _read(file: Path, name: str, place: str, terrain: Terrain) -> Walked:
    try:
        line = read_line(file, name)
    except InputError as error:
        msg = f"{place}: {error.message}"
        raise SketchError(msg) from error
    xy = to_local(terrain, shapely.get_coordinates(line))
    if not np.all(np.isfinite(xy)):
        msg = f"{place}: {file.name} has a point that lies nowhere near the elevation data"
        raise SketchError(msg)
    pegs = file.suffix.lower() == ".csv"
    trail = not pegs and (is_recorded(file) or is_trail(xy))
    return Walked(without_spikes(xy) if trail else xy, trail, file.name, place)


def _line(walked: Walked) -> str:
    return f"{walked.place}: the line in {walked.file}"


def _turned(xy: FloatArray, start: Placed, end: Placed | None) -> FloatArray:
    """The line in the direction the water flows."""

    def off(way: FloatArray) -> float:
        away = float(np.hypot(*(way[0] - start.xy)))
        return away if end is None else away + float(np.hypot(*(way[-1] - end.xy)))

    back = xy[::-1]
    return back if off(back) < off(xy) else xy


def _from_point(xy: FloatArray, point: Placed, walked: Walked, verb: str) -> FloatArray:
    """The line with its first end moved to a point, by a leg of its own where that is some way off.

    Raises
    ------
    SketchError
        The end lies too far from the point.
    """
    off = float(np.hypot(*(xy[0] - point.xy)))
    if off > min(FAR, max(SHARE * LineString(xy).length, NOT_FAR)):
        msg = (
            f"{_line(walked)} {verb} {off:,.0f} m from {quoted(point.name)}; give the line from "
            "point to point, or move the point to where it was put"
        )
        raise SketchError(msg)
    if walked.trail:
        xy = _passed(xy, point)
    near = np.hypot(*(xy[0] - point.xy)) <= NEAR
    return np.concatenate([[point.xy], xy[1:] if near else xy])


def _passed(xy: FloatArray, point: Placed) -> FloatArray:
    """A trail from where it passes a point on.

    Who walks switches the GPS on before the point and off after it; what lies before the nearest
    approach, in the first 50 m, is no part of the line.
    """
    line = LineString(xy)
    head = substring(line, 0.0, min(FAR, line.length / 2.0))
    passed = float(head.project(Point(point.xy)))
    rest: FloatArray = shapely.get_coordinates(substring(line, passed, line.length))
    return rest
