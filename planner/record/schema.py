"""`plan.json`: what a saved plan holds, as models that write its JSON schema.

Metres, m³/s and degrees (WGS 84, longitude first) throughout unless a name says otherwise; a
number that is not known is null, never NaN. Keys are added from version to version, never
renamed or removed.
"""

import datetime
from typing import Any, Literal

from pydantic import Field

from planner.errors import Obstacle
from planner.record.schema_base import BandModel, LonLat, Model, Number, Text
from planner.record.schema_field import (
    BuiltModel,
    ChangeModel,
    CrossedModel,
    DecidedModel,
    RunModel,
    StakeModel,
    SurveyModel,
)
from planner.record.schema_options import AlternativeModel, ChoiceModel, FiguresModel
from planner.record.schema_works import AirModel, IntakeModel, PressureModel, RamModel, TankModel
from planner.record.value import Level, SchemeKind
from planner.site.field import GroundClass
from planner.site.value import AreaRole, LineRole, PointRole, Season, Units
from planner.terrain.value import DataKind, HeightUnit


class ProfileModel(Model):
    """Samples along a line, as the water flows; all lists are of one length."""

    run_m: list[Number] = Field(description="horizontal distance from the start")
    chainage_m: list[Number] = Field(description="distance along the pipe, in three dimensions")
    ground_m: list[Number | None] = Field(description="ground level; null where data is missing")
    pipe_m: list[Number | None] = Field(description="level at which the pipe lies")
    closed_level_m: list[Number | None] | None = Field(
        None, description="level to which water would stand, outlet closed"
    )
    open_level_m: list[Number | None] | None = Field(
        None, description="hydraulic grade line, outlet open"
    )
    filled: list[tuple[Number, Number]] = Field(
        default=[], description="stretches of chainage whose ground was filled by interpolation"
    )


class HighPointModel(Model):
    """Where the laid pipe turns from rising to falling: air gathers here."""

    chainage_m: Number
    rise_m: Number = Field(description="above the higher of the low points or ends beside it")
    deeper_m: Number | None = Field(description="least extra trench that removes it")
    at: LonLat | None = None
    level_m: Number | None = None


class LowPointModel(Model):
    """Where the laid pipe turns from falling to rising: water and silt stay here."""

    chainage_m: Number
    sag_m: Number = Field(description="below the lower of the high points or ends beside it")
    at: LonLat | None = None
    level_m: Number | None = None


class StretchModel(Model):
    """A part of a line."""

    start_m: Number
    end_m: Number


class PipeModel(Model):
    """The pipe of a line and how it is laid."""

    bore_m: Number = Field(description="inside diameter")
    bore_assumed: bool = Field(description="the program's default, not the user's choice")
    rating_m: Number = Field(description="head of water the pipe bears for good at 20 °C")
    roughness_m: Number
    manner: Literal["buried", "surface"]
    least_cover_m: Number
    deepest_trench_m: Number
    least_grade: Number = Field(description="rise over horizontal run")


class PartFullModel(Model):
    """A stretch in which water runs with air above it: less comes than the pipe could carry."""

    start_m: Number
    end_m: Number
    least_depth: Number | None = Field(description="of the water, over the bore, 0 to 1")
    most_depth: Number | None
    fastest_m_s: Number | None


class LineWaterModel(Model):
    """Water in a line."""

    flow_m3_s: Number | None
    velocity_m_s: Number | None
    friction_m: Number | None
    end_head_m: Number | None = Field(description="head left at the end, outlet open")
    runs_full: bool
    part_full: list[PartFullModel] = Field(default=[])


class LineModel(Model):
    """One pipe, from `start` to `end` as the water flows."""

    name: Text = Field(description="unique, safe as a file name")
    role: LineRole
    start: Text
    end: Text
    length_m: Number = Field(description="along the pipe, in three dimensions")
    path: list[LonLat] = Field(description="one point for each sample of the profile")
    profile: ProfileModel
    high_points: list[HighPointModel]
    low_points: list[LowPointModel] = Field(default=[])
    flats: list[StretchModel] = Field([], description="stretches under the least grade")
    rule_kept: bool = True
    pipe: PipeModel
    water: LineWaterModel | None = None
    air: AirModel | None = None
    pressure: PressureModel | None = None
    figures: FiguresModel | None = None
    choices: list[ChoiceModel] = Field(default=[], description="from start to end")
    alternatives: list[AlternativeModel] = Field(default=[], description="cheapest first")
    alternatives_asked: int = Field(0, description="fewer are given where the land offers no more")
    runs: list[RunModel] = Field(default=[], description="its pipes in turn")
    crossed: list[CrossedModel] = Field(default=[], description="what it crosses, by chainage")
    walked: bool = Field(
        default=False, description="it lies where it was walked, staked or laid; not routed"
    )
    built: BuiltModel | None = Field(default=None, description="as it was laid; null: not yet")
    decided: list[DecidedModel] = Field(default=[], description="vents and washouts to be fitted")


