"""Layers of the site: points, areas, streams, owners, findings, and the plan's own figures."""

import math
from collections.abc import Iterator
from typing import Any

from shapely.geometry import LineString, MultiPolygon, Point

from planner.output.exchange.layer import Kind, Layer
from planner.output.stakes.words import origin
from planner.record.value import Finding, PlacedArea, Plan
from planner.wording.cautions import cautions
from planner.wording.findings import sentence

POINT: dict[str, Kind] = {
    "name": "str",
    "role": "str",
    "ground_m": "float64",
    "level_m": "float64",
    "level_error_m": "float64",
    "by_program": "bool",
}
AREA: dict[str, Kind] = {
    "name": "str",
    "role": "str",
    "factor": "float64",
    "deepest_trench_m": "float64",
    "ground": "str",
}
STREAM: dict[str, Kind] = {"catchment_m2": "float64"}
OWNER: dict[str, Kind] = {"line": "str", "owner": "str", "metres": "float64"}
FINDING: dict[str, Kind] = {
    "number": "int64",
    "level": "str",
    "code": "str",
    "line": "str",
    "chainage_m": "float64",
    "likelihood": "float64",
    "message": "str",
    "remedy": "str",
}
FIGURE: dict[str, Kind] = {"what": "str", "value": "str", "unit": "str"}


def site_layers(plan: Plan) -> Iterator[Layer]:
    """Points, areas, streams, findings; the tables of owners and of the plan's figures."""
    points = tuple(
        ((p.name, p.role, p.ground, p.level, p.level_error, p.by_program), Point(p.xy))
        for p in plan.points
    )
    yield Layer("points", "Source, chamber, ram, tank, outlets", "Point", POINT, points)
    areas = tuple((_area(area), _parts(area)) for area in plan.areas)
    yield Layer("areas", "Areas of the sketch", "MultiPolygon", AREA, areas)
    streams = tuple(
        ((one.catchment,), LineString(one.xy)) for one in plan.streams if len(one.xy) > 1
    )
    yield Layer("streams", "Streams found in the ground", "LineString", STREAM, streams)
    findings = tuple(
        (_finding(plan, number, one), None if one.at is None else Point(one.at))
        for number, one in enumerate(plan.findings, start=1)
    )
    yield Layer("findings", "What to stop for, to heed, to know", "Point", FINDING, findings)
    owners = tuple(((one.line, one.owner, one.metres), None) for one in plan.owners)
    yield Layer("owners", "Metres of each line on each owner's land", None, OWNER, owners)
    figures = tuple((cells, None) for cells in _figures(plan))
    yield Layer("plan", "Figures of the whole plan", None, FIGURE, figures)


def _area(area: PlacedArea) -> tuple[Any, ...]:
    return area.name, area.role, area.factor, area.deepest_trench, area.ground


def _parts(area: PlacedArea) -> MultiPolygon:
    return area.shape if isinstance(area.shape, MultiPolygon) else MultiPolygon([area.shape])


def _finding(plan: Plan, number: int, finding: Finding) -> tuple[Any, ...]:
    words = sentence(finding, plan.site.units)
    return (
        number,
        finding.level,
        finding.code,
        finding.line,
        finding.chainage_m,
        finding.likelihood,
        words.message,
        words.remedy,
    )


def _figures(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """What, how much, in which unit: SI, empty for words."""
    source, water = plan.terrain.provenance, plan.water
    yield "title", plan.site.title, ""
    yield "made", plan.made.isoformat(), ""
    yield "scheme", plan.scheme, ""
    yield "levels from", origin(plan), ""
    yield "elevation files", ", ".join(source.files), ""
    yield "kind of elevation data", source.kind, ""
    numbers: list[tuple[str, Any, str]] = [
        ("standard error of a height", source.standard_error, "m"),
        ("cell of the elevation data", source.native_cell, "m"),
        ("source flow", water.source_flow, "m3/s"),
        ("flow taken", water.taken, "m3/s"),
        ("need", water.need, "m3/day"),
        ("lift friction", water.lift_friction, "m"),
    ]
    for name, band, unit in (
        ("fall", water.fall, "m"),
        ("lift", water.lift, "m"),
        ("delivered", water.delivered, "m3/day"),
    ):
        if band is not None:
            ends = (("low", band.low), ("expected", band.expected), ("high", band.high))
            numbers += [(f"{name}, {which}", value, unit) for which, value in ends]
    for what, value, unit in numbers:
        if value is not None and math.isfinite(value):
            yield what, f"{float(value):.6g}", unit
    for caution in cautions(plan):
        yield "caution", caution, ""
