"""What a line is marked, propped and protected with."""

import math
from collections.abc import Iterator

import numpy as np

from planner.output.materials.bends import turns
from planner.output.materials.gather import Need
from planner.output.materials.ground import SHALLOWEST
from planner.output.materials.value import Article, Group, Unit
from planner.output.stakes.make import stakes_of
from planner.output.vents import apart
from planner.record.value import Line, Plan
from planner.site.value import Units
from planner.units.show import show

GROUP: Group = "laying and marking"
# All of these are guesses of the trade, to be put right.
TAPE = 100.0  # m of marking tape in a roll
PROPS: dict[str, float] = {"steel": 3.0, "PVC": 1.5, "PE": 1.0}  # m between props of a pipe
ANCHORS = 10.0  # m between anchors of a pipe that lies on the ground
SHARP = math.radians(20.0)  # a buried turn from here on is marked, lest it be dug through
SPARE_PEGS = 0.1  # share of pegs that split or are lost


def marking_needs(plan: Plan, line: Line) -> Iterator[Need]:
    """Tape over what is buried, posts, props, anchors and sleeves of one line."""
    depth = (line.profile.depth[1:] + line.profile.depth[:-1]) / 2.0
    along = np.diff(line.profile.chainage)
    buried = float(along[depth > SHALLOWEST].sum())
    if buried:
        tape = _article("marking-tape", "Marking tape, detectable", "roll", pack=TAPE)
        yield Need(tape, line.name, buried, "over all that is buried")
    if line.settings.laying.manner == "surface":
        yield from _held(line, float(along[depth < -SHALLOWEST].sum()), plan.site.units)
    yield from _posts(line, buried=buried > 0.0)
    for crossed in line.crossed:
        what = crossed.name or "stream"
        sleeve = _article(
            "crossing-sleeve", "Sleeve pipe for a crossing, length as measured there", "piece"
        )
        yield Need(sleeve, line.name, 1, f"{what}")


def _held(line: Line, propped: float, units: Units) -> Iterator[Need]:
    """Props where the pipe stands over the ground; anchors along all of it."""
    material = line.runs[0].pipe.material if line.runs else "PE"
    apart = PROPS[material]
    if propped:
        count = math.ceil(propped / apart)
        prop = _article("prop", "Prop or saddle block for pipe over the ground", "piece")
        yield Need(
            prop,
            line.name,
            count,
            f"every {show(apart, 'length', units)} where it is off the ground",
        )
    count = math.ceil(line.profile.length / ANCHORS) + 1
    anchor = _article("ground-anchor", "Ground anchor with pipe strap", "piece")
    yield Need(anchor, line.name, count, f"every {show(ANCHORS, 'length', units)} and at both ends")


def _posts(line: Line, *, buried: bool) -> Iterator[Need]:
    post = _article("marker-post", "Warning stake or marker post", "piece")
    openings = len(line.high_points) + len(line.low_points)
    openings += len(apart(line, "vent")) + len(apart(line, "washout"))
    if openings:
        yield Need(post, line.name, openings, "at vents and washouts")
    if line.crossed:
        yield Need(post, line.name, 2 * len(line.crossed), "on both sides of crossings")
    sharp = sum(turn.angle > SHARP for turn in turns(line))
    if buried and sharp:
        yield Need(post, line.name, sharp, "at sharp turns of what is buried")


def peg_needs(plan: Plan, lines: tuple[Line, ...]) -> Iterator[Need]:
    """Pegs for setting out, a few more than there are stakes."""
    names = {line.name for line in lines}
    peg = _article("peg", "Peg for setting out", "piece")
    for staked in stakes_of(plan):
        if staked.line.name in names:
            count = math.ceil(len(staked.stakes) * (1.0 + SPARE_PEGS))
            why = f"{len(staked.stakes)} stakes, and some to split"
            yield Need(peg, staked.line.name, count, why)


def _article(code: str, words: str, unit: Unit, pack: float | None = None) -> Article:
    return Article(code, GROUP, "buy", words, unit, pack=pack)
