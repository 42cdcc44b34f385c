"""Lines of a known shape in the example plan, for tests that read stakes."""

import datetime
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from planner.hydraulics.catalogue import catalogue
from planner.hydraulics.vents import Vent
from planner.levels.value import Levelled, Survey
from planner.profile.along import chainage_of, samples_along
from planner.profile.value import HighPoint, LowPoint, Profile
from planner.record.value import Line, Plan
from planner.record.works import AsBuilt, BuiltMark, Crossed, LineAir, PipeRun, PlacedVent
from tests.example import example_plan

HOSTILE = '=cmd|"/c calc"!A1 <b>&amp;</b> "q" \'s\'\nnext, row\t💧 ' + "long " * 80


def profile_of(vertices: npt.ArrayLike, depth: float = 0.5, rise: float = 0.05) -> Profile:
    """A profile along vertices [m] over ground of one grade."""
    corners = np.asarray(vertices, dtype=np.float64)
    xy, run = samples_along(corners, 0.5)
    ground = 500.0 + rise * run
    return Profile(
        xy=xy,
        run=run,
        chainage=chainage_of(run, ground - depth),
        ground=ground,
        pipe=ground - depth,
        filled=np.zeros(run.size, dtype=bool),
    )


def with_pipe(profile: Profile, pipe: npt.ArrayLike) -> Profile:
    """The same way, the pipe at other levels [m]."""
    levels = np.asarray(pipe, dtype=np.float64)
    return replace(profile, pipe=levels, chainage=chainage_of(profile.run, levels))


def a_line(profile: Profile, **said: object) -> Line:
    """A delivery line along a profile."""
    line = next(one for one in example_plan().lines if one.role == "delivery")
    bare = replace(line, profile=profile, high_points=(), low_points=(), rule_kept=True, water=None)
    return replace(bare, **said)  # type: ignore[arg-type]


def plan_of(*lines: Line, **said: object) -> Plan:
    """The example plan with these lines and without findings."""
    return replace(example_plan(), lines=lines, findings=(), **said)  # type: ignore[arg-type]


def high_at(profile: Profile, index: int) -> HighPoint:
    """A high point said to be at a sample."""
    return HighPoint(
        index,
        float(profile.run[index]),
        float(profile.chainage[index]),
        float(profile.pipe[index]),
        0.4,
        0.2,
    )


def low_at(profile: Profile, index: int) -> LowPoint:
    """A low point said to be at a sample."""
    high = high_at(profile, index)
    return LowPoint(index, high.run_m, high.chainage_m, high.level_m, 0.4)


def crossed_at(profile: Profile, index: int, name: str) -> Crossed:
    """A crossing at a sample."""
    return Crossed(name, index, float(profile.run[index]), float(profile.chainage[index]))


def a_run(start: float, end: float, piece: float, label: str = "32 mm PE") -> PipeRun:
    """A run of pipe in coils of `piece` [m]."""
    pipe = catalogue()[0]
    return PipeRun(start, end, label, pipe.bore, 100.0, pipe, named=True, form="coil", piece=piece)


def full_plan() -> Plan:
    """The example plan with runs of pipe and crossings, two of them with hostile names."""
    plan = example_plan()
    lines = []
    for line in plan.lines:
        length, middle = line.profile.length, line.profile.run.size // 2
        runs = (a_run(0.0, length / 2, 50.0), a_run(length / 2, length, 50.0, "25 mm PE <PN 16>"))
        crossings = (crossed_at(line.profile, middle, "Mill Lane"),)
        lines.append(replace(line, runs=runs, crossed=crossings))
    end = lines[-1].profile.run.size - 1
    lines[-1] = replace(lines[-1], crossed=(crossed_at(lines[-1].profile, end // 3, HOSTILE),))
    return replace(plan, lines=tuple(lines))


def field_plan() -> Plan:
    """The full plan with all that the field brings back, its names hostile."""
    plan = full_plan()
    lines = list(plan.lines)
    delivery = lines[2]
    high = delivery.high_points[0]
    mark = BuiltMark(
        12.5, tuple(delivery.profile.xy[25].tolist()), 0.62, "air valve", "a1.jpg", HOSTILE
    )
    lines[2] = replace(
        delivery,
        air=LineAir(
            (),
            None,
            (
                PlacedVent(
                    high.index, high.chainage_m, Vent("air-valve", float("nan"), by_hand=False)
                ),
            ),
            enough=True,
        ),
        built=AsBuilt(datetime.date(2026, 10, 3), (mark,), ("trench.jpg", "valve.jpg"), HOSTILE),
        walked=True,
    )
    station = Levelled("De 02", (3.0, -4.0), 503.21, 0.012, 503.4, ("level", "hose"))
    survey = Survey((station,), np.array([[0.000144]]), 0.0, 40.0, 0.19, float("nan"))
    return replace(plan, lines=tuple(lines), survey=survey)
