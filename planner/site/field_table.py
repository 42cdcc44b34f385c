"""The site file's tables of the field: what was measured and built, papers, rates of work."""

import datetime
import re
from dataclasses import fields
from pathlib import Path
from typing import Annotated, Any, Self

from pydantic import AfterValidator, Field, model_validator

from planner.site import quantity
from planner.site.field import Built, GroundClass, LengthUnit, Measured, Paper, Papers, Rates
from planner.site.local_file import local_file
from planner.site.table import Label, Table
from planner.site.value import FlowSeason
from planner.site.water_table import FillPair, refuse_odd_timings
from planner.site.words import clean_text
from planner.units.parse import quoted

LINE_NAME = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def _line_name(given: str) -> str:
    if LINE_NAME.fullmatch(given) is None:
        msg = (
            f"{quoted(given)} is no line's name; write it as on the plan, such as delivery or "
            "distribution-trough"
        )
        raise ValueError(msg)
    return given


LineName = Annotated[str, Field(max_length=80), AfterValidator(_line_name)]
FileName = Annotated[str, Field(max_length=1000)]
Words = Annotated[str, Field(max_length=80), AfterValidator(clean_text)]
Note = Annotated[str, Field(max_length=500), AfterValidator(clean_text)]
Names = Annotated[list[Words], Field(max_length=200)]


class MeasuredTable(Table):
    """What was measured on the ground and brought back."""

    levels: list[FileName] = Field(
        default_factory=list,
        max_length=200,
        description="CSV files of readings: level book, hose, traverse, barometer, known points",
        examples=[["levels.csv", "hose.csv"]],
    )
    unit: LengthUnit | None = Field(
        default=None, description="of readings that carry none; else as the site's units are"
    )
    stakes: FileName | None = Field(
        default=None,
        description="the stake list that went to the field: it tells where the pegs stand",
        examples=["stakes.csv"],
    )
    reach: quantity.Reach | None = Field(
        default=None, description="how far from a measured point the ground is bent to it"
    )
    walked: dict[LineName, FileName] = Field(
        default_factory=dict,
        max_length=100,
        description="lines as they were walked or staked: the line's name and its file (GPX, "
        "GeoJSON, KML, GeoPackage or a stake list); heights in it are not used",
        examples=[{"delivery": "walk.gpx"}],
    )
    timings: list[FillPair] | None = Field(
        default=None,
        min_length=1,
        max_length=1000,
        description="of the source, in place of the flow known before: [what the bucket holds, "
        "time it took to fill] each time",
    )
    date: datetime.date | None = Field(
        default=None, description="of those timings, such as 2026-08-20"
    )
    flow_season: FlowSeason | None = Field(default=None, description="season of those timings")

    @model_validator(mode="after")
    def _plausible(self) -> Self:
        refuse_odd_timings(self.timings or ())
        return self

    def value(self, folder: Path) -> Measured:
        """What was measured, its files as seen from a folder."""
        return Measured(
            levels=tuple(
                local_file(name, folder, "measured.levels", "levels.csv") for name in self.levels
            ),
            unit=self.unit,
            stakes=_file(self.stakes, folder, "measured.stakes", "stakes.csv"),
            reach=self.reach,
            walked={
                line: local_file(name, folder, f"measured.walked.{line}", "walk.gpx")
                for line, name in self.walked.items()
            },
            timings=tuple(self.timings or ()),
            date=self.date,
            flow_season=self.flow_season,
        )


class BuiltTable(Table):
    """A line as it was laid."""

    line: LineName = Field(description="its name, as on the plan", examples=['"delivery"'])
    along: FileName | None = Field(
        default=None,
        description="file of the line where it lies, as for a walked one; else as planned",
        examples=["laid.gpx"],
    )
    marks: FileName | None = Field(
        default=None,
        description="CSV of what was noted along it: chainage (or lon, lat), depth, what, photo, "
        "remark",
        examples=["marks.csv"],
    )
    date: datetime.date | None = Field(default=None, description="finished, such as 2026-09-12")
    depth: quantity.LaidDepth | None = Field(
        default=None,
        description="ground to pipe all along, where no marks tell; above the ground: negative",
    )
    photos: Names = Field(
        default_factory=list,
        description="names of pictures of the line, which are never opened",
        examples=[["trench-1.jpg"]],
    )
    note: Note = Field(default="", description="a word on it")

    def value(self, folder: Path, place: str) -> Built:
        """The line that is meant, its files as seen from a folder."""
        return Built(
            line=self.line,
            along=_file(self.along, folder, f"{place}, along", "laid.gpx"),
            marks=_file(self.marks, folder, f"{place}, marks", "marks.csv"),
            date=self.date,
            depth=self.depth,
            photos=tuple(self.photos),
            note=self.note,
        )


