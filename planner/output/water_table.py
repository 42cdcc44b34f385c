"""Every water figure of a plan, in groups, each with the source it hangs on."""

import textwrap
from collections.abc import Iterator

from planner.output.summary import AFTER_FIGURE, GLUE
from planner.output.water.groups import water_groups
from planner.output.water.row import Group, Row, group
from planner.record.value import Plan
from planner.wording.cautions import cautions

WIDEST = 66  # letters of a figure in one line


def water_rows(plan: Plan) -> tuple[Group, ...]:
    """The water figures that are known, in the plan's units.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    tuple of Group
        Source, intake, heads, yield, ram, tank, lines, cautions; those without a row are left
        out. A pressure always says "outlet open", "outlet closed" or "surge".
    """
    said = _cautions(plan)
    return (*water_groups(plan), *((said,) if said.rows else ()))


def water_text(groups: tuple[Group, ...]) -> list[str]:
    """The groups as aligned lines of plain text, for a file or another program."""
    lines: list[str] = []
    for one in groups:
        lines += [*([""] if lines else []), one.title, *_aligned(one.rows)]
    return lines


def _cautions(plan: Plan) -> Group:
    told = enumerate(cautions(plan), start=1)
    return group("Cautions", ((str(number), text, "") for number, text in told))


def _aligned(rows: tuple[Row, ...]) -> Iterator[str]:
    folded = [(row, _folded(row.figure)) for row in rows]
    label = max(len(row.label) for row in rows)
    widest = max(len(line) for _, lines in folded for line in lines)
    for row, (first, *more) in folded:
        yield f"  {row.label:<{label}}   {first:<{widest}}   {row.source}".rstrip()
        yield from (f"  {'':<{label}}   {line}" for line in more)


def glued(figure: str) -> str:
    """A figure in which no line ends between a number and its unit."""
    return AFTER_FIGURE.sub(GLUE, figure)


def _folded(figure: str) -> list[str]:
    lines = textwrap.wrap(glued(figure), WIDEST, break_on_hyphens=False)
    return [line.replace(GLUE, " ") for line in lines]
