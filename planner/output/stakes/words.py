"""A stake in sentences, in the site's units, for instruments that show a note."""

import math

from planner.output.sheets.measure import Measure, measure
from planner.output.stakes.clean import one_line
from planner.output.stakes.value import Stake, StakedLine
from planner.record.value import Plan

MOST_REMARK = 120  # characters


def source_note(plan: Plan) -> str:
    """Where the levels come from: what a person must know who reads one off."""
    error = plan.terrain.provenance.standard_error
    doubt = f", one height ± {_long(measure(plan.site.units), error)}" if error > 0.0 else ""
    return (
        f"Ground and pipe levels come from {origin(plan)}{doubt}; distances are horizontal."
        " Level the stakes before pipe is cut."
    )


def origin(plan: Plan) -> str:
    """What the ground's levels were taken from."""
    bent = "" if plan.survey is None else " bent to levels measured on the ground"
    return f"elevation data{bent}"


def described(plan: Plan, staked: StakedLine, place: int) -> str:
    """What a stake marks and its figures; `place` counts the line's stakes from 0."""
    stake, show = staked.stakes[place], measure(plan.site.units)
    remark = one_line(stake.remark, MOST_REMARK)
    parts = [f"{remark[0].upper()}{remark[1:]}."] if remark else []
    parts.append(f"{show.chainage_word} {_along(show, stake.chainage_m)}.")
    parts.append(_levels(show, stake, origin(plan)))
    if place and stake.bearing is not None:
        before = staked.stakes[place - 1]
        parts.append(
            f"{_far(show, stake.back_m)} from {before.name} towards {stake.bearing:.0f}°"
            f" from true north; {_moved(show, 'pipe', stake.rise_m)},"
            f" {_moved(show, 'ground', stake.ground_rise_m)}."
        )
    if stake.findings:
        word = "Finding" if len(stake.findings) == 1 else "Findings"
        parts.append(f"{word} {', '.join(map(str, stake.findings))}.")
    return " ".join(parts)


def _levels(show: Measure, stake: Stake, origin: str) -> str:
    if not math.isfinite(stake.depth_m):
        return f"Ground {show.level_word} not known."
    how = "deep" if stake.depth_m >= 0.0 else "above the ground"
    return (
        f"Ground {show.level_word} {_long(show, stake.ground_m)} ({origin}),"
        f" pipe {_long(show, stake.pipe_m)}, {_long(show, abs(stake.depth_m))} {how}."
    )


def _moved(show: Measure, what: str, rise: float) -> str:
    if not math.isfinite(rise):
        return f"{what} not known"
    return f"{what} {'falls' if rise < 0.0 else 'rises'} {_long(show, abs(rise))}"


def _long(show: Measure, metres: float) -> str:
    return f"{metres / show.metres:.2f} {show.symbol}"


def _far(show: Measure, metres: float) -> str:
    return f"{metres / show.metres:.1f} {show.symbol}"


def _along(show: Measure, metres: float) -> str:
    text = show.chainage(metres)
    return f"{text} m" if show.symbol == "m" else text
