"""Layers of the lines: their courses and pipes with all figures, and what stands along them."""

from collections.abc import Iterable, Iterator
from typing import Any

import numpy as np
from shapely.geometry import Point
from shapely.ops import substring

from planner.output.exchange.layer import Kind, Layer
from planner.output.vents import WORDS
from planner.profile.value import FloatArray, HighPoint, LowPoint
from planner.record.value import Line

Rows = Iterator[tuple[tuple[Any, ...], Any]]

LINE: dict[str, Kind] = {
    "name": "str",
    "role": "str",
    "start": "str",
    "end": "str",
    "length_m": "float64",
    "run_m": "float64",
    "rise_m": "float64",
    "pipe": "str",
    "bore_m": "float64",
    "rating_m": "float64",
    "bore_assumed": "bool",
    "manner": "str",
    "deepest_m": "float64",
    "shallowest_m": "float64",
    "digging_m2": "float64",
    "steepest": "float64",
    "bends": "int64",
    "high_points": "int64",
    "low_points": "int64",
    "vents": "int64",
    "crossings": "int64",
    "flow_m3s": "float64",
    "velocity_ms": "float64",
    "friction_m": "float64",
    "end_head_m": "float64",
    "greatest_head_m": "float64",
    "least_margin_m": "float64",
    "least_margin_state": "str",
    "runs_full": "bool",
    "rule_kept": "bool",
    "walked": "bool",
    "built": "str",
}
PIPE: dict[str, Kind] = {
    "line": "str",
    "role": "str",
    "start_m": "float64",
    "end_m": "float64",
    "pipe": "str",
    "bore_m": "float64",
    "rating_m": "float64",
    "named": "bool",
    "form": "str",
    "piece_m": "float64",
    "joints": "int64",
}
SAMPLE: dict[str, Kind] = {
    "line": "str",
    "run_m": "float64",
    "chainage_m": "float64",
    "ground_m": "float64",
    "pipe_m": "float64",
    "depth_m": "float64",
    "filled": "bool",
    "closed_level_m": "float64",
    "open_level_m": "float64",
}
HIGH: dict[str, Kind] = {
    "line": "str",
    "chainage_m": "float64",
    "level_m": "float64",
    "rise_m": "float64",
    "deeper_m": "float64",
}
LOW: dict[str, Kind] = {
    "line": "str",
    "chainage_m": "float64",
    "level_m": "float64",
    "sag_m": "float64",
}
VENT: dict[str, Kind] = {
    "line": "str",
    "chainage_m": "float64",
    "kind": "str",
    "height_m": "float64",
    "by_hand": "bool",
}
CROSSING: dict[str, Kind] = {
    "line": "str",
    "chainage_m": "float64",
    "name": "str",
}
OTHER: dict[str, Kind] = {
    "line": "str",
    "reason": "str",
    "length_m": "float64",
    "vents": "int64",
    "steepest": "float64",
    "more_m": "float64",
    "shared": "float64",
}


def line_layers(lines: Iterable[Line]) -> Iterator[Layer]:
    """Lines, pipes, samples, high and low points, vents, crossings, other routes."""
    all_of = tuple(lines)
    for name, told, shape, columns, rows in (
        ("lines", "Lines, in plan", "LineString", LINE, _lines),
        ("pipes", "Stretches of one size and class of pipe", "LineString", PIPE, _pipes),
        ("samples", "Ground, pipe and water levels along the lines", "Point", SAMPLE, _samples),
        ("high_points", "Where air gathers in a line", "Point", HIGH, _highs),
        ("low_points", "Where water and silt stay in a line", "Point", LOW, _lows),
        ("vents", "What lets the air out of a line", "Point", VENT, _vents),
        ("crossings", "Where a line crosses something", "Point", CROSSING, _crossings),
        ("other_routes", "Other routes found for a line", "LineString", OTHER, _others),
    ):
        found = tuple(row for line in all_of for row in rows(line))
        yield Layer(name, told, shape, columns, found)  # type: ignore[arg-type]


