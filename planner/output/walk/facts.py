"""What is known of a line, in the words that stand at the head of its walk sheet."""

from collections.abc import Iterator

import numpy as np

from planner.output.print.type import printable
from planner.output.stakes.value import Stake, StakedLine
from planner.output.walk.proof import LEAST
from planner.record.value import Line
from planner.record.works import PipeRun
from planner.site.value import Units
from planner.units.show import show
from planner.wording.cautions import CAUTIONS
from planner.wording.quantity import show as say

MOST_LISTED = 6  # high or low points named at the head; all of them stand in the rows
MOST_RUNS = 6
DEEP = {"metric": 1.2, "us": 4 * 0.3048}
"""m; from such a depth a trench is shored or sloped before anyone enters it (usual in codes)."""


def line_facts(staked: StakedLine, units: Units) -> Iterator[tuple[str, str]]:
    """Names and facts, in the order in which they are wanted."""
    line = staked.line
    yield "From, to", f"{printable(line.start)} to {printable(line.end)}"
    count = len(staked.stakes)
    length = show(line.profile.length, "length", units)
    yield "Length", f"{length} along the pipe, {count} stake{'' if count == 1 else 's'}"
    yield "Pipe", _pipe(line, units)
    yield "Depth", _depth(staked, units)
    yield "Grade", _grade(line, units)
    for name, reason in (("High points", "high"), ("Low points", "low")):
        listed = _points(staked, reason, units)
        if listed:
            yield name, listed
    carried = _pressure(line, units)
    if carried:
        yield "Pressure", carried
    yield "Caution", " ".join(_cautions(staked, units))


def _pipe(line: Line, units: Units) -> str:
    if not line.runs:
        return f"Bore {show(line.settings.pipe.bore, 'bore', units)}"
    if len(line.runs) == 1:
        return f"{_run(line.runs[0], units)}, all along"
    told = [f"{_run(run, units)} to {say(run.end_m, 'station', units)}" for run in line.runs]
    left = len(told) - MOST_RUNS
    return "; ".join(told[:MOST_RUNS]) + (f"; and {left} more" if left > 0 else "")


def _run(run: PipeRun, units: Units) -> str:
    return f"{printable(run.label)}, {run.form}s of {show(run.piece, 'length', units)}"


def _depth(staked: StakedLine, units: Units) -> str:
    line = staked.line
    laying, depth = line.settings.laying, line.profile.depth
    limits = f"Least cover {show(laying.least_cover, 'level', units)}"
    if laying.least_cover < 0.0:
        limits = f"May stand {show(-laying.least_cover, 'level', units)} over the ground"
    limits += f", trench no deeper than {show(laying.deepest_trench, 'level', units)}"
    if np.isnan(depth).all():
        return f"{limits}; the ground is not known"
    deepest = int(np.nanargmax(depth))
    found = (
        f"deepest {show(float(depth[deepest]), 'level', units)} at {_at(staked, deepest, units)}"
    )
    high = int(np.nanargmin(depth))
    if depth[high] < 0.0:
        over = show(-float(depth[high]), "level", units)
        found += f"; {over} over the ground at {_at(staked, high, units)}: prop it"
    return f"{limits}; {found}"


def _at(staked: StakedLine, index: int, units: Units) -> str:
    chainage = float(staked.line.profile.chainage[index])
    near = min(staked.stakes, key=lambda stake: abs(stake.chainage_m - chainage))
    return f"{say(chainage, 'station', units)} (near {near.name})"


def _grade(line: Line, units: Units) -> str:
    least = f"{show(line.settings.laying.least_grade, 'grade', units)} is the least"
    if line.flats:
        where = "; ".join(
            f"{say(flat.start_m, 'station', units)} to {say(flat.end_m, 'station', units)}"
            for flat in line.flats[:MOST_LISTED]
        )
        return f"{least}; flatter at {where}: level these first"
    turns = line.high_points or line.low_points
    return f"{least}{', but at the points below' if turns else ', all the way'}"


def _points(staked: StakedLine, reason: str, units: Units) -> str:
    found = [stake for stake in staked.stakes if reason in stake.reasons]
    told = [f"{_named(stake, units)}{_done(stake)}" for stake in found[:MOST_LISTED]]
    left = len(found) - len(told)
    return "; ".join(told) + (f"; and {left} more below" if left > 0 else "")


def _named(stake: Stake, units: Units) -> str:
    return f"{stake.name}, {say(stake.chainage_m, 'station', units)}"


def _done(stake: Stake) -> str:
    """What is done at a high or low point, of all that the stake's remark says."""
    for part in stake.remark.split("; "):
        word, _, what = part.partition(": ")
        if word in ("high point", "crest", "low point"):
            return f": {printable(what)}"
    return ""


def _pressure(line: Line, units: Units) -> str:
    if line.pressure is None:
        return ""
    heads = line.pressure.heads
    open_, closed = (
        say(max(float(np.nanmax(head)), 0.0), "head", units) for head in (heads.open, heads.closed)
    )
    bears = say(float(np.nanmin(heads.rating)), "head", units)
    return f"At most {open_} with the outlet open, {closed} closed; the pipe bears {bears}"


def _cautions(staked: StakedLine, units: Units) -> Iterator[str]:
    line = staked.line
    depth = line.profile.depth
    if line.settings.laying.manner == "buried":
        deep = bool(np.nanmax(depth, initial=0.0) >= DEEP[units])
        limit = show(DEEP[units], "length", units)
        if deep:
            yield f"The trench is {limit} deep or more: nobody enters it before it is shored."
        yield CAUTIONS["trench"][1]
        yield CAUTIONS["services"][1]
    if line.role == "drive":
        yield CAUTIONS["waste-valve"][1]
    if line.role == "delivery":
        yield "Let the pressure off before a joint is loosened."
    elif line.pressure is not None and np.nanmax(line.pressure.heads.closed) >= LEAST:
        yield "It is under pressure with the outlet closed: empty it before a joint is loosened."
    if line.settings.laying.manner == "surface":
        yield "Keep it out of the sun's heat and of the way of wheels and hooves."
