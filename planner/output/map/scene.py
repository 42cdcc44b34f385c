"""What the map shows, ready to draw: longitude/latitude, finished words, looks.

The folium layers and the drawing on paper are two hands that draw one and the same scene.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely

from planner.output.look import POINT_LETTERS, POINT_WORDS, ROLES, RoleLook
from planner.output.map.around import streams_around
from planner.output.map.field_marks import (
    DrawnCrossing,
    FieldMark,
    drawn_crossings,
    field_marks,
)
from planner.output.map.routes import SceneRoute, scene_routes
from planner.output.stakes.value import StakedLine
from planner.output.vents import vents_of
from planner.profile.value import FloatArray, HighPoint, LowPoint, Profile
from planner.record.value import Finding, Level, Line, Placed, PlacedArea, Plan
from planner.site.value import AreaRole, LineRole, PointRole
from planner.terrain.frame import to_lonlat
from planner.units.show import show
from planner.wording.findings import sentence

MOST_SAMPLES = 360  # of one line, on the page
LAND = frozenset({"stay", "owner"})  # their names stand at a corner, out of the way of lines
STRAIGHT = 0.05  # m; a course may leave its samples by so much


@dataclass(frozen=True, eq=False, slots=True)
class SceneLine:
    """A pipe: samples `path` [lon, lat] at `chainage` [m], with its levels [m].

    `course` is the same way with as few points as it needs: screens round to whole pixels, and
    many samples would make a straight pipe look crooked.
    """

    name: str
    title: str
    role: LineRole
    look: RoleLook
    line: Line
    course: FloatArray
    path: FloatArray
    chainage: FloatArray
    ground: FloatArray
    pipe: FloatArray
    closed: FloatArray | None
    open: FloatArray | None


@dataclass(frozen=True, slots=True)
class ScenePoint:
    """A point: its shape, the letter in it, its name; `number` counts the outlets."""

    name: str
    role: PointRole
    word: str
    letter: str
    lonlat: tuple[float, float]
    level: float
    ground: float
    by_program: bool
    bearing: float  # degrees; of the line through a way point, 0 elsewhere


@dataclass(frozen=True, eq=False, slots=True)
class SceneArea:
    """An area: outer and inner rings [lon, lat] of each part, and where its name stands."""

    name: str
    role: AreaRole
    label: str
    label_at: tuple[float, float]
    parts: tuple[tuple[FloatArray, ...], ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """A high or low point of a line, with its rise or sag in words; `vent`: its kind, or ""."""

    kind: Literal["high", "low"]
    line: str
    text: str
    xy: tuple[float, float]  # m, in the terrain's grid
    lonlat: tuple[float, float]
    chainage: float
    level: float
    vent: str = ""


@dataclass(frozen=True, slots=True)
class SceneFinding:
    """A finding in words; `at` is where it stands on the plan, None where nothing can be shown."""

    number: int
    level: Level
    message: str
    remedy: str
    line: str | None
    chainage: float | None
    likelihood: float | None
    at: tuple[float, float] | None


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """Everything on the plan; `bounds` is west, south, east, north of what matters."""

    lines: tuple[SceneLine, ...]
    points: tuple[ScenePoint, ...]
    areas: tuple[SceneArea, ...]
    turns: tuple[Turn, ...]
    findings: tuple[SceneFinding, ...]
    streams: tuple[FloatArray, ...]
    bounds: tuple[float, float, float, float]
    routes: tuple[SceneRoute, ...] = ()
    crossings: tuple[DrawnCrossing, ...] = ()
    marks: tuple[FieldMark, ...] = ()
    staked: tuple[StakedLine, ...] = ()


def make_scene(plan: Plan, staked: Sequence[StakedLine] = ()) -> Scene:
    """The scene of a plan, with the stakes of its lines.

    Raises
    ------
    TerrainError
        The terrain has no coordinate system, so that nothing can be put on a map.
    """
    lines = tuple(scene_line(plan, line) for line in plan.lines)
    areas = tuple(_areas(plan))
    points = tuple(_points(plan))
    routes = scene_routes(plan)
    return Scene(
        lines=lines,
        points=points,
        areas=areas,
        turns=tuple(turn for line in plan.lines for turn in scene_turns(plan, line)),
        findings=scene_findings(plan),
        streams=tuple(to_lonlat(plan.terrain, xy) for xy in streams_around(plan)),
        bounds=_bounds(plan, (*lines, *routes), points, areas),
        routes=routes,
        crossings=drawn_crossings(plan),
        marks=field_marks(plan),
        staked=tuple(staked),
    )


def section_scene(plan: Plan, line: Line) -> Scene:
    """What the section of one line shows, and no more.

    A line that is not the plan's own, such as one that is dragged, shows no findings: they were
    made where it lay.
    """
    own = any(line is one for one in plan.lines)
    found = scene_findings(plan) if own else ()
    drawn = (scene_line(plan, line),)
    return Scene(
        lines=drawn,
        points=(),
        areas=(),
        turns=scene_turns(plan, line),
        findings=tuple(finding for finding in found if finding.line == line.name),
        streams=(),
        bounds=_bounds(plan, drawn, (), ()),
    )


def scene_line(plan: Plan, line: Line) -> SceneLine:
    """A line, thinned to what can be told apart."""
    keep = kept_samples(line)
    profile, water = line.profile, line.water
    look = ROLES[line.role]
    return SceneLine(
        name=line.name,
        title=f"{look.word}, {line.start} to {line.end}",
        role=line.role,
        look=look,
        line=line,
        course=to_lonlat(plan.terrain, np.array(line.path.simplify(STRAIGHT).coords)),
        path=to_lonlat(plan.terrain, profile.xy[keep]),
        chainage=profile.chainage[keep],
        ground=profile.ground[keep],
        pipe=profile.pipe[keep],
        closed=None if water is None else water.closed_level[keep],
        open=None if water is None else water.open_level[keep],
    )


def kept_samples(line: Line) -> np.ndarray:
    """Indices of at most about `MOST_SAMPLES` samples: the ends, high and low points among them."""
    count = line.profile.run.size
    even = np.linspace(0, count - 1, min(count, MOST_SAMPLES)).round().astype(np.int64)
    turns = [high.index for high in line.high_points] + [low.index for low in line.low_points]
    return np.unique(np.concatenate([even, np.array(turns, dtype=np.int64)]))


def _points(plan: Plan) -> list[ScenePoint]:
    outlets = [point.name for point in plan.points if point.role == "outlet"]
    drawn = []
    for point in plan.points:
        letter, word = POINT_LETTERS[point.role], POINT_WORDS[point.role]
        if point.role == "outlet":
            letter = str(outlets.index(point.name) + 1)
        if point.role == "pump" and plan.scheme == "powered":
            letter, word = "P", "Pump"
        drawn.append(
            ScenePoint(
                name=point.name,
                role=point.role,
                word=word,
                letter=letter,
                lonlat=point.lonlat,
                level=point.level,
                ground=point.ground,
                by_program=point.by_program,
                bearing=_bearing_at(plan, point),
            )
        )
    return drawn


def _bearing_at(plan: Plan, point: Placed) -> float:
    """Bearing [degrees] of the line nearest to a way point, so that its tick can cross it."""
    if point.role != "way" or not plan.lines:
        return 0.0
    near = min(
        (profile for profile in (line.profile for line in plan.lines)),
        key=lambda profile: _nearest(profile, point.xy)[1],
    )
    at = _nearest(near, point.xy)[0]
    dx, dy = near.xy[min(at + 1, len(near.xy) - 1)] - near.xy[max(at - 1, 0)]
    return math.degrees(math.atan2(dx, dy))


def _nearest(profile: Profile, xy: tuple[float, float]) -> tuple[int, float]:
    distance = np.hypot(profile.xy[:, 0] - xy[0], profile.xy[:, 1] - xy[1])
    at = int(np.argmin(distance))
    return at, float(distance[at])


def _areas(plan: Plan) -> list[SceneArea]:
    drawn = []
    for area in plan.areas:
        parts = getattr(area.shape, "geoms", (area.shape,))
        label = area.name if area.role != "costly" else f"{area.name} ×{area.factor:g}"
        drawn.append(
            SceneArea(
                name=area.name,
                role=area.role,
                label=label,
                label_at=_pair(plan, _label_place(area)),
                parts=tuple(
                    tuple(
                        to_lonlat(plan.terrain, np.array(ring.coords)[:, :2])
                        for ring in (part.exterior, *part.interiors)
                    )
                    for part in parts
                ),
            )
        )
    return drawn


def _label_place(area: PlacedArea) -> tuple[float, ...]:
    """x, y [m] of an area's name: inside a small area, at the north-west corner of land."""
    if area.role in LAND:
        corners = shapely.get_coordinates(area.shape)
        x, y = corners[np.argmax(corners[:, 1] - corners[:, 0])]
        return float(x), float(y)
    return tuple(area.shape.representative_point().coords[0])


