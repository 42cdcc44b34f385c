"""The key of strokes between the plan and the section."""

import numpy as np
from matplotlib.axes import Axes
from matplotlib.patches import Rectangle

from planner.output.look import DOUBT, GROUND, INK, ROLES
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import SMALL, rule, text_width, write
from planner.output.sheets.levelled import stations_on
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.section import CLOSED, FILLED, OPEN, PIPE_WEIGHT
from planner.output.sheets.symbols import joint
from planner.units import show

SAMPLE = 9.0  # mm of each stroke
GAP = 3.0  # mm between two entries


def draw_legend(sheet: Axes, box: Box, content: SheetContent) -> None:
    """One sample of each stroke that the section uses, with its word."""
    look, line = ROLES[content.line.role], content.line
    y = (box.bottom + box.top) / 2.0
    error = content.terrain.provenance.standard_error
    words = ["ground", f"{look.word.lower()} pipe ({look.letters})"]
    if line.water is not None:
        words += ["static level (outlet closed)", "hydraulic grade line, HGL (outlet open)"]
    if any(run.joints for run in line.runs):
        words.append("joint of pipe")
    if line.profile.filled.any():
        words.append("no data, filled in")
    if stations_on(line.profile, content.survey):
        words.append("levelled")
    if np.isfinite(error):
        words.append(f"ground ± {show(error, 'level', content.units)}")
    x = box.left + 1.0
    for word in words:
        width = SAMPLE + 1.0 + text_width(word, SMALL)
        if x + width > box.right:
            break
        _sample(sheet, x, y, word, content)
        write(sheet, x + SAMPLE + 1.0, y, word, va="center_baseline")
        x += width + GAP


def _sample(sheet: Axes, x: float, y: float, word: str, content: SheetContent) -> None:
    ends, level = [x, x + SAMPLE], [y, y]
    if word == "ground":
        rule(sheet, ends, level, 1.0, color=GROUND)
    elif word.startswith("no data"):
        rule(sheet, ends, level, 0.8, color=GROUND, ls=FILLED)
    elif word == "levelled":
        rule(sheet, ends, level, 2.0)
        sheet.plot([x + SAMPLE / 2.0], [y + 1.0], "^", markersize=6.0, color=INK)
    elif word == "joint of pipe":
        pipe_stroke(sheet, ends, level, content.line.role, PIPE_WEIGHT)
        joint(sheet, x + SAMPLE / 2.0, y)
    elif word.startswith("ground"):
        ribbon = Rectangle((x, y - 1.1), SAMPLE, 2.2, facecolor=DOUBT, edgecolor="none")
        sheet.add_patch(ribbon)
        rule(sheet, ends, level, 1.0, color=GROUND)
    elif word.startswith("static"):
        rule(sheet, ends, level, 0.7, ls=CLOSED)
    elif word.startswith("hydraulic"):
        rule(sheet, ends, level, 0.9, color=ROLES["delivery"].colour, ls=OPEN)
    else:
        pipe_stroke(sheet, ends, level, content.line.role, PIPE_WEIGHT)
