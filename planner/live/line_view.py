"""A pipe and its high and low points as the page draws them, in plan and in section."""

from planner.live.rounded import levels, metres, place, places
from planner.live.value import LineView, TurnView
from planner.output.look import ROLES
from planner.output.map.scene import kept_samples, scene_turns
from planner.record.value import Line, Plan
from planner.site.value import Units
from planner.units.show import show


def line_view(line: Line, units: Units) -> LineView:
    """A line, thinned to what can be told apart; its high and low points are kept."""
    look, profile, keep = ROLES[line.role], line.profile, kept_samples(line)
    return LineView(
        name=line.name,
        role=line.role,
        title=f"{look.word}, {line.start} to {line.end}",
        letters=look.letters,
        colour=look.colour,
        length=show(profile.length, "length", units),
        path=places(profile.xy[keep]),
        chainage=metres(profile.chainage[keep]),
        ground=levels(profile.ground[keep]),
        pipe=levels(profile.pipe[keep]),
    )


def turn_views(plan: Plan, line: Line) -> list[TurnView]:
    """The high and low points of a line, which need not be the plan's own."""
    return [
        TurnView(
            kind=turn.kind,
            line=turn.line,
            text=turn.text,
            at=place(turn.xy),
            chainage=round(turn.chainage, 2),
            vent=turn.vent,
        )
        for turn in scene_turns(plan, line)
    ]