def scene_turns(plan: Plan, line: Line) -> tuple[Turn, ...]:
    """The high points of a line, then its low points."""
    vents = vents_of(line)
    return (
        *(
            _turn(plan, line, "high", high, high.rise_m, vents.get(high.index, ""))
            for high in line.high_points
        ),
        *(_turn(plan, line, "low", low, low.sag_m) for low in line.low_points),
    )


def _turn(
    plan: Plan,
    line: Line,
    kind: Literal["high", "low"],
    point: HighPoint | LowPoint,
    height: float,
    vent: str = "",
) -> Turn:
    x, y = line.profile.xy[point.index].tolist()
    return Turn(
        kind=kind,
        line=line.name,
        text=show(height, "level", plan.site.units),
        xy=(x, y),
        lonlat=_pair(plan, (x, y)),
        chainage=point.chainage_m,
        level=point.level_m,
        vent=vent,
    )


def scene_findings(plan: Plan) -> tuple[SceneFinding, ...]:
    """The findings in words, numbered from 1 in the plan's order."""
    places = [place_of(plan, finding) for finding in plan.findings]
    known = [place for place in places if place is not None]
    lonlat = iter(to_lonlat(plan.terrain, np.array(known)) if known else ())
    drawn = []
    for number, (finding, place) in enumerate(zip(plan.findings, places, strict=True), start=1):
        wording = sentence(finding, plan.site.units)
        at = None if place is None else _floats(next(lonlat))
        drawn.append(
            SceneFinding(
                number=number,
                level=finding.level,
                message=wording.message,
                remedy=wording.remedy,
                line=finding.line,
                chainage=finding.chainage_m,
                likelihood=finding.likelihood,
                at=at,
            )
        )
    return tuple(drawn)


