"""`plan.json`: a plan as a document that other programs read."""

import json
import math
import re
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
from shapely import transform
from shapely.geometry import mapping

from planner import __version__
from planner.band import Band
from planner.profile.value import BoolArray, FloatArray
from planner.record import schema
from planner.record.value import Blocked, Finding, Line, Placed, PlacedArea, Plan, Water
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain
from planner.units import per_si
from planner.wording.cautions import cautions
from planner.wording.findings import sentence

METRE = 3  # decimals: a millimetre
DEGREE = 8  # decimals: about a millimetre
FLOW = 9  # decimals of m³/s: a thousandth of a litre in a thousand seconds
RATIO = 6


def write_plan(plan: Plan, path: Path) -> None:
    """Write a plan as JSON, UTF-8, one key a line.

    Raises
    ------
    OSError
        The file can't be written.
    """
    text = json.dumps(plan_document(plan), ensure_ascii=False, allow_nan=False, indent=1)
    path.write_text(_short_lists(text) + "\n", encoding="utf-8")


def plan_document(plan: Plan) -> dict[str, Any]:
    """The plan as plain dicts and lists that satisfy `planner.record.schema.plan_schema`."""
    site, terrain = plan.site, plan.terrain
    model = schema.PlanModel(
        made_by=f"headfall {__version__}",
        title=site.title,
        made=plan.made,
        units_shown=site.units,
        season=site.season,
        scheme=plan.scheme,
        scheme_reason=plan.scheme_reason,
        points=[_point(point) for point in plan.points],
        areas=[_area(area, terrain) for area in plan.areas],
        lines=[_line(line, terrain) for line in plan.lines],
        blocked=[_blocked(blocked, terrain) for blocked in plan.blocked],
        yield_=schema.YieldModel(litres_per_day=_per_day(plan.water.delivered)),
        water=_water(plan.water),
        findings=[_finding(finding, plan) for finding in plan.findings],
        cautions=list(cautions(plan)),
        owners=[
            schema.OwnerModel(line=o.line, owner=o.owner, metres=round(o.metres, METRE))
            for o in plan.owners
        ],
        streams=[_stream(stream, terrain) for stream in plan.streams],
        data=_data(terrain),
    )
    return model.model_dump(mode="json", by_alias=True)


def line_document(line: Line, terrain: Terrain) -> dict[str, Any]:
    """One entry of `lines[]`, as plain dicts and lists."""
    return _line(line, terrain).model_dump(mode="json", by_alias=True)


def _line(line: Line, terrain: Terrain) -> schema.LineModel:
    at = _degrees(terrain, line.profile.xy)
    settings = line.settings
    laying, pipe = settings.laying, settings.pipe
    return schema.LineModel(
        name=line.name,
        role=line.role,
        start=line.start,
        end=line.end,
        length_m=round(line.profile.length, METRE),
        path=at,
        profile=_profile(line),
        high_points=[
            schema.HighPointModel(
                chainage_m=round(high.chainage_m, METRE),
                rise_m=round(high.rise_m, METRE),
                deeper_m=_number(high.deeper_m, METRE),
                at=at[high.index],
                level_m=_number(high.level_m, METRE),
            )
            for high in line.high_points
        ],
        low_points=[
            schema.LowPointModel(
                chainage_m=round(low.chainage_m, METRE),
                sag_m=round(low.sag_m, METRE),
                at=at[low.index],
                level_m=_number(low.level_m, METRE),
            )
            for low in line.low_points
        ],
        flats=[
            schema.StretchModel(start_m=round(flat.start_m, METRE), end_m=round(flat.end_m, METRE))
            for flat in line.flats
        ],
        rule_kept=line.rule_kept,
        pipe=schema.PipeModel(
            bore_m=pipe.bore,
            bore_assumed=pipe.bore_assumed,
            rating_m=pipe.rating,
            roughness_m=pipe.roughness,
            manner=laying.manner,
            least_cover_m=laying.least_cover,
            deepest_trench_m=laying.deepest_trench,
            least_grade=laying.least_grade,
        ),
        water=_line_water(line),
    )


def _profile(line: Line) -> schema.ProfileModel:
    profile, water = line.profile, line.water
    return schema.ProfileModel(
        run_m=_numbers(profile.run),
        chainage_m=_numbers(profile.chainage),
        ground_m=_numbers(profile.ground),
        pipe_m=_numbers(profile.pipe),
        closed_level_m=None if water is None else _numbers(water.closed_level),
        open_level_m=None if water is None else _numbers(water.open_level),
        filled=_stretches(profile.chainage, profile.filled),
    )


def _line_water(line: Line) -> schema.LineWaterModel | None:
    water = line.water
    if water is None:
        return None
    return schema.LineWaterModel(
        flow_m3_s=_number(water.flow, FLOW),
        velocity_m_s=_number(water.velocity, METRE),
        friction_m=_number(water.friction, METRE),
        end_head_m=_number(water.end_head, METRE),
        runs_full=water.runs_full,
    )


def _point(point: Placed) -> schema.PointModel:
    lon, lat = point.lonlat
    return schema.PointModel(
        name=point.name,
        role=point.role,
        at=(round(lon, DEGREE), round(lat, DEGREE)),
        ground_m=_number(point.ground, METRE),
        level_m=_number(point.level, METRE),
        by_program=point.by_program,
    )


