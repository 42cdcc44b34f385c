"""The site file as it is written: its tables and keys, checked by pydantic."""

import datetime
import difflib
from typing import Annotated, Any, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, Strict, model_validator

from planner.site import quantity
from planner.site.value import (
    AreaRole,
    FlowSeason,
    Gallon,
    LineRole,
    PointRole,
    RamMake,
    Season,
    Units,
)
from planner.terrain.value import DataKind, HeightUnit
from planner.units.parse import quoted

LonLat = Annotated[list[float], Field(min_length=2, max_length=2)]
CurvePoint = Annotated[tuple[quantity.CurveFlow, quantity.Head], Strict(strict=False)]


class Table(BaseModel):
    """A table of the site file; it knows its keys and says which was meant."""

    model_config = ConfigDict(
        extra="forbid", frozen=True, strict=True, allow_inf_nan=False, title=None
    )

    @model_validator(mode="before")
    @classmethod
    def _keys(cls, given: Any) -> Any:
        if not isinstance(given, dict):
            if isinstance(given, cls):
                return given
            msg = f"{quoted(given)} is no table; write its keys under a heading in brackets"
            raise ValueError(msg)
        for key in given:
            if key not in cls.model_fields:
                raise ValueError(cls._unknown(str(key)))
        for key, field in cls.model_fields.items():
            if field.is_required() and key not in given:
                example = (field.examples or ["..."])[0]
                msg = f'the key "{key}" is missing; add it, such as {key} = {example}'
                raise ValueError(msg)
        return given

    @classmethod
    def _unknown(cls, key: str) -> str:
        near = difflib.get_close_matches(key.lower(), cls.model_fields, n=1)
        if near:
            return f'there is no key {quoted(key)} here; "{near[0]}" is probably meant'
        return f"there is no key {quoted(key)} here; the keys are {', '.join(cls.model_fields)}"


class ElevationTable(Table):
    """Which elevation data to read, and what is known of it."""

    files: list[str] = Field(
        min_length=1,
        max_length=1000,
        description="elevation files, as paths from the site file",
        examples=['["dem.tif"]'],
    )
    kind: DataKind | None = Field(default=None, description="how the data was made")
    height_unit: HeightUnit | None = Field(
        default=None, description="unit of the heights, where the file does not say"
    )
    standard_error: quantity.HeightError | None = Field(
        default=None, description="how far one height is off, typically"
    )
    surface_model: bool | None = Field(
        default=None, description="true where trees and roofs are in it"
    )
    crs: str | None = Field(
        default=None, description="coordinate system of files that carry none", max_length=4000
    )
    band: int = Field(
        default=1, ge=1, le=1000, description="which band of the file holds the heights"
    )
    margin: quantity.Margin = Field(default=200.0, description="ground read around the sketch")


class PointSaid(Table):
    """What is said of a point, beside its place."""

    name: str | None = Field(default=None, description="a name of its own; it may tell the role")
    role: PointRole | None = Field(default=None, description="what the point is")
    line: LineRole | None = Field(default=None, description="way points: which line must pass")
    height: quantity.Height | None = Field(
        default=None, description="of the water's end above the ground: inlet of a tank, tap"
    )
    flow: quantity.Flow | None = Field(default=None, description="outlets: what it should give")


class PointTable(PointSaid):
    """A point of the sketch."""

    at: LonLat = Field(
        description="longitude, latitude, or x, y where `crs` is given",
        examples=["[11.2041, 47.3012]"],
    )


class AreaSaid(Table):
    """What is said of an area, beside its outline."""

    name: str | None = Field(default=None, description="a name; of an owner's land, the owner")
    role: AreaRole | None = Field(default=None, description="what the area means for pipes")
    factor: float | None = Field(
        default=None, ge=1.0, le=1000.0, description="costly areas: cost of a metre of pipe, times"
    )
    deepest_trench: quantity.Depth | None = Field(
        default=None, description="digging is limited to this depth inside"
    )


class AreaTable(AreaSaid):
    """An area of the sketch: give `ring` or `wkt`."""

    ring: list[LonLat] | None = Field(default=None, description="corners in turn; it closes itself")
    wkt: str | None = Field(default=None, description="POLYGON or MULTIPOLYGON as well-known text")

    @model_validator(mode="after")
    def _one_outline(self) -> Self:
        if (self.ring is None) == (self.wkt is None):
            msg = "an area needs its outline once; give either ring = [[lon, lat], ...] or wkt"
            raise ValueError(msg)
        return self


class SketchTable(Table):
    """Points and areas: from a file, written here, or both."""

    file: str | None = Field(
        default=None,
        description="GeoJSON, GPX, KML, GeoPackage or CSV, as a path from the site file",
    )
    crs: str | None = Field(
        default=None,
        description="coordinate system of what is written here and of files that carry none",
        max_length=4000,
    )
    points: list[PointTable] = Field(default_factory=list, max_length=1000)
    areas: list[AreaTable] = Field(default_factory=list, max_length=1000)


