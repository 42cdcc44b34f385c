"""A line over as many sheets as its figures need to be read."""

from collections.abc import Iterator
from dataclasses import replace

from planner.output.sheets.content import SheetContent
from planner.output.sheets.draw import scales_for
from planner.output.sheets.marks import USUAL, mark_step
from planner.output.sheets.measure import Measure, measure
from planner.output.sheets.paper import PaperName, layout
from planner.output.sheets.place import PAD
from planner.output.sheets.reach import LEGIBLE, MOST_SHEETS, Reach, reaches
from planner.output.sheets.scales import Scales, fitting, on_paper

MARKS = 10.0  # mm between two marks at least
MORE = 3  # sheets more at most, to show steep ground less flattened

Spread = tuple[tuple[Reach, ...], Scales]


def spread(content: SheetContent, paper: PaperName) -> tuple[SheetContent, ...]:
    """The sheets of one line: whole, where it fits at a legible scale; else parts that match.

    Of the legible scales the largest is taken that keeps to its number of sheets and does not
    flatten slopes. `before` and `after` of the parts count from 0 within the line; the numbers of
    the sheets are set where the set is put together.
    """
    units = measure(content.units)
    width = layout(paper, 0.0).section.width - 2.0 * PAD
    if on_paper(float(content.line.profile.run[-1]), LEGIBLE[units.symbol][0][0]) <= width:
        return (content,)
    parts, scales = _chosen(content, paper, width, units)
    if len(parts) == 1:
        return (replace(content, scales=scales),)
    last = len(parts) - 1
    return tuple(
        replace(
            content,
            reach=part,
            scales=scales,
            before=number - 1 if number else None,
            after=number + 1 if number < last else None,
        )
        for number, part in enumerate(parts)
    )


def _chosen(content: SheetContent, paper: PaperName, width: float, units: Measure) -> Spread:
    """The first way that leaves slopes true or steeper; else the least flattened near the first."""
    ways: list[Spread] = []
    for way in _ways(content, paper, width, units):
        ways.append(way)
        if way[1].exaggeration >= 1.0:
            return way
    return max(ways[: MORE + 1], key=lambda way: way[1].exaggeration)


def _ways(
    content: SheetContent, paper: PaperName, width: float, units: Measure
) -> Iterator[Spread]:
    """Parts and scales, the best to read first: legible scales, then more sheets of the first."""
    run = float(content.line.profile.run[-1])
    found: list[tuple[int, float]] = []
    for along, most in LEGIBLE[units.symbol]:
        if on_paper(run, along) <= most * width:
            found.append((along, width))
    if not found:
        found = [(fitting(run / MOST_SHEETS, width, units), width)]
    first = found[0][0]
    count = max(on_paper(run, first) / width, 1.0)
    found += [(first, on_paper(run, first) / (count + more)) for more in range(1, MORE + 1)]
    for along, room in found:
        step = max(mark_step(along, MARKS, units), USUAL[units.symbol] * units.metres)
        parts = reaches(content.line.profile, along, room, step)
        yield parts, scales_for(content, parts, paper, along)
