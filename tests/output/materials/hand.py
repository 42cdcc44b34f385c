"""A plan small enough to take off by hand: two lines of one pipe on flat ground, rock at the end.

Delivery, 300 m along x, trench 0.5 m deep for 200 m and 0.8 m after; PN 10 for 180 m, then PN 16;
rock from x = 250 on. Distribution, 60 m of the same PN 10, 0.5 m deep, in ordinary ground.
"""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
from shapely.geometry import box

from planner.hydraulics.catalogue import find_pipes
from planner.hydraulics.pipe import CataloguePipe
from planner.profile.value import Profile
from planner.record.value import Line, OwnerShare, PlacedArea, Plan
from planner.record.works import PipeRun
from planner.site.field import Rates
from planner.site.value import Units
from tests.example import example_plan

COIL = 100.0  # m
PN10 = find_pipes("32 mm", standard="ISO 4427", pressure_class="PN 10")[0]
PN16 = find_pipes("32 mm", standard="ISO 4427", pressure_class="PN 16")[0]


def straight(length: int, deep_from: float = np.inf) -> Profile:
    """A level pipe along x, a sample each metre, 0.5 m deep and 0.8 m from some run on."""
    run = np.arange(length + 1, dtype=np.float64)
    ground = np.where(run > deep_from, 100.8, 100.5)
    return Profile(
        xy=np.column_stack([run, np.zeros_like(run)]),
        run=run,
        chainage=run,
        ground=ground,
        pipe=np.full(run.size, 100.0),
        filled=np.zeros(run.size, dtype=bool),
    )


def run_of(start: float, end: float, pipe: CataloguePipe, piece: float = COIL) -> PipeRun:
    label = f"{pipe.nominal} {pipe.standard} {pipe.series} {pipe.pressure_class}"
    return PipeRun(
        start_m=start,
        end_m=end,
        label=label,
        bore=pipe.bore,
        rating=pipe.rating,
        pipe=pipe,
        named=True,
        form=pipe.form,
        piece=piece,
    )


def bare(line: Line, profile: Profile, runs: tuple[PipeRun, ...]) -> Line:
    """A line of the example on another profile, without water, high or low points."""
    return replace(
        line, profile=profile, runs=runs, water=None, high_points=(), low_points=(), rule_kept=True
    )


def hand_plan(units: Units = "metric") -> Plan:
    plan = example_plan()
    delivery = bare(
        plan.line("delivery"),
        straight(300, deep_from=200.0),
        (run_of(0.0, 180.0, PN10), run_of(180.0, 300.0, PN16)),
    )
    tap = bare(plan.line("distribution-trough"), straight(60), (run_of(0.0, 60.0, PN10),))
    return replace(
        plan,
        site=replace(plan.site, units=units, rates=Rates()),
        lines=(delivery, tap),
        areas=(PlacedArea("slabs", "costly", box(250.0, -5.0, 400.0, 5.0), deepest_trench=1.0),),
        owners=(
            OwnerShare("delivery", "Upper Pasture", 120.0),
            OwnerShare("delivery", None, 180.0),
            OwnerShare("distribution-trough", "Upper Pasture", 60.0),
        ),
        findings=(),
    )


def along(corners: list[tuple[float, float, float]], step: float = 0.25) -> Profile:
    """A pipe straight from corner to corner (x, y, level), sampled finely."""
    parts = []
    for a, b in pairwise(corners):
        count = max(2, int(math.dist(a, b) / step))
        parts.append(np.linspace(a, b, count, endpoint=False))
    xyz = np.vstack([*parts, [corners[-1]]])
    flat = np.hypot(*np.diff(xyz[:, :2], axis=0).T)
    slope = np.sqrt(flat**2 + np.diff(xyz[:, 2]) ** 2)
    return Profile(
        xy=xyz[:, :2],
        run=np.concatenate([[0.0], np.cumsum(flat)]),
        chainage=np.concatenate([[0.0], np.cumsum(slope)]),
        ground=xyz[:, 2] + 0.5,
        pipe=xyz[:, 2],
        filled=np.zeros(len(xyz), dtype=bool),
    )


def line_of(profile: Profile, pipe: CataloguePipe = PN16) -> Line:
    return bare(hand_plan().lines[0], profile, (run_of(0.0, profile.length, pipe, piece=6.0),))
