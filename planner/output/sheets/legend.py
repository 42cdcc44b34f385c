"""The key of strokes between the plan and the section."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from planner.output.look import DOUBT, GROUND, ROLES
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import SMALL, rule, text_width, write
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.section import CLOSED, FILLED, OPEN, PIPE_WEIGHT
from planner.units import show

SAMPLE = 11.0  # mm of each stroke
GAP = 4.0  # mm between two entries


def draw_legend(sheet: Axes, box: Box, content: SheetContent) -> None:
    """One sample of each stroke that the section uses, with its word."""
    look = ROLES[content.line.role]
    y = (box.bottom + box.top) / 2.0
    error = content.terrain.provenance.standard_error
    words = ["ground", f"{look.word.lower()} pipe ({look.letters})"]
    if content.line.water is not None:
        words += ["closed level (outlet closed)", "hydraulic grade line (outlet open)"]
    if content.line.profile.filled.any():
        words.append("no data, filled in")
    if np.isfinite(error):
        words.append(f"ground ± {show(error, 'level', content.units)}")
    x = box.left
    for word in words:
        _sample(sheet, x, y, word, content)
        write(sheet, x + SAMPLE + 1.2, y, word, va="center_baseline")
        x += SAMPLE + 1.2 + text_width(word, SMALL) + GAP


def _sample(sheet: Axes, x: float, y: float, word: str, content: SheetContent) -> None:
    ends, level = [x, x + SAMPLE], [y, y]
    if word == "ground":
        rule(sheet, ends, level, 1.0, color=GROUND)
    elif word.startswith("no data"):
        rule(sheet, ends, level, 0.8, color=GROUND, ls=FILLED)
    elif word.startswith("ground"):
        ribbon = Rectangle((x, y - 1.1), SAMPLE, 2.2, facecolor=DOUBT, edgecolor="none")
        sheet.add_patch(ribbon)
        rule(sheet, ends, level, 1.0, color=GROUND)
    elif word.startswith("closed"):
        rule(sheet, ends, level, 0.7, ls=CLOSED)
    elif word.startswith("hydraulic"):
        rule(sheet, ends, level, 0.9, color=ROLES["delivery"].colour, ls=OPEN)
    else:
        pipe_stroke(sheet, ends, level, content.line.role, PIPE_WEIGHT)