class PointModel(Model):
    """A point of the sketch on the ground."""

    name: Text
    role: PointRole
    at: LonLat
    ground_m: Number | None
    level_m: Number | None = Field(description="the level that counts for the water")
    by_program: bool = Field(description="the program chose the place")
    level_error_m: Number | None = Field(
        default=None, description="standard error of a measured level; null: from the data"
    )


class AreaModel(Model):
    """An area of the sketch, as GeoJSON geometry."""

    name: Text
    role: AreaRole
    factor: Number
    deepest_trench_m: Number | None
    ground: GroundClass | None = Field(
        default=None, description="how hard the digging is; null: as elsewhere"
    )
    shape: dict[str, Any]


class BlockedModel(Model):
    """A line for which no route was found."""

    name: Text
    role: LineRole
    start: Text
    end: Text
    obstacle: Obstacle
    message: Text
    at: LonLat | None
    shortfall_m: Number | None
    edge: LonLat | None = Field(
        default=None, description="where the land reached ends at the edge of the data"
    )


class YieldModel(Model):
    """What the scheme gives."""

    litres_per_day: BandModel


class WaterModel(Model):
    """The scheme's water; null where it can't be told."""

    source_flow_m3_s: Number | None
    taken_m3_s: Number | None
    fall_m: BandModel | None
    lift_m: BandModel | None
    lift_friction_m: Number | None
    spent_m3_s: BandModel | None
    drive_length_to_fall: Number | None
    drive_length_to_bore: Number | None
    need_litres_per_day: Number | None
    need_band_litres_per_day: BandModel | None = None
    intake: IntakeModel | None = None
    ram: RamModel | None = None
    tank: TankModel | None = None


class FindingModel(Model):
    """Something to stop for, to heed or to know; its number is its place in the list, from 1."""

    level: Level
    code: str
    line: Text | None
    chainage_m: Number | None
    likelihood: Number | None = Field(description="odds that it is so, 0 to 1")
    message: Text
    remedy: Text
    at: LonLat | None = None
    values: dict[str, Number | Text | None] = Field(default={})
    sources: list[Text] = Field(default=[], description="where its limits come from")


class DataModel(Model):
    """The elevation data and how far it can be believed."""

    files: list[Text]
    kind: DataKind
    native_cell_m: Number | None
    cell_m: tuple[Number, Number]
    standard_error_m: Number | None = Field(description="of one point's height")
    height_unit: HeightUnit
    height_unit_assumed: bool
    height_unit_doubt: str | None
    surface_model: bool
    warped: bool
    coarsened: int
    lost_files: list[Text]
    grid: str | None = Field(description="coordinate system of the local metric grid, WKT")


class StreamModel(Model):
    """A watercourse found in the terrain, downstream."""

    path: list[LonLat]
    catchment_m2: Number


class OwnerModel(Model):
    """Metres of a line on one owner's land; owner null: land of nobody listed."""

    line: Text
    owner: Text | None
    metres: Number


class PlanModel(Model):
    """A checked plan."""

    format: Literal[1] = 1  # raised only if a key must change its meaning
    made_by: str
    title: Text
    made: datetime.date
    units_of_numbers: str = "metres, m³/s, degrees of WGS 84, unless a key says otherwise"
    units_shown: Units
    season: Season
    scheme: SchemeKind
    scheme_reason: str
    points: list[PointModel]
    areas: list[AreaModel]
    lines: list[LineModel]
    blocked: list[BlockedModel]
    yield_: YieldModel = Field(validation_alias="yield", serialization_alias="yield")
    water: WaterModel
    findings: list[FindingModel]
    cautions: list[Text]
    owners: list[OwnerModel]
    streams: list[StreamModel]
    data: DataModel
    survey: SurveyModel | None = Field(
        default=None, description="levels measured on the ground; null: none"
    )
    changes: list[ChangeModel] = Field(default=[], description="what measuring changed")
    stakes: list[StakeModel] = Field(default=[], description="line by line, as the water flows")


def plan_schema() -> dict[str, Any]:
    """JSON schema of `plan.json`.

    Examples
    --------
    >>> sorted(plan_schema()["properties"]["yield"])
    ['$ref']
    """
    return PlanModel.model_json_schema(by_alias=True)
