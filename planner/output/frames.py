"""A plan's lines, points and findings as GeoDataFrames, in longitude/latitude (EPSG:4326).

    lines_frame(plan).to_crs(32633).length
    points_frame(plan).to_file("points.gpkg")

Figures are in SI, whatever units the site shows.
"""

from collections.abc import Iterable
from typing import Any

import geopandas as gpd
import numpy as np
from shapely import LineString, Point

from planner.record.value import Finding, Plan
from planner.terrain.frame import to_lonlat
from planner.wording.findings import sentence

LINE_COLUMNS = (
    "name", "role", "start", "end", "length_m", "bore_m", "flow_m3s", "end_head_m",
    "high_points", "rule_kept",
)  # fmt: skip
POINT_COLUMNS = ("name", "role", "ground_m", "level_m", "by_program")
FINDING_COLUMNS = (
    "number", "level", "code", "line", "chainage_m", "likelihood", "message", "remedy",
)  # fmt: skip


def lines_frame(plan: Plan) -> gpd.GeoDataFrame:
    """One row a line, drawn along its profile.

    Returns
    -------
    geopandas.GeoDataFrame
        Columns `LINE_COLUMNS` and `geometry`; flow and head are NaN where they can't be told.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    rows = [
        (
            line.name,
            line.role,
            line.start,
            line.end,
            line.profile.length,
            line.settings.pipe.bore,
            np.nan if line.water is None else line.water.flow,
            np.nan if line.water is None else line.water.end_head,
            len(line.high_points),
            line.rule_kept,
        )
        for line in plan.lines
    ]
    shapes = [LineString(to_lonlat(plan.terrain, line.profile.xy)) for line in plan.lines]
    return _frame(LINE_COLUMNS, rows, shapes)


def points_frame(plan: Plan) -> gpd.GeoDataFrame:
    """One row a point of the sketch.

    Returns
    -------
    geopandas.GeoDataFrame
        Columns `POINT_COLUMNS` and `geometry`.
    """
    rows = [(p.name, p.role, p.ground, p.level, p.by_program) for p in plan.points]
    return _frame(POINT_COLUMNS, rows, [Point(p.lonlat) for p in plan.points])


def findings_frame(plan: Plan) -> gpd.GeoDataFrame:
    """One row a finding, in the order of the plan, worded in the site's units.

    Returns
    -------
    geopandas.GeoDataFrame
        Columns `FINDING_COLUMNS` and `geometry`, empty where the finding has no place.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    """
    rows, shapes = [], []
    for number, finding in enumerate(plan.findings, start=1):
        wording = sentence(finding, plan.site.units)
        chainage = np.nan if finding.chainage_m is None else finding.chainage_m
        odds = np.nan if finding.likelihood is None else finding.likelihood
        rows.append(
            (
                number,
                finding.level,
                finding.code,
                finding.line,
                chainage,
                odds,
                wording.message,
                wording.remedy,
            )
        )
        shapes.append(_place(plan, finding))
    return _frame(FINDING_COLUMNS, rows, shapes)


def _place(plan: Plan, finding: Finding) -> Point | None:
    if finding.at is None:
        return None
    return Point(to_lonlat(plan.terrain, np.array([finding.at]))[0])


def _frame(
    columns: tuple[str, ...], rows: Iterable[tuple[Any, ...]], shapes: list[Any]
) -> gpd.GeoDataFrame:
    """A frame that keeps its columns even without rows."""
    cells = list(rows)
    data = {name: [row[place] for row in cells] for place, name in enumerate(columns)}
    return gpd.GeoDataFrame(data, geometry=gpd.GeoSeries(shapes, crs="EPSG:4326"))
