"""Rows of the source and its intake."""

import math

from planner.hydraulics.settling import Rule
from planner.hydraulics.source import Basis, stream_share_left
from planner.output.water.row import Group, figure, group
from planner.record.value import Plan
from planner.units.show import band_text, show

BASES: dict[Basis, str] = {
    "dry reading": "read in the dry season",
    "wet reading": "read in the wet season, not for design",
    "wet reading, reduced": "read in the wet season, reduced to the dry",
}
RULES: dict[Rule, str] = {
    "grit": "so that grit settles",
    "detention": "so that the water stays long enough",
    "air": "so that air parts from the water",
}
SCREENS = {"fish": "slow enough for fish", "clogging": "holes of several times the pipe"}


def source_group(plan: Plan) -> Group:
    """What the source gives at its lowest, what is taken, what stays in the stream."""
    water, source, units = plan.water, plan.site.gauged, plan.site.units
    gave, taken, works = water.source_flow, water.taken, water.intake
    read = f"{len(source.timings)} fills, bucket and watch" if source.timings else "as told"
    read_on = None if source.measured is None else source.measured.isoformat()
    left = None
    if gave and taken is not None:
        left = f"{show(stream_share_left(gave, taken), 'share', units)} of the lowest flow"
    lowest = None if works is None else band_text(works.lowest.flow, "flow", units, figures=3)
    return group(
        "Source",
        [
            ("Reading", figure(source.flow, "flow", units), read),
            ("Read on", read_on, read),
            ("Lowest known flow", lowest, "" if works is None else BASES[works.lowest.basis]),
            ("Taken", figure(taken, "flow", units), "lowest known flow less the stream's share"),
            ("Left in the stream", left, "site file or its default"),
        ],
    )


def intake_group(plan: Plan) -> Group:
    """The smallest screen and settling chamber for the flow taken, and the water over the mouth."""
    works, units = plan.water.intake, plan.site.units
    if works is None:
        return group("Intake", ())
    screen, chamber = works.screen, works.chamber
    sides = [show(side, "level", units) for side in (chamber.length, chamber.width, chamber.depth)]
    size = " × ".join(sides) if math.isfinite(chamber.length) else None
    fish = "fish screen criteria" if screen.ruled_by == "fish" else "open area to pipe area"
    return group(
        "Intake, at least",
        [
            (
                "Screen face",
                f"{figure(screen.area, 'face', units)}, {SCREENS[screen.ruled_by]}",
                fish,
            ),
            ("Holes in it", figure(screen.opening, "face", units), "open area to pipe area"),
            ("Speed through the holes", figure(screen.slot_speed, "speed", units), "continuity"),
            ("Settling chamber, l × w × d", size, f"settling, {RULES[chamber.ruled_by]}"),
            ("Water stays in it", figure(chamber.detention, "duration", units), "volume over flow"),
            (
                "Water over the intake's mouth",
                figure(works.cover, "height", units),
                "against whirls",
            ),
        ],
    )
