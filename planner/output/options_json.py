"""Choices and alternatives of a line as they stand in plan.json."""

from planner.output.rounding import METRE, RATIO, degrees, number
from planner.record import schema_options as schema
from planner.routing.options import Alternative, Choice, Figures, Option
from planner.terrain.value import Terrain


def figures_model(figures: Figures) -> schema.FiguresModel:
    """What a line takes."""
    return schema.FiguresModel(
        length_m=round(figures.length, METRE),
        vents=figures.vents,
        digging_m2=round(figures.digging, METRE),
        steepest_grade=round(figures.steepest, RATIO),
        trench_depth_m=round(figures.depth, METRE),
        bends=figures.bends,
        cost_m=round(figures.cost, METRE),
    )


def choice_model(choice: Choice) -> schema.ChoiceModel:
    """One place and the other ways to have it."""
    return schema.ChoiceModel(
        chainage_m=round(choice.chainage_m, METRE),
        chosen=choice.chosen,
        price_m=round(choice.price_m, METRE),
        pipe_m=round(choice.pipe_m, METRE),
        deeper_m=round(choice.deeper_m, METRE),
        over_m=round(choice.over_m, METRE),
        next_best=[_option(option) for option in choice.others],
        detour_weighed=choice.detour_weighed,
    )


def alternative_model(other: Alternative, terrain: Terrain) -> schema.AlternativeModel:
    """One other route, by its bends."""
    return schema.AlternativeModel(
        path=degrees(terrain, list(other.line.coords)),
        reason=other.reason,
        figures=figures_model(other.figures),
        more_m=round(other.more_m, METRE),
        shared=round(other.shared, METRE),
    )


def _option(option: Option) -> schema.OptionModel:
    return schema.OptionModel(
        kind=option.kind,
        more_m=number(option.more_m, METRE),
        pipe_m=round(option.pipe_m, METRE),
        vents=option.vents,
        at_m=number(option.at_m, METRE),
        deeper_m=round(option.deeper_m, METRE),
        deepest_m=round(option.deepest_m, METRE),
        over_m=round(option.over_m, METRE),
    )
