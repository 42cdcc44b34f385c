"""The data rows under the section: chainage, levels, depth, pressure heads and grade."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR
from planner.output.sheets.ink import rule, write
from planner.output.sheets.marks import STRETCH, grades
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import ROW, ROWS, Layout
from planner.output.sheets.place import SectionPlace, turns
from planner.profile.value import FloatArray
from planner.record.value import Line

FLAT = 5e-5  # rise over run that prints as 0.00 %


def row_count(line: Line) -> int:
    """How many rows a line has: two more where its pressure is known."""
    return ROWS + (0 if line.pressure is None else 2)


def draw_rows(
    sheet: Axes,
    parts: Layout,
    place: SectionPlace,
    line: Line,
    marks: FloatArray,
    measure: Measure,
) -> None:
    """Ruled rows with a column of figures at each chainage mark."""
    rows = parts.rows
    named = _figures(line, marks, measure)
    centres = [rows.top - ROW * (number + 0.5) for number in range(len(named) + 1)]
    _ruling(sheet, parts, [*(name for name, _ in named), "Grade"], centres)
    across = place.x(np.interp(marks, line.profile.chainage, line.profile.run))
    for (_, figures), y in zip(named, centres, strict=False):
        for x, figure in zip(across, figures, strict=True):
            write(sheet, float(x), y, figure, ha="center", va="center_baseline")
    for x in across:
        rule(sheet, [x, x], [rows.top - 0.9, rows.top], 0.5)
    _grades(sheet, place, line, centres[-1])


def _figures(line: Line, marks: FloatArray, measure: Measure) -> list[tuple[str, list[str]]]:
    """Name of each row of figures, and its figure at each mark."""
    profile, pressure = line.profile, line.pressure
    word, symbol = measure.level_word, measure.symbol
    ground = np.interp(marks, profile.chainage, profile.ground)
    pipe = np.interp(marks, profile.chainage, profile.pipe)
    named = [
        (f"{measure.chainage_word}, {symbol}", [measure.chainage(mark) for mark in marks]),
        (f"Ground {word}, {symbol}", [measure.level(level) for level in ground]),
        (f"Pipe {word}, {symbol}", [measure.level(level) for level in pipe]),
        (f"Depth, {symbol}", [measure.level(depth) for depth in ground - pipe]),
    ]
    if pressure is None:
        return named
    for name, head in (("open", pressure.heads.open), ("closed", pressure.heads.closed)):
        at = np.interp(marks, profile.chainage, head)
        named.append((f"Head, outlet {name}, {symbol}", [measure.head(metres) for metres in at]))
    return named


def _ruling(sheet: Axes, parts: Layout, names: list[str], centres: list[float]) -> None:
    rows, frame = parts.rows, parts.frame
    for number in range(len(names) + 1):
        y = rows.top - ROW * number
        strong = number in {0, len(names)}
        width, colour = (0.6, "black") if strong else (0.3, HAIR)
        rule(sheet, [frame.left, frame.right], [y, y], width, color=colour)
    rule(sheet, [rows.left, rows.left], [rows.bottom, rows.top], 0.5)
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
        if x1 - x0 < STRETCH - 1e-6:  # room for the arrow alone
            text = text[0]
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
