"""The foot of a sheet: numbered findings, remedy first; what was chosen; the cautions."""

from dataclasses import dataclass

import numpy as np
from matplotlib.axes import Axes

from planner.output.sheets.content import Numbered, SheetContent
from planner.output.sheets.ink import SMALL, fitted, leading, wrapped, write
from planner.output.sheets.paper import Box
from planner.output.sheets.symbols import FLAG, finding_number
from planner.wording.choices import choice_sentence, weightiest

INDENT = 6.5  # mm, room for a finding's number
MARGIN = 2.0


@dataclass(frozen=True, slots=True)
class Entry:
    """A finding's lines of text."""

    finding: Numbered
    lines: tuple[str, ...]


def draw_foot(sheet: Axes, box: Box, content: SheetContent) -> None:
    """Cautions at the very foot, whole; findings over them, as many as there is room for."""
    step = leading(SMALL)
    width = box.width - 2.0 * MARGIN
    cautions = wrapped("Cautions: " + " ".join(content.cautions), width, SMALL)
    if not content.cautions:
        cautions = []
    y = box.bottom + 1.7 + step * (len(cautions) - 1)
    top_of_cautions = y + step
    for text in cautions:
        write(sheet, box.left + MARGIN, y, text)
        y -= step
    room = int((box.top - 1.0 - top_of_cautions) / step)
    shown, left_out = entries(content, width - INDENT, room)
    y = box.top - 4.3
    for entry in shown:
        finding = entry.finding
        centre = box.left + MARGIN + FLAG / 2
        finding_number(sheet, centre, y + 0.9, finding.number, finding.level)
        for text in entry.lines:
            write(sheet, box.left + MARGIN + INDENT, y, text)
            y -= step
        y -= max(step * (2 - len(entry.lines)) * 0.55, 0.6)
    if left_out:
        word = "finding" if left_out == 1 else "findings"
        write(sheet, box.left + MARGIN, y, f"{left_out} more {word}: see {_elsewhere(content)}.")
        y -= step
    for text in remarks(content, width, int(np.floor((y - top_of_cautions) / step)) + 1):
        write(sheet, box.left + MARGIN, y, text)
        y -= step


def _elsewhere(content: SheetContent) -> str:
    """Where all findings stand."""
    return "the last sheet" if content.of > 1 else "the list on the map"


def remarks(content: SheetContent, width: float, room: int) -> list[str]:
    """What was chosen along the line, each on one line, as many as there is room for."""
    if room <= 0:
        return []
    return [
        fitted(choice_sentence(choice, content.units), width, SMALL)
        for choice in weightiest(content.line.choices, room)
    ]


def entries(content: SheetContent, width: float, room: int) -> tuple[list[Entry], int]:
    """The line's own findings, then the scheme's, that fit `room` lines; how many do not.

    One line is kept for saying so, unless it is the last that would take it.
    """
    own = content.line.name
    concerned = [f for f in content.findings if f.line in {own, None} and _shown(content, f)]
    concerned.sort(key=lambda f: (f.line is None, f.number))
    shown: list[Entry] = []
    used = 0.0
    for finding in concerned:
        text = f"{finding.remedy} {finding.message}"
        lines = wrapped(text, width, SMALL)
        if len(lines) > 3:
            lines = [*lines[:2], fitted(" ".join(lines[2:]), width, SMALL)]
        used += max(len(lines), 1.55) + 0.2
        if used > (room if finding is concerned[-1] else room - 1):
            break
        shown.append(Entry(finding, tuple(lines)))
    return shown, len(concerned) - len(shown)


def _shown(content: SheetContent, finding: Numbered) -> bool:
    """Whether its place, if it has one, lies in the part of the line that the sheet shows."""
    if content.reach is None or finding.chainage_m is None:
        return True
    profile = content.line.profile
    return content.reach.has(float(np.interp(finding.chainage_m, profile.chainage, profile.run)))
