"""The site file as it is written: its tables and keys, checked by pydantic."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from planner.site import quantity
from planner.site.field import GroundClass
from planner.site.field_table import (
    BuiltTable,
    MeasuredTable,
    PapersTable,
    RatesTable,
    refuse_repeats,
)
from planner.site.fit_table import FitTable
from planner.site.table import Label, Table
from planner.site.value import (
    AreaRole,
    CrossingRole,
    Gallon,
    LineRole,
    PointRole,
    Season,
    Units,
)
from planner.site.water_table import (
    NeedTable,
    OwnPipeTable,
    PumpTable,
    SourceTable,
    TankTable,
    WaterTable,
)
from planner.terrain.value import DataKind, HeightUnit
from planner.units.parse import quoted

LonLat = Annotated[list[float], Field(min_length=2, max_length=2)]
Count = Annotated[int, Field(ge=0, le=1000)]


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
    ground: GroundClass | None = Field(
        default=None,
        description="how hard the digging is inside; where its depth is limited, else rock",
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


class CrossingSaid(Table):
    """What is said of a line that pipes cross, beside its path."""

    name: str | None = Field(default=None, description="a name, such as the road's")
    role: CrossingRole | None = Field(default=None, description="that it is crossed at a price")
    cost: quantity.CrossingCost | None = Field(
        default=None, description="what each crossing costs, in length of pipe"
    )


class CrossingTable(CrossingSaid):
    """A road, stream or ditch of the sketch, which pipes cross at a price."""

    path: list[LonLat] = Field(
        min_length=2,
        max_length=100_000,
        description="its points in turn",
        examples=["[[lon, lat], [lon, lat]]"],
    )


class SketchTable(Table):
    """Points, areas and lines to cross: from a file, written here, or both."""

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
    crossings: list[CrossingTable] = Field(
        default_factory=list,
        max_length=1000,
        description="roads, streams and the like, which pipes cross at a price",
    )


class UseTable(Table):
    """When the water runs, and what the ground does meanwhile."""

    season: Season = Field(default="all-year", description="when the water runs")
    frost_depth: quantity.Depth | None = Field(
        default=None, description="how deep the ground freezes"
    )
    flood_mark: quantity.Prop | None = Field(
        default=None, description="measured flood level above the ground at the pump"
    )
    stream_cost: quantity.CrossingCost | None = Field(
        default=None,
        description="what crossing a stream found in the ground costs, in length of pipe",
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
    dig_cost: quantity.DigCost | None = Field(
        default=None,
        description="what trench deeper than the least cover costs, in length of pipe for each"
        " square of its section",
    )
    greatest_grade: quantity.Grade | None = Field(
        default=None, description="supply, waste, overflow: no piece falls more steeply"
    )
    side_slope: quantity.Steepness | None = Field(
        default=None, description="steepest slope of the ground across the trench"
    )
    bend_cost: quantity.BendCost | None = Field(
        default=None, description="what one bend costs, in length of pipe"
    )
    least_leg: quantity.Leg | None = Field(
        default=None, description="shortest straight leg between two bends"
    )
    bend: bool = Field(
        default=False, description="drive: one bend is allowed where it can't lie straight"
    )
    bore: quantity.Bore | None = Field(
        default=None, description="true inside diameter, not a nominal size"
    )
    pipe: Label | None = Field(
        default=None,
        description="trade size, looked up among the pipes known, instead of bore and rating",
        examples=["1 in", "32 mm"],
    )
    standard: Label | None = Field(
        default=None, description="printed on the pipe", examples=["ISO 4427"]
    )
    pressure_class: Label | None = Field(
        default=None, description="printed on the pipe", examples=["PN 10", "SDR 11"]
    )
    fittings: dict[Label, Count] = Field(
        default_factory=dict,
        max_length=50,
        description="how many of each fitting",
        examples=["{elbow = 2, ball_valve = 1}"],
    )
    rating: quantity.Rating | None = Field(default=None, description="pressure it bears at 20 °C")
    roughness: quantity.Roughness | None = Field(default=None, description="of the wall inside")
    siphon: bool = Field(
        default=False, description="a crest above the hydraulic grade line is meant"
    )

    @model_validator(mode="after")
    def _size_or_bore(self) -> Self:
        said = [key for key in ("bore", "rating", "roughness") if getattr(self, key) is not None]
        if self.pipe is not None and said:
            msg = (
                f"pipe = {quoted(self.pipe)} already tells the {said[0]}; leave out one or the "
                "other, or describe a pipe of your own under [[pipes]]"
            )
            raise ValueError(msg)
        names = [fitting_name(key) for key in self.fittings]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            msg = f"the fitting {quoted(twice)} is counted twice; write its number once"
            raise ValueError(msg)
        return self

    def counted(self) -> tuple[tuple[str, int], ...]:
        """Names of fittings and how many of each."""
        return tuple((fitting_name(key), count) for key, count in self.fittings.items())


def fitting_name(key: str) -> str:
    """A fitting's name from a key: ball_valve is a ball valve."""
    return " ".join(key.replace("_", " ").split()).casefold()


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
    water: WaterTable = Field(default_factory=WaterTable)
    tank: TankTable = Field(default_factory=TankTable)
    use: UseTable = Field(default_factory=UseTable)
    lines: LinesTable = Field(default_factory=LinesTable)
    pipes: list[OwnPipeTable] = Field(
        default_factory=list,
        max_length=200,
        description="pipes that the user adds to those known",
    )
    measured: MeasuredTable = Field(
        default_factory=MeasuredTable, description="brought back from the field"
    )
    built: list[BuiltTable] = Field(
        default_factory=list, max_length=100, description="lines that are laid already"
    )
    fit: list[FitTable] = Field(
        default_factory=list,
        max_length=1000,
        description="vents and washouts that are decided",
    )
    papers: PapersTable = Field(default_factory=PapersTable, description="how papers are printed")
    rates: RatesTable = Field(
        default_factory=RatesTable, description="of pipe, digging, laying and carrying"
    )

    @model_validator(mode="after")
    def _built_once(self) -> Self:
        refuse_repeats(self.built)
        return self
