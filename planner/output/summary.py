"""A plan in plain text for the terminal: the figures, the lines, and what to do about it."""

import re
import textwrap
from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path

from planner.output.map.panel import SCHEMES, data_source, water_figures
from planner.output.sheets.content import Numbered
from planner.output.sheets.numbering import numbered
from planner.record.value import Level, Line, Plan
from planner.units import System, show
from planner.wording.changes import change_sentence
from planner.wording.choices import (
    SURFACE,
    Trade,
    choice_sentence,
    shortfall,
    trades,
    weightiest,
)
from planner.wording.quantity import show as in_words

NARROWEST, WIDEST = 50, 100  # a line of text that is easily read
GLUE = "\u00a0"  # a space at which no line ends
MOST_CHOICES = 3  # of one line; plan.json and the map have more
AFTER_FIGURE = re.compile(r"(?<=[\d±]) ")
HEADINGS: dict[Level, tuple[str, str]] = {
    "stop": ("{} thing stops the work", "{} things stop the work"),
    "warn": ("{} warning", "{} warnings"),
    "note": ("{} note", "{} notes"),
}


def summary(plan: Plan, folder: Path, width: int = 80) -> list[str]:
    """Title, figures, lines, findings by level, and where the files are.

    Parameters
    ----------
    plan : Plan
    folder : Path
        Where its files stand.
    width : int
        Of the text, in letters; kept within what is easily read.
    """
    width = min(max(width, NARROWEST), WIDEST)
    parts = (
        [plan.site.title, scheme_words(plan)],
        _columns(water_figures(plan)),
        _wrapped(data_source(plan), width, "  "),
        _changes(plan, width),
        _columns(_lines(plan), right=2),
        _choices(plan, width),
        *_other_routes(plan, width),
        *_findings(numbered(plan), width),
        [f"The plan is in {folder}.", *_wrapped(_files(plan), width)],
    )
    text: list[str] = []
    for part in parts:
        text += ["", *part] if text and part else part
    return text


def line_summary(line: Line, units: System) -> list[str]:
    """Length, fall and high points of one line."""
    profile = line.profile
    rise = float(profile.ground[-1] - profile.ground[0])
    facts = [
        f"{show(profile.length, 'length', units)} of pipe, "
        f"{'rising' if rise > 0 else 'falling'} {show(abs(rise), 'level', units)} from end to end"
    ]
    facts += [
        f"  high point at {in_words(high.chainage_m, 'station', units)}: stands "
        f"{show(high.rise_m, 'level', units)} above the pipe beside it and can trap air; "
        f"level it, then vent it or move the line"
        for high in line.high_points
    ]
    return facts if line.high_points else [*facts, "  no high point: it traps no air"]


def scheme_words(plan: Plan) -> str:
    """How the water is brought, or that it isn't yet."""
    if any(line.role in ("main", "delivery") for line in plan.lines):
        return SCHEMES[plan.scheme]
    return "No line brings the water where it is wanted yet"


def _changes(plan: Plan, width: int) -> list[str]:
    """What measuring changed, each on a line of its own."""
    text = []
    for change in plan.changes:
        text += _wrapped(change_sentence(change, plan.site.units), width, "  ", "    ")
    return ["What measuring changed", *text] if text else []


def _lines(plan: Plan) -> list[tuple[str, ...]]:
    found = [
        (line.name, line.start, line.end, _length(plan, line), _air(line)) for line in plan.lines
    ]
    lost = [(line.name, line.start, line.end, "", "no way found") for line in plan.blocked]
    return [(name, f"{start} to {end}", *rest) for name, start, end, *rest in (*found, *lost)]


def _length(plan: Plan, line: Line) -> str:
    return show(line.profile.length, "length", plan.site.units)


def _air(line: Line) -> str:
    highs = len(line.high_points)
    return f"{highs} high point{'s' if highs > 1 else ''}" if highs else ""


def _choices(plan: Plan, width: int) -> list[str]:
    """What the routed lines chose where, and what else there was."""
    text = []
    for line in plan.lines:
        for choice in weightiest(line.choices, MOST_CHOICES):
            said = f"{line.name}: {choice_sentence(choice, plan.site.units)}"
            text += _wrapped(said, width, "  ", "    ")
    return ["What was chosen along the lines", *text] if text else []


def _other_routes(plan: Plan, width: int) -> Iterator[list[str]]:
    """A block for each line whose alternatives were asked for: one row a route."""
    units = plan.site.units
    for line in plan.lines:
        if line.alternatives is None or line.figures is None:
            continue
        found = line.alternatives.found
        rows = trades(line.figures, found, units)
        short = shortfall(line.alternatives.asked, len(found))
        yield [
            f"Other routes for {line.name}, and what they cost more, in pipe",
            *_columns([_route(row) for row in rows]),
            *(_wrapped(short, width, "  ") if short else ()),
        ]


def _route(row: Trade) -> tuple[str, ...]:
    trench = row.trench if row.trench == SURFACE else f"trench {row.trench}"
    steepest = f"steepest {row.steepest}"
    return (row.letter, row.reason, row.length, row.vents, trench, steepest, row.cost)


def _columns(rows: Sequence[Sequence[str]], right: int | None = None) -> list[str]:
    """Rows with their columns under each other, the one numbered `right` flush right."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  "
        + "   ".join(
            cell.rjust(width) if number == right else cell.ljust(width)
            for number, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]


def _findings(found: Sequence[Numbered], width: int) -> Iterator[list[str]]:
    """A block for each level: its count, then what is wrong and what to do about it."""
    for level, group in groupby(found, key=lambda finding: finding.level):
        of_level = list(group)
        one, several = HEADINGS[level]
        lines = [(one if len(of_level) == 1 else several).format(len(of_level))]
        for finding in of_level:
            lines += _finding(finding, width)
        yield lines


def _finding(finding: Numbered, width: int) -> list[str]:
    first = f"  {finding.number:>2}  "
    rest = " " * len(first)
    if finding.level == "note":
        return _wrapped(f"{finding.message} {finding.remedy}", width, first, rest)
    return [
        *_wrapped(finding.message, width, first, rest),
        *_wrapped(finding.remedy, width, f"{rest}To do: ", rest),
    ]


def _files(plan: Plan) -> str:
    if not plan.lines:
        return "Open map.html in a browser."
    return (
        "Open map.html in a browser; print profiles.pdf (sheets), walk.pdf (to fill in on the "
        "ground) and owner.pdf (for the landowner); stakes, materials and exchange files lie "
        "beside them."
    )


def _wrapped(text: str, width: int, first: str = "", rest: str | None = None) -> list[str]:
    """Text in lines of that width; a figure stays with its unit."""
    lines = textwrap.wrap(
        AFTER_FIGURE.sub(GLUE, text),
        width,
        initial_indent=first,
        subsequent_indent=first if rest is None else rest,
        break_long_words=False,
        break_on_hyphens=False,
    )
    return [line.replace(GLUE, " ") for line in lines]