def _area(area: PlacedArea, terrain: Terrain) -> schema.AreaModel:
    shape = transform(area.shape, lambda xy: np.round(to_lonlat(terrain, xy), DEGREE))
    return schema.AreaModel(
        name=area.name,
        role=area.role,
        factor=area.factor,
        deepest_trench_m=area.deepest_trench,
        shape=mapping(shape),
    )


def _blocked(blocked: Blocked, terrain: Terrain) -> schema.BlockedModel:
    return schema.BlockedModel(
        name=blocked.name,
        role=blocked.role,
        start=blocked.start,
        end=blocked.end,
        obstacle=blocked.obstacle,
        message=blocked.message,
        at=_place(terrain, blocked.where),
        shortfall_m=_number(blocked.shortfall, METRE),
    )


def _water(water: Water) -> schema.WaterModel:
    litres = per_si("per_day", "metric")
    return schema.WaterModel(
        source_flow_m3_s=_number(water.source_flow, FLOW),
        taken_m3_s=_number(water.taken, FLOW),
        fall_m=_band(water.fall, METRE),
        lift_m=_band(water.lift, METRE),
        lift_friction_m=_number(water.lift_friction, METRE),
        spent_m3_s=_band(water.spent, FLOW),
        drive_length_to_fall=_number(water.drive_length_to_fall, RATIO),
        drive_length_to_bore=_number(water.drive_length_to_bore, RATIO),
        need_litres_per_day=_number(None if water.need is None else water.need * litres, 1),
    )


def _finding(finding: Finding, plan: Plan) -> schema.FindingModel:
    words = sentence(finding, plan.site.units)
    return schema.FindingModel(
        level=finding.level,
        code=finding.code,
        line=finding.line,
        chainage_m=_number(finding.chainage_m, METRE),
        likelihood=_number(finding.likelihood, METRE),
        message=words.message,
        remedy=words.remedy,
        at=_place(plan.terrain, finding.at),
        values={
            name: value if isinstance(value, str) else _number(value, FLOW)
            for name, value in finding.values.items()
        },
    )


def _stream(stream: Stream, terrain: Terrain) -> schema.StreamModel:
    return schema.StreamModel(
        path=_degrees(terrain, stream.xy), catchment_m2=round(float(stream.catchment), 1)
    )


def _data(terrain: Terrain) -> schema.DataModel:
    source = terrain.provenance
    return schema.DataModel(
        files=list(source.files),
        kind=source.kind,
        native_cell_m=_number(source.native_cell, METRE),
        cell_m=terrain.cell,
        standard_error_m=_number(source.standard_error, METRE),
        height_unit=source.height_unit,
        height_unit_assumed=source.height_unit_assumed,
        height_unit_doubt=source.height_unit_doubt,
        surface_model=source.surface_model,
        warped=source.warped,
        coarsened=source.coarsened,
        lost_files=list(source.lost_files),
        grid=None if terrain.crs is None else terrain.crs.to_wkt(),
    )


def _per_day(delivered: Band | None) -> schema.BandModel:
    """Litres a day, to a tenth; nulls where the yield can't be told."""
    if delivered is None:
        return schema.BandModel(low=None, expected=None, high=None)
    band = _band(delivered.times(per_si("per_day", "metric")), 1)
    return band or schema.BandModel(low=None, expected=None, high=None)


def _band(band: Band | None, decimals: int) -> schema.BandModel | None:
    if band is None:
        return None
    low, expected, high = (
        _number(float(value), decimals) for value in (band.low, band.expected, band.high)
    )
    return schema.BandModel(low=low, expected=expected, high=high)


def _number(value: float | None, decimals: int) -> float | None:
    """Rounded; None for what is not known or not finite."""
    if value is None or not math.isfinite(value):
        return None
    return round(float(value), decimals) + 0.0  # no minus zero


def _numbers(values: FloatArray) -> list[Any]:
    """Rounded to a millimetre; None for NaN."""
    rounded = np.round(values, METRE) + 0.0
    return [value if math.isfinite(value) else None for value in rounded.tolist()]


def _place(terrain: Terrain, xy: tuple[float, float] | None) -> tuple[float, float] | None:
    return None if xy is None else _degrees(terrain, [xy])[0]


def _degrees(terrain: Terrain, xy: npt.ArrayLike) -> list[tuple[float, float]]:
    """Longitude and latitude of points x, y."""
    lonlat = np.round(to_lonlat(terrain, xy), DEGREE)
    return [(lon, lat) for lon, lat in lonlat.tolist()]


def _stretches(chainage: FloatArray, chosen: BoolArray) -> list[tuple[float, float]]:
    """First and last chainage of each run of samples that is chosen."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], chosen, [False]]).astype(np.int8)))
    at = np.round(chainage, METRE)
    return [(float(at[a]), float(at[b - 1])) for a, b in edges.reshape(-1, 2)]


def _short_lists(text: str) -> str:
    """Lists of plain numbers on one line; a newline never stands inside a JSON string."""
    return re.sub(
        r"\[\n([-+0-9.eE,\snul]+?)\n\s*\]",
        lambda found: "[" + " ".join(found.group(1).split()) + "]",
        text,
    )
