"""What a line chose where, what else there was, and other routes for it, in `plan.json`.

Costs are in metres of pipe.
"""

from pydantic import Field

from planner.record.schema_base import LonLat, Model, Number
from planner.routing.options import Kind, Reason


class FiguresModel(Model):
    """What a line takes."""

    length_m: Number = Field(description="of pipe, in three dimensions")
    vents: int = Field(description="high points")
    digging_m2: Number = Field(description="section of the trench below the least cover")
    steepest_grade: Number = Field(description="up or down, rise over run")
    trench_depth_m: Number = Field(description="mean; negative: propped above the ground")
    bends: int = Field(0, description="in plan")
    cost_m: Number = Field(description="length times the cost of the ground, digging, vents, bends")


class OptionModel(Model):
    """Another way to have the place, set against the chosen one."""

    kind: Kind
    more_m: Number | None = Field(description="costs so much more; null: digging has no price")
    pipe_m: Number = Field(description="more pipe")
    vents: int = Field(description="more vents")
    at_m: Number | None = Field(description="chainage of its vent, along its own line")
    deeper_m: Number = Field(description="beyond the deepest trench allowed")
    deepest_m: Number = Field(description="its trench at the deepest, from the ground")
    over_m: Number = Field(description="length of the deeper trench")


class ChoiceModel(Model):
    """What was chosen at one place."""

    chainage_m: Number
    chosen: Kind
    price_m: Number
    pipe_m: Number = Field(description="extra pipe of a detour")
    deeper_m: Number = Field(description="of a deeper trench, below the least cover")
    over_m: Number = Field(description="length of the deeper trench")
    next_best: list[OptionModel] = Field(description="cheapest first")
    detour_weighed: bool = Field(description="false: too many places on the line to look for one")


class AlternativeModel(Model):
    """A route that really differs from the line and from the other alternatives."""

    path: list[LonLat]
    reason: Reason = Field(description="what it does better")
    figures: FiguresModel
    more_m: Number = Field(description="costs so much more than the line")
    shared: Number = Field(description="part of it close to the line or another route, 0 to 1")