class SourceTable(Table):
    """The spring or creek."""

    flow: quantity.Flow | None = Field(default=None, description="as measured")
    measured: datetime.date | None = Field(default=None, description="when, such as 2026-08-20")
    season: FlowSeason | None = Field(default=None, description="season of that measurement")
    share_left: quantity.Share = Field(default=0.3, description="share that stays in the stream")


class PumpTable(Table):
    """What lifts the water."""

    kind: Literal["ram", "powered"] = Field(
        default="ram", description="a hydraulic ram, or with power"
    )
    make: RamMake = Field(default="commercial", description="of a ram")
    curve: list[CurvePoint] | None = Field(
        default=None,
        min_length=2,
        max_length=100,
        description="of a powered pump: [flow, head] from small flow to large",
    )
    hours_per_day: float = Field(default=24.0, gt=0.0, le=24.0, description="a powered pump runs")

    @model_validator(mode="after")
    def _curve_falls(self) -> Self:
        if self.kind == "powered" and self.curve is None:
            msg = (
                'a powered pump needs its curve; add curve = [["0 L/min", "40 m"], '
                '["30 L/min", "20 m"]]'
            )
            raise ValueError(msg)
        if self.kind == "ram" and self.curve is not None:
            msg = 'a ram has no curve; write kind = "powered" or leave the curve out'
            raise ValueError(msg)
        pairs = list(zip(self.curve or (), (self.curve or ())[1:], strict=False))
        if any(after[0] <= before[0] or after[1] > before[1] for before, after in pairs):
            msg = "the curve is out of order; flow must rise and head must not rise down the list"
            raise ValueError(msg)
        return self


class NeedTable(Table):
    """Water needed."""

    per_day: quantity.PerDay | None = Field(default=None, description="all uses together")


class UseTable(Table):
    """When the water runs, and what the ground does meanwhile."""

    season: Season = Field(default="all-year", description="when the water runs")
    frost_depth: quantity.Depth | None = Field(
        default=None, description="how deep the ground freezes"
    )
    flood_mark: quantity.Prop | None = Field(
        default=None, description="measured flood level above the ground at the pump"
    )


class LineTable(Table):
    """How the lines of one role are laid, and their pipe; what is left out has a default."""

    laid: Literal["buried", "surface"] | None = Field(
        default=None, description="in a trench or on top"
    )
    least_cover: quantity.Depth | None = Field(default=None, description="buried: ground to pipe")
    deepest_trench: quantity.Depth | None = Field(
        default=None, description="ground to pipe, at most"
    )
    propped: quantity.Prop | None = Field(
        default=None, description="on the surface: how far above the ground it may be propped"
    )
    least_grade: quantity.Grade | None = Field(default=None, description="of every piece")
    vent_cost: quantity.VentCost | None = Field(
        default=None, description="what the vent of one high point costs, in length of pipe"
    )
    bore: quantity.Bore | None = Field(
        default=None, description="true inside diameter, not a nominal size"
    )
    rating: quantity.Rating | None = Field(default=None, description="pressure it bears at 20 °C")
    roughness: quantity.Roughness | None = Field(default=None, description="of the wall inside")
    siphon: bool = Field(
        default=False, description="a crest above the hydraulic grade line is meant"
    )


class LinesTable(Table):
    """The pipes, by their role."""

    supply: LineTable = Field(default_factory=LineTable)
    drive: LineTable = Field(default_factory=LineTable)
    delivery: LineTable = Field(default_factory=LineTable)
    main: LineTable = Field(default_factory=LineTable)
    distribution: LineTable = Field(default_factory=LineTable)
    waste: LineTable = Field(default_factory=LineTable)
    overflow: LineTable = Field(default_factory=LineTable)


class SiteFile(Table):
    """One site: elevation data, sketch, source, pump, need, and how pipes are laid."""

    title: str | None = Field(default=None, max_length=120, description="stands on every sheet")
    units: Units = Field(default="metric", description="shown on every output")
    gallon: Gallon | None = Field(
        default=None, description="what a gallon is, where only gal is written"
    )
    elevation: ElevationTable = Field(examples=['{files = ["dem.tif"]}'])
    sketch: SketchTable = Field(examples=['{file = "sketch.geojson"}'])
    source: SourceTable = Field(default_factory=SourceTable)
    pump: PumpTable = Field(default_factory=PumpTable)
    need: NeedTable = Field(default_factory=NeedTable)
    use: UseTable = Field(default_factory=UseTable)
    lines: LinesTable = Field(default_factory=LinesTable)
