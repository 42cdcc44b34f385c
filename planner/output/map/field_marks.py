"""Small marks of the field on the plan: drawn crossings, where lines cross, stations, as built."""

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from planner.profile.value import FloatArray
from planner.record.value import Line, Plan
from planner.terrain.frame import to_lonlat
from planner.units.show import show

MarkKind = Literal["crossed", "station", "built"]


@dataclass(frozen=True, slots=True)
class FieldMark:
    """A mark with what is said of it; `angle` [degrees clockwise on paper] turns it to its line."""

    kind: MarkKind
    text: str
    lonlat: tuple[float, float]
    angle: float = 0.0


@dataclass(frozen=True, eq=False, slots=True)
class DrawnCrossing:
    """A road, stream or ditch of the sketch: its way [lon, lat] and where its name stands."""

    name: str
    path: FloatArray
    label_at: tuple[float, float]


def drawn_crossings(plan: Plan) -> tuple[DrawnCrossing, ...]:
    """The lines of the sketch that pipes cross at a price."""
    drawn = []
    for crossing in plan.site.sketch.crossings:
        path = np.array(crossing.shape.coords)[:, :2]
        middle = crossing.shape.interpolate(0.5, normalized=True)
        drawn.append(DrawnCrossing(crossing.name, path, (middle.x, middle.y)))
    return tuple(drawn)


def field_marks(plan: Plan) -> tuple[FieldMark, ...]:
    """Every small mark of the field."""
    return (
        *(mark for line in plan.lines for mark in _crossed(plan, line)),
        *_stations(plan),
        *(mark for line in plan.lines for mark in _built(plan, line)),
    )


def _crossed(plan: Plan, line: Line) -> list[FieldMark]:
    marks = []
    for crossed in line.crossed:
        xy = line.profile.xy
        ahead, behind = xy[min(crossed.index + 1, len(xy) - 1)], xy[max(crossed.index - 1, 0)]
        angle = -math.degrees(math.atan2(ahead[1] - behind[1], ahead[0] - behind[0]))
        text = f"{line.name} crosses {crossed.name or 'a stream'}"
        place = [np.interp(crossed.run_m, line.profile.run, xy[:, axis]) for axis in (0, 1)]
        marks.append(FieldMark("crossed", text, _lonlat(plan, place), angle))
    return marks


def _stations(plan: Plan) -> list[FieldMark]:
    if plan.survey is None:
        return []
    units = plan.site.units
    return [
        FieldMark(
            "station",
            f"{station.name}: {show(station.level, 'level', units)} measured",
            _lonlat(plan, station.xy),
        )
        for station in plan.survey.stations
    ]


def _built(plan: Plan, line: Line) -> list[FieldMark]:
    marks = () if line.built is None else line.built.marks
    return [
        FieldMark(
            "built",
            f"{line.name} as built: "
            + (", ".join(filter(None, (mark.what, mark.photo, mark.remark))) or "noted here"),
            _lonlat(plan, mark.xy),
        )
        for mark in marks
    ]


def _lonlat(plan: Plan, xy: npt.ArrayLike) -> tuple[float, float]:
    lon, lat = to_lonlat(plan.terrain, np.asarray(xy, dtype=np.float64).reshape(1, 2))[0].tolist()
    return lon, lat
