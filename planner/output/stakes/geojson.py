"""`stakes.geojson`: lines and stakes as RFC 7946 has it, figures in SI."""

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np

from planner.output.rounding import DEGREE, METRE, number
from planner.output.stakes.clean import one_line
from planner.output.stakes.table import rows
from planner.output.stakes.thin import needed_samples
from planner.output.stakes.value import StakedLine
from planner.output.stakes.words import source_note
from planner.record.value import Line, Plan
from planner.terrain.frame import to_lonlat

INDENT = 1


def write_stakes_geojson(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write a FeatureCollection in longitude/latitude (WGS 84): the lines, then the stakes.

    Positions hold no heights: those would have to stand above the ellipsoid. Properties of a
    stake are the columns of `stakes.csv`, null where they are not known; a line has name, role,
    start, end, `length_m` (along the pipe) and `run_m` (horizontal). `kind` is "line" or "stake".

    Parameters
    ----------
    plan : Plan
    staked : sequence of StakedLine
    path : Path

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    features = [_line(plan, one.line) for one in staked]
    features += [_stake(row) for one in staked for row in rows(one)]
    content = {
        "type": "FeatureCollection",
        "title": one_line(plan.site.title),
        "note": source_note(plan),
        **_bbox(features),
        "features": features,
    }
    text = json.dumps(content, ensure_ascii=False, indent=INDENT, allow_nan=False)
    path.write_bytes(f"{text}\n".encode())


def _line(plan: Plan, line: Line) -> dict[str, Any]:
    xy = line.profile.xy[needed_samples(line.profile.xy)]
    course = np.round(to_lonlat(plan.terrain, xy), DEGREE).tolist()
    properties = {
        "kind": "line",
        "name": line.name,
        "role": line.role,
        "start": one_line(line.start),
        "end": one_line(line.end),
        "length_m": number(line.profile.length, METRE),
        "run_m": number(float(line.profile.run[-1]), METRE),
    }
    return _feature("LineString", course, properties)


def _stake(row: dict[str, Any]) -> dict[str, Any]:
    figures = {name: value for name, value in row.items() if name not in {"lon", "lat"}}
    return _feature("Point", [row["lon"], row["lat"]], {"kind": "stake", **figures})


def _feature(shape: str, coordinates: list[Any], properties: dict[str, Any]) -> dict[str, Any]:
    geometry = {"type": shape, "coordinates": coordinates}
    return {"type": "Feature", "geometry": geometry, "properties": properties}


def _bbox(features: list[dict[str, Any]]) -> dict[str, list[float]]:
    """West, south, east, north; none without features."""
    if not features:
        return {}
    points = np.vstack([np.atleast_2d(one["geometry"]["coordinates"]) for one in features])
    return {"bbox": [*points.min(axis=0).tolist(), *points.max(axis=0).tolist()]}
