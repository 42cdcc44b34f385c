"""What to take along, so that nobody comes down the hill for want of it."""

from collections.abc import Iterator

from planner.hydraulics.pipe import Material
from planner.output.materials.gather import Need
from planner.output.materials.joints import UNDER_PRESSURE
from planner.output.materials.sizes import Fit, fit_of, slug
from planner.output.materials.threads import piece
from planner.output.materials.value import Article, Dug
from planner.record.value import Line, Plan
from planner.units.show import show

TEST = 1.5  # times the working head, before backfill (trade notes, job step 13)
ALWAYS = (
    "Spades, pick, crowbar and rake",
    "Pipe cutter or fine saw, and a knife to clean the cut",
    "Two pipe wrenches or adjustable spanners",
    "Level, staff or hose, tape, mallet, marker and the papers of this plan",
    "Bucket of known volume and a watch",
    "Gloves, goggles and a first-aid kit",
)
FOR_PIPE: dict[Material, str] = {
    "PE": "Stands to uncoil from, and hot water to soften ends in the cold",
    "PVC": "Rags and a chamfering file for glued joints",
    "steel": "Threading die with oil and a pipe vice, for sticks cut to length",
}


def tool_needs(plan: Plan, lines: tuple[Line, ...], trench: tuple[Dug, ...]) -> Iterator[Need]:
    """Tools for the pipes and the ground there are; plugs for the pressure test."""
    wanted = list(ALWAYS)
    fits = _fits(plan, lines)
    materials = {run.pipe.material for line in lines for run in line.runs}
    wanted += [words for material, words in FOR_PIPE.items() if material in materials]
    if any(fit.clamps for fit in fits):
        wanted.append("Nut driver for hose clamps")
    if any(row.ground == "rock" for row in trench):
        wanted.append("Drill, wedges and sledge hammer for rock")
    if any(row.depth == 3 for row in trench):
        wanted.append("Shoring for deep trench, ladder; local rules on trenches read first")
    wanted.append(_test_pump(lines, plan))
    wanted.append("Chlorine and test strips, where people drink the water")
    for words in wanted:
        yield Need(Article(slug(words), "tools", "tool", words, "set"), "all lines", 1, "")
    for fit in fits:
        plug = piece("joints and bends", "Test plug, threaded", fit)
        yield Need(plug, "all lines", 2, "both ends, for the pressure test", threads=1)


def _fits(plan: Plan, lines: tuple[Line, ...]) -> tuple[Fit, ...]:
    """Every size of pipe that stands under pressure."""
    found = [
        fit_of(line, run, plan.site.units)
        for line in lines
        if line.role in UNDER_PRESSURE
        for run in line.runs or (None,)
    ]
    return tuple({fit.code: fit for fit in found}.values())


def _test_pump(lines: tuple[Line, ...], plan: Plan) -> str:
    heads = [float(line.pressure.heads.closed.max()) for line in lines if line.pressure is not None]
    words = "Test pump with a gauge"
    if not heads:
        return words
    most = TEST * max(heads)
    head = show(most, "head", plan.site.units, decimals=0)
    pressure = show(most, "pressure", plan.site.units)
    return f"{words} to {head} of water ({pressure}), {TEST:g} × the highest head, outlets closed"
