"""Frames for Python users: places, figures, and columns that stay even without rows."""

import geopandas as gpd
import pytest

from planner.output.frames import (
    FINDING_COLUMNS,
    LINE_COLUMNS,
    POINT_COLUMNS,
    findings_frame,
    lines_frame,
    points_frame,
)
from tests.example import CRS, PLACES, example_plan
from tests.output.map.plans import bare_plan, blocked_plan


def test_lines_lie_where_they_were_planned() -> None:
    plan = example_plan()
    frame = lines_frame(plan)
    assert frame.crs == "EPSG:4326"
    on_ground = frame.to_crs(CRS).set_index("name")
    for line in plan.lines:
        row = on_ground.loc[line.name]
        assert row.geometry.length == pytest.approx(line.profile.run[-1], rel=1e-4)
        assert row["length_m"] == line.profile.length
        assert row["bore_m"] == 0.0266
    assert list(frame["high_points"]) == [0, 0, 1, 0]


def test_points_stand_where_they_were_put() -> None:
    plan = example_plan()
    frame = points_frame(plan).to_crs(CRS)
    for name, point in zip(frame["name"], frame.geometry, strict=True):
        assert (point.x, point.y) == pytest.approx(PLACES[name][1:], abs=1e-3)


def test_findings_keep_their_number_words_and_place() -> None:
    plan = example_plan()
    frame = findings_frame(plan)
    assert list(frame["number"]) == [1, 2, 3]
    assert list(frame["level"]) == ["warn", "warn", "note"]
    assert "0.62 m" in frame["message"].iloc[0]
    assert list(frame.geometry.isna()) == [False, True, True]
    place = frame.to_crs(CRS).geometry.iloc[0]
    assert (place.x, place.y) == pytest.approx(plan.findings[0].at, abs=1e-3)


def test_empty_plans_keep_their_columns() -> None:
    assert list(lines_frame(blocked_plan()).columns) == [*LINE_COLUMNS, "geometry"]
    assert list(points_frame(bare_plan()).columns) == [*POINT_COLUMNS, "geometry"]
    frame = findings_frame(bare_plan())
    assert list(frame.columns) == [*FINDING_COLUMNS, "geometry"]
    assert isinstance(frame, gpd.GeoDataFrame)
    assert frame.crs == "EPSG:4326"
