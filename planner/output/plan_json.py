"""`plan.json`: a plan as a document that other programs read."""

import json
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import numpy as np
from shapely import transform
from shapely.geometry import mapping

from planner import __version__
from planner.band import Band
from planner.checks.table import CHECKS
from planner.output.field_json import change_model, stake_model, survey_model
from planner.output.line_json import line_model
from planner.output.ram_json import ram_model
from planner.output.rounding import (
    DEGREE,
    FLOW,
    METRE,
    RATIO,
    band_model,
    degrees,
    number,
    place,
)
from planner.output.stakes.value import StakedLine
from planner.output.store_json import intake_model, tank_model
from planner.record import schema
from planner.record.schema_base import BandModel
from planner.record.value import Blocked, Finding, Placed, PlacedArea, Plan, Water
from planner.terrain.drainage import Stream
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain
from planner.units import per_si
from planner.wording.cautions import cautions
from planner.wording.findings import sentence

SOURCES = {
    check.code: tuple(dict.fromkeys(limit.source for limit in check.limits)) for check in CHECKS
}


def write_plan(plan: Plan, path: Path, staked: Iterable[StakedLine] = ()) -> None:
    """Write a plan as JSON, UTF-8, one key a line; with its stakes, where they are given.

    Raises
    ------
    OSError
        The file can't be written.
    """
    text = json.dumps(plan_document(plan, staked), ensure_ascii=False, allow_nan=False, indent=1)
    path.write_text(_short_lists(text) + "\n", encoding="utf-8")


def plan_document(plan: Plan, staked: Iterable[StakedLine] = ()) -> dict[str, Any]:
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
        lines=[line_model(line, terrain) for line in plan.lines],
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
        survey=None if plan.survey is None else survey_model(plan.survey, terrain),
        changes=[change_model(change, site.units) for change in plan.changes],
        stakes=[stake_model(stake) for line in staked for stake in line.stakes],
    )
    return model.model_dump(mode="json", by_alias=True)


def _point(point: Placed) -> schema.PointModel:
    lon, lat = point.lonlat
    return schema.PointModel(
        name=point.name,
        role=point.role,
        at=(round(lon, DEGREE), round(lat, DEGREE)),
        ground_m=number(point.ground, METRE),
        level_m=number(point.level, METRE),
        by_program=point.by_program,
        level_error_m=number(point.level_error, METRE),
    )


def _area(area: PlacedArea, terrain: Terrain) -> schema.AreaModel:
    shape = transform(area.shape, lambda xy: np.round(to_lonlat(terrain, xy), DEGREE))
    return schema.AreaModel(
        name=area.name,
        role=area.role,
        factor=area.factor,
        deepest_trench_m=area.deepest_trench,
        ground=area.ground,
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
        at=place(terrain, blocked.where),
        shortfall_m=number(blocked.shortfall, METRE),
        edge=place(terrain, blocked.edge),
    )


def _water(water: Water) -> schema.WaterModel:
    litres = per_si("per_day", "metric")
    return schema.WaterModel(
        source_flow_m3_s=number(water.source_flow, FLOW),
        taken_m3_s=number(water.taken, FLOW),
        fall_m=_band(water.fall, METRE),
        lift_m=_band(water.lift, METRE),
        lift_friction_m=number(water.lift_friction, METRE),
        spent_m3_s=_band(water.spent, FLOW),
        drive_length_to_fall=number(water.drive_length_to_fall, RATIO),
        drive_length_to_bore=number(water.drive_length_to_bore, RATIO),
        need_litres_per_day=number(None if water.need is None else water.need * litres, 1),
        need_band_litres_per_day=_band(water.need_band and water.need_band.times(litres), 1),
        intake=None if water.intake is None else intake_model(water.intake),
        ram=None if water.ram is None else ram_model(water.ram),
        tank=None if water.tank is None else tank_model(water.tank),
    )


def _finding(finding: Finding, plan: Plan) -> schema.FindingModel:
    words = sentence(finding, plan.site.units)
    return schema.FindingModel(
        level=finding.level,
        code=finding.code,
        line=finding.line,
        chainage_m=number(finding.chainage_m, METRE),
        likelihood=number(finding.likelihood, METRE),
        message=words.message,
        remedy=words.remedy,
        at=place(plan.terrain, finding.at),
        sources=list(SOURCES.get(finding.code, ())),
        values={
            name: value if isinstance(value, str) else number(value, FLOW)
            for name, value in finding.values.items()
        },
    )


def _stream(stream: Stream, terrain: Terrain) -> schema.StreamModel:
    return schema.StreamModel(
        path=degrees(terrain, stream.xy), catchment_m2=round(float(stream.catchment), 1)
    )


def _data(terrain: Terrain) -> schema.DataModel:
    source = terrain.provenance
    return schema.DataModel(
        files=list(source.files),
        kind=source.kind,
        native_cell_m=number(source.native_cell, METRE),
        cell_m=terrain.cell,
        standard_error_m=number(source.standard_error, METRE),
        height_unit=source.height_unit,
        height_unit_assumed=source.height_unit_assumed,
        height_unit_doubt=source.height_unit_doubt,
        surface_model=source.surface_model,
        warped=source.warped,
        coarsened=source.coarsened,
        lost_files=list(source.lost_files),
        grid=None if terrain.crs is None else terrain.crs.to_wkt(),
    )


def _per_day(delivered: Band | None) -> BandModel:
    """Litres a day, to a tenth; nulls where the yield can't be told."""
    if delivered is None:
        return BandModel(low=None, expected=None, high=None)
    return band_model(delivered.times(per_si("per_day", "metric")), 1)


def _band(band: Band | None, decimals: int) -> BandModel | None:
    return None if band is None else band_model(band, decimals)


def _short_lists(text: str) -> str:
    """Lists of plain numbers on one line; a newline never stands inside a JSON string."""
    return re.sub(
        r"\[\n([-+0-9.eE,\snul]+?)\n\s*\]",
        lambda found: "[" + " ".join(found.group(1).split()) + "]",
        text,
    )
