"""The field in `plan.json`: pipes and crossings along a line, stakes, levels measured, as built.

Whatever is here was added after the first plans: a plan without it still reads.
"""

import datetime

from pydantic import Field

from planner.hydraulics.pipe import Form
from planner.levels.value import Method
from planner.record.schema_base import LonLat, Model, Number, Text
from planner.site.fit import FittingKind


class RunModel(Model):
    """A part of a line in one size and class of pipe."""

    start_m: Number = Field(description="chainage")
    end_m: Number
    label: Text = Field(description="size and class, or the bore where only that was said")
    bore_m: Number = Field(description="inside diameter")
    rating_m: Number = Field(description="head of water it bears")
    named: bool = Field(description="the user named the pipe")
    form: Form
    piece_m: Number = Field(description="length of one coil or stick")
    joints_m: list[Number] = Field(description="chainages at which one piece ends")


class CrossedModel(Model):
    """Where a line crosses a stream or something drawn to be crossed."""

    name: Text = Field(description="empty: a stream found in the ground")
    chainage_m: Number
    at: LonLat


class MarkModel(Model):
    """What was noted at one place of a laid line."""

    chainage_m: Number
    at: LonLat
    depth_m: Number | None = Field(description="ground to pipe")
    what: Text
    photo: Text = Field(description="a picture's name")
    remark: Text


class BuiltModel(Model):
    """A line as it was laid."""

    date: datetime.date | None
    marks: list[MarkModel] = Field(description="by chainage")
    photos: list[Text] = Field(description="pictures of the whole line, by name")
    note: Text


class DecidedModel(Model):
    """A vent or a washout that is decided, before the line is laid."""

    kind: FittingKind
    chainage_m: Number
    at: LonLat
    at_turn: bool = Field(description="it stands at a high point (vent) or low point (washout)")
    note: Text


class StationModel(Model):
    """A point whose level was measured."""

    name: Text
    at: LonLat
    level_m: Number | None = Field(description="adjusted, in the datum of the elevation data")
    error_m: Number | None = Field(description="standard error against its fellow stations")
    model_m: Number | None = Field(description="level the elevation data gave there before")
    methods: list[Method]


class ClosureModel(Model):
    """How a run of levels closes."""

    file: Text
    what: Text = Field(description="stations it runs between")
    misclosure_m: Number | None
    allowed_m: Number | None = Field(description="by ordinary levelling of that length")
    good: bool
    setups: int
    length_m: Number | None = Field(description="of all sights; null where none were noted")


class SurveyModel(Model):
    """Levels measured on the ground, adjusted together; the ground is bent to them."""

    stations: list[StationModel]
    shift_m: Number | None = Field(
        description="taken out of measured heights to bring them to the datum of the data"
    )
    reach_m: Number | None = Field(description="how far from a station the ground is bent")
    spread_before_m: Number | None = Field(
        description="root mean square of measured less model, shift taken out"
    )
    spread_after_m: Number | None = Field(
        description="the same when each station in turn is left out of the bending"
    )
    closures: list[ClosureModel]
    notes: list[Text]


class ChangeModel(Model):
    """A figure or a high point that measuring changed."""

    code: str
    name: Text = Field(description="line or point; empty: the scheme")
    before: Number | None = Field(description="from the elevation data alone, SI")
    after: Number | None = Field(description="with what was measured, SI")
    error_before: Number | None = Field(description="half of its band")
    error_after: Number | None
    message: Text


class StakeModel(Model):
    """A peg."""

    name: Text
    line: Text
    number: int = Field(description="along the line, from 1")
    reasons: list[str] = Field(description="why it stands there, the most telling first")
    remark: Text
    chainage_m: Number
    run_m: Number = Field(description="horizontal distance from the line's start")
    at: LonLat
    ground_m: Number | None
    pipe_m: Number | None
    depth_m: Number | None = Field(description="ground to pipe")
    back_m: Number = Field(description="horizontal, from the stake before")
    bearing_deg: Number | None = Field(description="from the stake before, from true north")
    rise_m: Number | None = Field(description="of the pipe since the stake before")
    ground_rise_m: Number | None
    grade_after: Number | None = Field(description="of the pipe to the next stake")
    findings: list[int] = Field(description="numbers of findings at it")
