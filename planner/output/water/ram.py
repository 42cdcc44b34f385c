"""Rows of the ram: its beat, its surge, its size, its delivery pipe, its start."""

import math
from collections.abc import Iterator

from planner.checks.ram import DRAWS_MORE
from planner.hydraulics.delivery_size import DeliverySizes
from planner.hydraulics.ram_remedy import Remedy, Trouble
from planner.hydraulics.ram_size import RamOption
from planner.output.water.row import DARCY, DAY, Group, figure, group, head, plain
from planner.output.water.yields import yield_source
from planner.record.value import Plan
from planner.record.works import RamWorks
from planner.site.value import Units
from planner.units.show import band_text, show
from planner.wording.texts.ram import STEP_WORDS

COLUMN = "water column, wave-corrected"
STEADY = "steady flow, friction and valve"
PRACTICE = "trade practice"
SAME_BORE = 1.02  # bores nearer than this are sold as one size
TROUBLES: dict[Trouble, str | None] = {
    "none": None,
    "too fast": "beats too fast",
    "too slow": "beats too slowly",
    "stalls open": "stalls open: the water never gets fast enough to shut the valve",
    "delivers nothing": "beats but delivers nothing",
}
ARRANGEMENTS = {"single": "One ram", "parallel": "{} rams side by side", "stages": "In two stages"}


def ram_groups(plan: Plan) -> Iterator[Group]:
    """The groups of a ram whose workings are known; none without one."""
    works = plan.water.ram
    if works is None:
        return
    units = plan.site.units
    yield _beat(plan, works, units)
    yield _surge(works, units)
    yield group("Ram to take", (_option(option, plan) for option in works.options))
    if works.sizes is not None:
        yield group("Delivery pipe", _sizes(works.sizes, plan))
    yield _start(works, units)


def _beat(plan: Plan, works: RamWorks, units: Units) -> Group:
    cycle, beat = works.beat.cycle, works.beat
    closing = f"{show(works.closing_velocity, 'speed', units)}, "
    closing += "tuned to the flow there is" if works.tuned else "as given"
    beats = None if cycle.stalls else f"{cycle.beats:.0f} a minute"
    return group(
        "Beat",
        [
            ("Valve shuts at", closing, COLUMN if works.tuned else "site file"),
            ("Free speed, valve held open", figure(cycle.free_velocity, "speed", units), STEADY),
            ("Beats", beats, COLUMN),
            ("Wasted a beat", plain(cycle.wasted, "volume", units), COLUMN),
            ("Delivered a beat, no leak or drag", plain(cycle.delivered, "volume", units), COLUMN),
            ("Amiss", TROUBLES[beat.trouble], "40 to 90 a minute are usual"),
            ("Drive pipe that mends it", figure(beat.length, "about", units), COLUMN),
            ("Or the valve's load times", _load(plan, beat), COLUMN),
        ],
    )


def _load(plan: Plan, beat: Remedy) -> str | None:
    """Factor on the valve's load, with the flow it then draws; None where so much is not there."""
    units, there = plan.site.units, plan.water.taken
    factor = figure(beat.load, "ratio", units)
    if factor is None or beat.heavier is None:
        return factor
    draws = beat.heavier.drive_flow
    if there is not None and draws > DRAWS_MORE.value * there:
        return None
    return f"{factor}, drawing {figure(draws, 'flow', units)}"


def _surge(works: RamWorks, units: Units) -> Group:
    peak = works.peak
    return group(
        "Surge heads at the ram",
        [
            ("As it beats, surge", head(peak.beating, units), "twice the delivery head"),
            ("Delivery blocked, surge", head(peak.blocked, units), "Joukowsky"),
            (
                "Ram and drive pipe to bear, surge",
                head(peak.design, units),
                "the higher of the two",
            ),
        ],
    )


def _option(option: RamOption, plan: Plan) -> tuple[str, str | None, str]:
    units = plan.site.units
    label = ARRANGEMENTS[option.arrangement].format(option.count)
    text = f"drive pipe {figure(option.size.bore, 'size', units)}"
    if option.second is not None and option.second.size is not None:
        text += f", then {figure(option.second.size.bore, 'size', units)}"
    beside = [
        f"{'next smaller' if one.bore < option.size.bore else 'next larger'} "
        f"{figure(one.bore, 'size', units)}"
        for one in option.neighbours
    ]
    if beside:
        text += f" ({', '.join(beside)})"
    if math.isfinite(float(option.delivered.expected)):
        text += f"; {band_text(option.delivered.times(DAY), 'per_day', units)}"
    if option.cautions:
        text += f"; {', '.join(option.cautions)}"
    return label, text, f"drive-pipe speed; {yield_source(plan)}"


def _sizes(sizes: DeliverySizes, plan: Plan) -> Iterator[tuple[str, str | None, str]]:
    units = plan.site.units
    laid = [line.settings.pipe.bore for line in plan.lines if line.role == "delivery"]
    for number, pipe in enumerate(sizes.pipes):
        label = f"Bore {show(pipe.bore, 'bore', units)}"
        if number == sizes.chosen:
            label += ", to take"
        if any(1 / SAME_BORE < pipe.bore / bore < SAME_BORE for bore in laid):
            label += ", in the plan"
        text = "friction is beyond what is published"
        if math.isfinite(float(pipe.delivered.expected)):
            given = show(float(pipe.delivered.expected) * DAY, "per_day", units, figures=3)
            costs = show(pipe.lost * DAY, "per_day", units)
            text = f"{given}; friction {show(pipe.friction, 'level', units)}, costing {costs}"
        yield label, text, DARCY


def _start(works: RamWorks, units: Units) -> Group:
    start = works.start
    fewest, most = start.strokes
    steps = [
        (f"Step {number}", STEP_WORDS[step], PRACTICE)
        for number, step in enumerate(start.steps, start=1)
    ]
    return group(
        "Starting the ram",
        [
            ("Drive pipe holds", plain(start.drive_volume, "volume", units), "length and bore"),
            (
                "Delivery line holds",
                plain(start.delivery_volume, "volume", units),
                "length and bore",
            ),
            (
                "Back-pressure to beat alone, outlet closed",
                head(start.back_pressure, units),
                PRACTICE,
            ),
            (
                "The source alone gives, outlet closed",
                head(start.by_itself, units),
                "fall, waste valve shut",
            ),
            (
                "Strokes by hand",
                f"{fewest}, delivery valve shut; up to {most}, open",
                "working estimate",
            ),
            ("Delivery line full after", figure(start.filling_time, "duration", units), "yield"),
            *steps,
        ],
    )