def place_of(plan: Plan, finding: Finding) -> tuple[float, float] | None:
    """x, y [m] where a finding stands: its own place, else on its line, else nowhere."""
    if finding.at is not None:
        return finding.at
    profile = next((line.profile for line in plan.lines if line.name == finding.line), None)
    if profile is None:
        return next((b.where for b in plan.blocked if b.name == finding.line), None)
    at = profile.length / 2 if finding.chainage_m is None else finding.chainage_m
    x, y = (float(np.interp(at, profile.chainage, profile.xy[:, axis])) for axis in (0, 1))
    return x, y


def _bounds(
    plan: Plan,
    lines: tuple[SceneLine | SceneRoute, ...],
    points: tuple[ScenePoint, ...],
    areas: tuple[SceneArea, ...],
) -> tuple[float, float, float, float]:
    """Box of lines and points; without any, of the areas; without those, of the ground."""
    shown = [line.course for line in lines] + [np.array([p.lonlat]) for p in points]
    shown = shown or [ring for area in areas for part in area.parts for ring in part]
    if not shown:
        west, south, east, north = plan.terrain.bounds
        shown = [to_lonlat(plan.terrain, [(west, south), (east, north)])]
    box = np.concatenate(shown)
    (west, south), (east, north) = box.min(axis=0), box.max(axis=0)
    return float(west), float(south), float(east), float(north)


def _pair(plan: Plan, xy: tuple[float, ...]) -> tuple[float, float]:
    return _floats(to_lonlat(plan.terrain, np.array([xy[:2]]))[0])


def _floats(pair: FloatArray) -> tuple[float, float]:
    first, second = pair.tolist()
    return first, second
