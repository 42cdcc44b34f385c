"""Pressure against what the pipe bears: rating, classes by stretch, break-pressure tanks."""

import json
from collections.abc import Iterator

import numpy as np

from planner.checks.planned import lines_with_water
from planner.checks.spot import on_line, sample_at_chainage
from planner.checks.value import Limit, Values
from planner.hydraulics.allowance import ALLOWANCES
from planner.hydraulics.classes import ClassedLine, ClassedStretch
from planner.hydraulics.pressure import LeastMargin
from planner.record.value import Finding, Level, Line, LineWater, Plan

RATING_NEAR = Limit(0.8, "the rest of the rating is kept for surge")
SURGE_BORNE = Limit(ALLOWANCES["PE"].recurring, ALLOWANCES["PE"].source)


def over_rating(plan: Plan) -> Iterator[Finding]:
    """The state and place in which each line is nearest to what its pipe bears.

    A surge over the allowance is a warning: it hangs on how slowly the valve is shut.
    """
    for line in plan.lines:
        least = _least(line)
        if least is None:
            continue
        share = least.head / least.rating
        if share > 1.0:
            level: Level = "warn" if least.state == "surge" else "stop"
            case: str = least.state
        elif share > RATING_NEAR.value and not _counted(line, least):
            level, case = "warn", f"{least.state}-near"
        else:
            continue
        values: Values = {
            "case": case,
            "head_m": least.head,
            "rating_m": least.rating,
            "share": share,
        }
        yield on_line(line, least.index, level, "pressure-over-rating", values)


def _counted(line: Line, least: LeastMargin) -> bool:
    """Whether surge is counted already: in the figure itself, or in the classes chosen."""
    chosen = line.pressure is not None and line.pressure.classes is not None
    return chosen or least.state == "surge"


def _least(line: Line) -> LeastMargin | None:
    """Where a line is nearest to its rating; of one without pressures, from its levels."""
    if line.pressure is not None:
        return line.pressure.least
    return None if line.water is None else _of_levels(line, line.water)


def _of_levels(line: Line, water: LineWater) -> LeastMargin | None:
    closed, open_ = water.closed_level - line.profile.pipe, water.open_level - line.profile.pipe
    if np.isnan(closed).all() or np.isnan(open_).all():
        return None
    shut = bool(np.nanmax(closed) >= np.nanmax(open_))
    head = closed if shut else open_
    worst, rating = int(np.nanargmax(head)), line.settings.pipe.rating
    most = float(head[worst])
    return LeastMargin("closed" if shut else "open", worst, most, rating, rating - most)


def break_pressure(plan: Plan) -> Iterator[Finding]:
    """Where tanks would break a closed head that the pipe does not bear."""
    for line, _ in lines_with_water(plan, "main", "distribution"):
        tanks = None if line.pressure is None else line.pressure.tanks
        if tanks is None:
            continue
        if tanks.blocked is not None:
            values: Values = {"case": "blocked"}
            yield on_line(line, tanks.blocked, "warn", "break-pressure", values)
        elif tanks.tanks:
            places = [float(line.profile.chainage[k]) for k in tanks.tanks]
            values = {"places": json.dumps(places)}
            yield on_line(line, tanks.tanks[0], "warn", "break-pressure", values)


def pipe_classes(plan: Plan) -> Iterator[Finding]:
    """Which class to buy for which stretch, and where none on offer is strong enough."""
    for line in plan.lines:
        classes = None if line.pressure is None else line.pressure.classes
        if classes is None:
            continue
        if classes.too_weak:
            start, end = classes.too_weak[0]
            strongest = classes.stretches[-1]
            inside = [one for one in classes.stretches if one.start < end and one.end > start]
            worst = max(inside, key=lambda one: one.needed, default=strongest)
            values: Values = {"case": "weak", "needed_m": worst.needed, "end_m": end}
            index = sample_at_chainage(line, start)
            yield on_line(line, index, "stop", "pipe-classes", values)
        elif len(classes.stretches) > 1 or line.settings.pipe.pressure_class is None:
            yield Finding("note", "pipe-classes", {"classes": _named(classes)}, line.name)


def _named(classes: ClassedLine) -> str:
    """Class and end of each stretch [m], as wording's kind "classes" reads them."""
    return json.dumps([(_class(one), one.end) for one in classes.stretches])


def _class(stretch: ClassedStretch) -> str:
    pipe = stretch.pipe
    return pipe.pressure_class or pipe.series or pipe.standard