def _lines(line: Line) -> Rows:
    profile, settings, water, least = line.profile, line.settings, line.water, _least(line)
    cells = (
        line.name,
        line.role,
        line.start,
        line.end,
        profile.length,
        float(profile.run[-1]),
        float(profile.pipe[-1] - profile.pipe[0]),
        ", ".join(dict.fromkeys(run.label for run in line.runs)) or None,
        settings.pipe.bore,
        settings.pipe.rating,
        settings.pipe.bore_assumed,
        settings.laying.manner,
        _extreme(profile.depth, largest=True),
        _extreme(profile.depth, largest=False),
        None if line.figures is None else line.figures.digging,
        None if line.figures is None else line.figures.steepest,
        0 if line.figures is None else line.figures.bends,
        len(line.high_points),
        len(line.low_points),
        sum(1 for _ in _vents(line)),
        len(line.crossed),
        None if water is None else water.flow,
        None if water is None else water.velocity,
        None if water is None else water.friction,
        None if water is None else water.end_head,
        None if water is None else _extreme(water.closed_level - profile.pipe, largest=True),
        *least,
        water is None or water.runs_full,
        line.rule_kept,
        line.walked,
        None if line.built is None or line.built.date is None else line.built.date.isoformat(),
    )
    yield cells, line.path


def _least(line: Line) -> tuple[float | None, str | None]:
    if line.pressure is None:
        return None, None
    return line.pressure.least.margin, line.pressure.least.state


def _extreme(values: FloatArray, *, largest: bool) -> float | None:
    known = values[np.isfinite(values)]
    if known.size == 0:
        return None
    return float(known.max() if largest else known.min())


def _pipes(line: Line) -> Rows:
    profile = line.profile
    for run in line.runs:
        ends = np.interp([run.start_m, run.end_m], profile.chainage, profile.run)
        cells = (
            line.name,
            line.role,
            run.start_m,
            run.end_m,
            run.label,
            run.bore,
            run.rating,
            run.named,
            run.form,
            run.piece,
            len(run.joints),
        )
        part = substring(line.path, float(ends[0]), float(ends[1]))
        yield cells, part if part.geom_type == "LineString" else None


def _samples(line: Line) -> Rows:
    profile, water = line.profile, line.water
    nowhere = np.full(profile.run.size, np.nan)
    closed, opened = (nowhere, nowhere) if water is None else (water.closed_level, water.open_level)
    table = np.column_stack(
        [profile.run, profile.chainage, profile.ground, profile.pipe, profile.depth]
    )
    levels = np.column_stack([closed, opened])
    for place, (x, y) in enumerate(profile.xy.tolist()):
        cells = (line.name, *table[place].tolist(), bool(profile.filled[place]))
        yield (*cells, *levels[place].tolist()), Point(x, y)


def _at(line: Line, spot: HighPoint | LowPoint) -> Point:
    return Point(line.profile.xy[spot.index])


def _highs(line: Line) -> Rows:
    for high in line.high_points:
        cells = (line.name, high.chainage_m, high.level_m, high.rise_m, high.deeper_m)
        yield cells, _at(line, high)


def _lows(line: Line) -> Rows:
    for low in line.low_points:
        yield (line.name, low.chainage_m, low.level_m, low.sag_m), _at(line, low)


def _vents(line: Line) -> Rows:
    for one in () if line.air is None else line.air.vents:
        if one.vent is not None:
            kind = WORDS[one.vent.kind]
            cells = (line.name, one.chainage_m, kind, one.vent.height, one.vent.by_hand)
            yield cells, Point(line.profile.xy[one.index])


def _crossings(line: Line) -> Rows:
    for one in line.crossed:
        yield (line.name, one.chainage_m, one.name or "stream"), line.path.interpolate(one.run_m)


def _others(line: Line) -> Rows:
    for one in () if line.alternatives is None else line.alternatives.found:
        figures = one.figures
        cells = (
            line.name,
            one.reason,
            figures.length,
            figures.vents,
            figures.steepest,
            one.more_m,
            one.shared,
        )
        yield cells, one.line
