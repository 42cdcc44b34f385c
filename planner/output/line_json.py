"""One line of a plan as a document: an entry of `lines[]` in plan.json."""

from typing import Any

import numpy as np

from planner.output.field_json import (
    built_model,
    crossed_models,
    decided_models,
    run_model,
)
from planner.output.options_json import alternative_model, choice_model, figures_model
from planner.output.pressure_json import air_model, pressure_model
from planner.output.rounding import FLOW, METRE, degrees, number, numbers
from planner.profile.value import BoolArray, FloatArray, HighPoint, LowPoint
from planner.record import schema
from planner.record.value import Line
from planner.routing.options import Alternatives
from planner.site.value import LineSettings
from planner.terrain.value import Terrain


def line_document(line: Line, terrain: Terrain) -> dict[str, Any]:
    """One entry of `lines[]`, as plain dicts and lists."""
    return line_model(line, terrain).model_dump(mode="json", by_alias=True)


def line_model(line: Line, terrain: Terrain) -> schema.LineModel:
    """One line as the model of an entry of `lines[]`."""
    at = degrees(terrain, line.profile.xy)
    others = line.alternatives or Alternatives(0, ())
    return schema.LineModel(
        name=line.name,
        role=line.role,
        start=line.start,
        end=line.end,
        length_m=round(line.profile.length, METRE),
        path=at,
        profile=_profile(line),
        high_points=[_high_point(high, at[high.index]) for high in line.high_points],
        low_points=[_low_point(low, at[low.index]) for low in line.low_points],
        flats=[
            schema.StretchModel(start_m=round(flat.start_m, METRE), end_m=round(flat.end_m, METRE))
            for flat in line.flats
        ],
        rule_kept=line.rule_kept,
        pipe=_pipe(line.settings),
        water=_line_water(line),
        air=None if line.air is None else air_model(line.air, line.profile),
        pressure=None if line.pressure is None else pressure_model(line.pressure, line.profile),
        figures=None if line.figures is None else figures_model(line.figures),
        choices=[choice_model(choice) for choice in line.choices],
        alternatives=[alternative_model(other, terrain) for other in others.found],
        alternatives_asked=others.asked,
        runs=[run_model(run) for run in line.runs],
        crossed=crossed_models(line, at),
        walked=line.walked,
        built=None if line.built is None else built_model(line.built, terrain),
        decided=decided_models(line, at),
    )


def _high_point(high: HighPoint, at: tuple[float, float]) -> schema.HighPointModel:
    return schema.HighPointModel(
        chainage_m=round(high.chainage_m, METRE),
        rise_m=round(high.rise_m, METRE),
        deeper_m=number(high.deeper_m, METRE),
        at=at,
        level_m=number(high.level_m, METRE),
    )


def _low_point(low: LowPoint, at: tuple[float, float]) -> schema.LowPointModel:
    return schema.LowPointModel(
        chainage_m=round(low.chainage_m, METRE),
        sag_m=round(low.sag_m, METRE),
        at=at,
        level_m=number(low.level_m, METRE),
    )


def _pipe(settings: LineSettings) -> schema.PipeModel:
    laying, pipe = settings.laying, settings.pipe
    return schema.PipeModel(
        bore_m=pipe.bore,
        bore_assumed=pipe.bore_assumed,
        rating_m=pipe.rating,
        roughness_m=pipe.roughness,
        manner=laying.manner,
        least_cover_m=laying.least_cover,
        deepest_trench_m=laying.deepest_trench,
        least_grade=laying.least_grade,
    )


def _profile(line: Line) -> schema.ProfileModel:
    profile, water = line.profile, line.water
    return schema.ProfileModel(
        run_m=numbers(profile.run),
        chainage_m=numbers(profile.chainage),
        ground_m=numbers(profile.ground),
        pipe_m=numbers(profile.pipe),
        closed_level_m=None if water is None else numbers(water.closed_level),
        open_level_m=None if water is None else numbers(water.open_level),
        filled=_stretches(profile.chainage, profile.filled),
    )


def _line_water(line: Line) -> schema.LineWaterModel | None:
    water = line.water
    if water is None:
        return None
    return schema.LineWaterModel(
        flow_m3_s=number(water.flow, FLOW),
        velocity_m_s=number(water.velocity, METRE),
        friction_m=number(water.friction, METRE),
        end_head_m=number(water.end_head, METRE),
        runs_full=water.runs_full,
        part_full=[
            schema.PartFullModel(
                start_m=round(part.start, METRE),
                end_m=round(part.end, METRE),
                least_depth=number(part.least_depth, METRE),
                most_depth=number(part.most_depth, METRE),
                fastest_m_s=number(part.fastest, METRE),
            )
            for part in water.part_full
        ],
    )


def _stretches(chainage: FloatArray, chosen: BoolArray) -> list[tuple[float, float]]:
    """First and last chainage of each run of samples that is chosen."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], chosen, [False]]).astype(np.int8)))
    at = np.round(chainage, METRE)
    return [(float(at[a]), float(at[b - 1])) for a, b in edges.reshape(-1, 2)]
