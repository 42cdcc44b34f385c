"""Layers of the field: stakes, levels measured, and lines as they were laid."""

from collections.abc import Iterator, Sequence
from typing import Any

from shapely.geometry import Point

from planner.output.exchange.layer import Kind, Layer
from planner.output.stakes.table import COLUMNS, rows
from planner.output.stakes.value import StakedLine
from planner.record.value import Line, Plan

TEXT = {"name", "line", "reasons", "remark", "findings"}
STAKE: dict[str, Kind] = {
    column: "str" if column in TEXT else "int64" if column == "number" else "float64"
    for column in COLUMNS
}
LEVELLED: dict[str, Kind] = {
    "name": "str",
    "level_m": "float64",
    "error_m": "float64",
    "model_m": "float64",
    "measured_less_model_m": "float64",
    "methods": "str",
}
BUILT: dict[str, Kind] = {
    "line": "str",
    "role": "str",
    "date": "str",
    "length_m": "float64",
    "photos": "str",
    "note": "str",
}
MARK: dict[str, Kind] = {
    "line": "str",
    "date": "str",
    "chainage_m": "float64",
    "depth_m": "float64",
    "what": "str",
    "photo": "str",
    "remark": "str",
}


def field_layers(plan: Plan, staked: Sequence[StakedLine]) -> Iterator[Layer]:
    """Stakes, levelled stations, lines as built and what was noted along them."""
    stakes = tuple(
        (tuple(row.values()), Point(stake.xy))
        for one in staked
        for row, stake in zip(rows(one), one.stakes, strict=True)
    )
    yield Layer("stakes", "Stakes, in order", "Point", STAKE, stakes)
    stations = () if plan.survey is None else plan.survey.stations
    levelled = tuple(
        (
            (
                one.name,
                one.level,
                one.error,
                one.model,
                one.level - one.model,
                ", ".join(one.methods),
            ),
            Point(one.xy),
        )
        for one in stations
    )
    yield Layer("levelled", "Levels measured on the ground", "Point", LEVELLED, levelled)
    built = tuple(row for line in plan.lines for row in _built(line))
    yield Layer("as_built", "Lines as they were laid", "LineString", BUILT, built)
    marks = tuple(row for line in plan.lines for row in _marks(line))
    yield Layer("as_built_marks", "What was noted along laid lines", "Point", MARK, marks)


def _date(line: Line) -> str | None:
    built = line.built
    return None if built is None or built.date is None else built.date.isoformat()


def _built(line: Line) -> Iterator[tuple[tuple[Any, ...], Any]]:
    built = line.built
    if built is not None:
        photos = ", ".join(built.photos)
        cells = (line.name, line.role, _date(line), line.profile.length, photos, built.note)
        yield cells, line.path


def _marks(line: Line) -> Iterator[tuple[tuple[Any, ...], Any]]:
    for mark in () if line.built is None else line.built.marks:
        said = (mark.chainage_m, mark.depth, mark.what, mark.photo, mark.remark)
        yield (line.name, _date(line), *said), Point(mark.xy)
