"""`follow_view`: what the page draws while a point is dragged."""

from dataclasses import replace

from planner.chain.follow import Followed
from planner.live.figures import figure_views
from planner.live.line_view import line_view, turn_views
from planner.live.rounded import place
from planner.live.value import FollowView
from planner.record.value import Plan
from planner.units.show import show


def follow_view(plan: Plan, followed: Followed) -> FollowView:
    """The lines that change with a point, and the figures there.

    Parameters
    ----------
    plan : Plan
        Before the point was taken hold of.
    followed : Followed
        The same with the point elsewhere.
    """
    units, moved = plan.site.units, followed.point
    lost = {blocked.name: blocked.message for blocked in followed.gone}
    fresh = {line.name: line for line in followed.lines}
    stay = [line for line in plan.lines if line.name not in fresh and line.name not in lost]
    water = replace(followed.water, intake=plan.water.intake)  # the source stays what it is
    there = replace(
        plan,
        points=tuple(moved if point.name == moved.name else point for point in plan.points),
        lines=(*stay, *followed.lines),
        water=water,
    )
    return FollowView(
        name=moved.name,
        at=place(moved.xy),
        level=show(moved.level, "level", units),
        lines=[line_view(line, units) for line in followed.lines],
        turns=[turn for line in followed.lines for turn in turn_views(plan, line)],
        gone=lost,
        figures=figure_views(there),
    )
