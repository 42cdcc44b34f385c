"""The data rows under the section: chainage, levels, depth and grade."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR
from planner.output.sheets.ink import rule, write
from planner.output.sheets.marks import grades
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import ROW, ROWS, Layout
from planner.output.sheets.place import SectionPlace, turns
from planner.profile.value import FloatArray
from planner.record.value import Line

FLAT = 5e-5  # rise over run that prints as 0.00 %


def draw_rows(
    sheet: Axes,
    parts: Layout,
    place: SectionPlace,
    line: Line,
    marks: FloatArray,
    measure: Measure,
) -> None:
    """Ruled rows with a column of figures at each chainage mark."""
    rows, profile = parts.rows, line.profile
    centres = [rows.top - ROW * (number + 0.5) for number in range(ROWS)]
    _ruling(sheet, parts, measure, centres)
    runs = np.interp(marks, profile.chainage, profile.run)
    ground = np.interp(marks, profile.chainage, profile.ground)
    pipe = np.interp(marks, profile.chainage, profile.pipe)
    for x, chainage, g, p in zip(place.x(runs), marks, ground, pipe, strict=True):
        figures = [measure.chainage(chainage), *map(measure.level, (g, p, g - p))]
        for y, figure in zip(centres, figures, strict=False):
            write(sheet, float(x), y, figure, ha="center", va="center_baseline")
        rule(sheet, [x, x], [rows.top - 0.9, rows.top], 0.5)
    _grades(sheet, place, line, centres[-1])


def _ruling(sheet: Axes, parts: Layout, measure: Measure, centres: list[float]) -> None:
    rows, frame = parts.rows, parts.frame
    for number in range(ROWS + 1):
        y = rows.top - ROW * number
        strong = number in {0, ROWS}
        width, colour = (0.6, "black") if strong else (0.3, HAIR)
        rule(sheet, [frame.left, frame.right], [y, y], width, color=colour)
    rule(sheet, [rows.left, rows.left], [rows.bottom, rows.top], 0.5)
    word, symbol = measure.level_word, measure.symbol
    names = (
        f"{measure.chainage_word}, {symbol}",
        f"Ground {word}, {symbol}",
        f"Pipe {word}, {symbol}",
        f"Depth, {symbol}",
        "Grade",
    )
    for y, name in zip(centres, names, strict=True):
        write(sheet, frame.left + 1.5, y, name, va="center_baseline")


def _grades(sheet: Axes, place: SectionPlace, line: Line, y: float) -> None:
    """Each stretch's grade with an arrow that points as the pipe does along the flow."""
    indices = tuple(point.index for point in turns(line))
    for stretch in grades(line.profile, indices, place.scales.horizontal):
        x0, x1 = place.x([stretch.start, stretch.end])
        for x in (x0, x1):
            rule(sheet, [x, x], [y - ROW / 2, y + ROW / 2], 0.4)
        text = grade_text(stretch.grade)
        write(sheet, float(x0 + x1) / 2, y, text, ha="center", va="center_baseline")


def grade_text(grade: float) -> str:
    """A grade along the flow, rise over run: arrow and percent."""
    if abs(grade) < FLAT:
        return "→ 0 %"
    percent = abs(grade) * 100.0
    figure = (
        f"{percent:.2f}" if percent < 1 else f"{percent:.1f}" if percent < 100 else f"{percent:.0f}"
    )
    return f"{'↗' if grade > 0 else '↘'} {figure} %"
