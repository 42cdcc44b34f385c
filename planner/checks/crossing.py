"""Where lines cross what the sketch draws to be crossed: roads, ditches, streams."""

from collections.abc import Iterator

from planner.checks.spot import on_line
from planner.record.value import Finding, Plan


def crossing_drawn(plan: Plan) -> Iterator[Finding]:
    """Each place where a line crosses a line of the sketch."""
    for line in plan.lines:
        for one in line.crossed:
            if one.name:  # a stream found in the ground is told elsewhere
                yield on_line(line, one.index, "note", "crossing-drawn", {"crossing": one.name})
