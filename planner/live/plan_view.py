"""`plan_view`: a plan as the page draws it."""

from collections.abc import Sequence
from typing import Literal

import numpy as np
from shapely.geometry import LineString

from planner.live.figures import figure_views
from planner.live.line_view import line_view, turn_views
from planner.live.rounded import place, places
from planner.live.settings import settings_of
from planner.live.sketch_parts import area_views, crossing_views, point_views
from planner.live.value import XY, ActionView, FindingView, PlanView
from planner.output.map.panel import odds
from planner.output.map.scene import place_of
from planner.output.summary import scheme_words
from planner.record.value import Finding, Plan
from planner.remedies.value import Remedy
from planner.terrain.drainage import Stream
from planner.terrain.value import Terrain
from planner.wording.cautions import cautions
from planner.wording.findings import sentence

HALF_CELL = 0.5  # cells; a stream may leave its cells' centres by so much


def plan_view(
    plan: Plan,
    revision: int,
    remedies: Sequence[Sequence[Remedy]] = (),
    *,
    state: Literal["refining", "plan"] = "plan",
) -> PlanView:
    """A plan as the page draws it.

    Parameters
    ----------
    plan : Plan
    revision : int
        Of the draft it was made from.
    remedies : sequence of sequences of Remedy
        What the program can do about each finding, in the order of `plan.findings`; empty: nothing.
    state : {"refining", "plan"}
        Whether a more exact answer follows.
    """
    units, sketch = plan.site.units, plan.site.sketch
    can_do = remedies or [()] * len(plan.findings)
    return PlanView(
        state=state,
        revision=revision,
        missing="",
        title=plan.site.title,
        scheme=scheme_words(plan),
        units=units,
        points=point_views(plan.points, sketch, units, powered=plan.scheme == "powered"),
        areas=area_views(plan.areas, units),
        lines=[line_view(line, units) for line in plan.lines],
        turns=[turn for line in plan.lines for turn in turn_views(plan, line)],
        streams=stream_views(plan.terrain, plan.streams),
        crossings=crossing_views(plan.terrain, sketch.crossings),
        findings=[
            _finding(plan, number, finding, acts)
            for number, (finding, acts) in enumerate(
                zip(plan.findings, can_do, strict=True), start=1
            )
        ],
        figures=figure_views(plan),
        cautions=list(cautions(plan)),
        settings=settings_of(plan.site.text),
    )


def stream_views(terrain: Terrain, streams: Sequence[Stream]) -> list[list[XY]]:
    """Streams found in the ground, with no more corners than their cells can tell."""
    away = HALF_CELL * max(terrain.cell)
    return [
        places(np.array(LineString(stream.xy).simplify(away).coords))
        for stream in streams
        if len(stream.xy) > 1
    ]


def _finding(plan: Plan, number: int, finding: Finding, can_do: Sequence[Remedy]) -> FindingView:
    words, at = sentence(finding, plan.site.units), place_of(plan, finding)
    return FindingView(
        number=number,
        level=finding.level,
        code=finding.code,
        message=words.message,
        remedy=words.remedy,
        line=finding.line,
        chainage=None if finding.chainage_m is None else round(finding.chainage_m, 2),
        at=None if at is None else place(at),
        odds="" if finding.likelihood is None else odds(finding.likelihood),
        actions=[ActionView(key=remedy.key, words=remedy.words) for remedy in can_do],
    )