class PapersTable(Table):
    """How the printed papers are made."""

    paper: Paper | None = Field(
        default=None, description="of the sheets; else A4, or Letter with US units"
    )
    revision: Words = Field(default="", description="stands in the title block")
    drawn_by: Words = Field(default="", description="stands in the title block")
    owner: Words = Field(default="", description="stands in the title block")
    datum: Words = Field(
        default="", description="what levels are counted from; stands in the title block"
    )
    stake_interval: quantity.StakeInterval | None = Field(
        default=None, description="between stakes; else 10 m, or 25 ft with US units"
    )
    told: Names = Field(
        default_factory=list,
        description="whom the law or a neighbour's right asks to be told",
        examples=[["the water authority"]],
    )

    def value(self) -> Papers:
        """The papers that are meant."""
        return Papers(**{**dict(self), "told": tuple(self.told)})


class DigTable(Table):
    """Trench one person digs in a day by hand, by ground; what is left out has a default."""

    soft: quantity.DigRate | None = Field(default=None, description="sand, loam, peat")
    ordinary: quantity.DigRate | None = Field(default=None, description="firm earth")
    stony: quantity.DigRate | None = Field(default=None, description="with pick and bar")
    rock: quantity.DigRate | None = Field(default=None, description="with wedge and hammer")


class RatesTable(Table):
    """Rates for materials and labour; what is left out is a guess of the trade."""

    allowance: quantity.Share | None = Field(
        default=None, description="pipe bought beyond its measured length"
    )
    rough_allowance: quantity.Share | None = Field(
        default=None, description="the same over stony ground and rock"
    )
    trench_width: quantity.TrenchWidth | None = Field(default=None, description="of every trench")
    bedding: quantity.Bedding | None = Field(
        default=None, description="sand under and round the pipe in stony ground and rock"
    )
    ground: GroundClass | None = Field(
        default=None, description="how hard the digging is where no area says otherwise"
    )
    dig: DigTable = Field(default_factory=DigTable, description="dug by one person in a day")
    lay: quantity.LayRate | None = Field(
        default=None, description="pipe laid, joined and backfilled by one person in a day"
    )
    load: quantity.Load | None = Field(default=None, description="carried by one person in a trip")
    prices: FileName | None = Field(
        default=None, description="your price list (CSV)", examples=["prices.csv"]
    )
    currency: Label | None = Field(default=None, description="behind prices", examples=["EUR"])

    def value(self, folder: Path) -> Rates:
        """The rates that are meant, with the defaults of those not said."""
        usual = Rates()
        dig = usual.dig | {ground: rate for ground, rate in self.dig if rate is not None}
        said: dict[str, Any] = {
            one.name: getattr(self, one.name)
            for one in fields(Rates)
            if getattr(self, one.name) is not None
        }
        prices = _file(self.prices, folder, "rates.prices", "prices.csv")
        return Rates(**{**said, "dig": dig, "prices": prices})


def built_lines(tables: list[BuiltTable], folder: Path) -> tuple[Built, ...]:
    """Every line that is laid, as told."""
    return tuple(
        table.value(folder, f"built no. {number}") for number, table in enumerate(tables, start=1)
    )


def refuse_repeats(tables: list[BuiltTable]) -> None:
    """A line is laid once.

    Raises
    ------
    ValueError
        A line's name stands twice.
    """
    lines = [table.line for table in tables]
    for number, line in enumerate(lines, start=1):
        first = lines.index(line) + 1
        if first < number:
            msg = (
                f"built no. {number}: the line {quoted(line)} is told already as no. {first}; "
                "tell each line once"
            )
            raise ValueError(msg)


def _file(name: str | None, folder: Path, place: str, example: str) -> Path | None:
    return None if name is None else local_file(name, folder, place, example)
