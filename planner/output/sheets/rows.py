"""The data rows under the section: figures at marks, stretches, and remarks."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR, INK
from planner.output.sheets.columns import Columns, figure_rows, head_rows
from planner.output.sheets.content import SheetContent
from planner.output.sheets.ink import SMALL, fitted, rule, text_width, write
from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import ROW, Box, Layout
from planner.output.sheets.place import SectionPlace
from planner.output.sheets.reach import Reach
from planner.output.sheets.stretches import Cells, Remark, remarks, stretch_rows
from planner.output.sheets.taken import Spot, Taken, extent, put
from planner.profile.value import FloatArray

LANES = 2  # lines of the remarks
LANE = 3.4  # mm
LEAST = 3.0  # mm; a narrower stretch keeps its bounds and loses its words


def rows_height(content: SheetContent, measure: Measure) -> float:
    """Height of all rows [mm]."""
    start = np.zeros(1)
    count = len(figure_rows(content, start, measure)) + 3
    count += len(head_rows(content.line, start, measure))
    count += content.line.water is not None and np.isfinite(content.line.water.flow)
    count += any(area.role == "owner" for area in content.areas)
    return count * ROW + LANES * LANE


def draw_rows(
    sheet: Axes,
    parts: Layout,
    place: SectionPlace,
    content: SheetContent,
    reach: Reach,
    columns: tuple[FloatArray, float],
    measure: Measure,
) -> None:
    """Ruled rows with a column of figures at each mark.

    `columns` are the chainages of the marks [m] and the size of type of their figures [pt].
    """
    rows, (marks, size) = parts.rows, columns
    over, under = stretch_rows(content, reach, place.scales.horizontal, measure)
    named: list[Columns | Cells] = [
        *figure_rows(content, marks, measure),
        *over,
        *head_rows(content.line, marks, measure),
        *under,
    ]
    profile = content.line.profile
    across = place.x(np.interp(marks, profile.chainage, profile.run))
    for x in across:
        rule(sheet, [x, x], [rows.top - 0.9, rows.top], 0.5)
    for number, row in enumerate(named):
        y = rows.top - ROW * (number + 0.5)
        _name(sheet, parts, y, row.name)
        if isinstance(row, Columns):
            _figures(sheet, across, y, row, size)
        else:
            _stretches(sheet, place, y, row, size)
    bottom = rows.top - ROW * len(named)
    _name(sheet, parts, (bottom + rows.bottom) / 2.0, "Remarks")
    _remarks(sheet, place, Box(rows.left, rows.bottom, rows.right, bottom), content, reach, measure)
    _ruling(sheet, parts, len(named))


def _name(sheet: Axes, parts: Layout, y: float, name: str) -> None:
    write(sheet, parts.frame.left + 1.2, y, name, va="center_baseline")


def _figures(sheet: Axes, across: FloatArray, y: float, row: Columns, size: float) -> None:
    weight = "bold" if row.strong else "normal"
    for x, figure in zip(across, row.figures, strict=True):
        write(sheet, float(x), y, figure, size, weight=weight, ha="center", va="center_baseline")


def _stretches(sheet: Axes, place: SectionPlace, y: float, row: Cells, size: float) -> None:
    """Each stretch between its bounds, with the fullest words that fit it."""
    half = ROW / 2.0
    for cell in row.cells:
        x0, x1 = place.x([cell.start, cell.end])
        for x in (x0, x1):
            rule(sheet, [x, x], [y - half, y + half], 0.5)
        room = float(x1 - x0) - 1.0
        text = next((w for w in cell.words if text_width(w, size) <= room), None)
        own = size
        if text is None and room >= LEAST:
            text, own = fitted(cell.words[-1], room, SMALL), SMALL
        if text and text != "…":
            middle = float(x0 + x1) / 2.0
            write(sheet, middle, y, text, own, ha="center", va="center_baseline")


def _remarks(
    sheet: Axes,
    place: SectionPlace,
    box: Box,
    content: SheetContent,
    reach: Reach,
    measure: Measure,
) -> None:
    """Each remark under its place, in the lane where there is room; the rest are counted."""
    taken = Taken(box)
    lanes = [box.top - LANE * (number + 0.5) - 0.1 for number in range(LANES)]
    more = extent("+ 99 more", Spot(box.right - 9.0, lanes[-1]))
    left_out = 0
    found = remarks(content, reach, measure)
    if len(found) > 6:
        taken.take(more)
    for remark in found:
        left_out += not _remark(sheet, place, taken, lanes, remark)
    if left_out:
        text = f"+ {left_out} more"
        write(sheet, box.right - 9.0, lanes[-1], text, ha="center", va="center_baseline")


def _remark(
    sheet: Axes, place: SectionPlace, taken: Taken, lanes: list[float], remark: Remark
) -> bool:
    text = fitted(remark.text, 40.0, SMALL)
    x, half = float(place.x(remark.run)), text_width(text, SMALL) / 2.0 + 0.6
    middle = min(max(x, taken.within.left + half), taken.within.right - half)
    aside = (0.0, half - 0.8, 0.8 - half)  # its place stays over some letter of it
    spots = [Spot(middle + d, y) for d in aside for y in lanes]
    inside = [
        s for s in spots if taken.within.left < s.x - half and s.x + half < taken.within.right
    ]
    spot = put(sheet, taken, text, inside, va="center_baseline", path_effects=[])
    if spot is not None:
        rule(sheet, [x, x], [taken.within.top - 0.8, taken.within.top], 0.9)
    return spot is not None


def _ruling(sheet: Axes, parts: Layout, count: int) -> None:
    rows, frame = parts.rows, parts.frame
    levels = [rows.top - ROW * number for number in range(count + 1)]
    for y in levels:
        strong = y == levels[0]
        width, colour = (0.7, INK) if strong else (0.3, HAIR)
        rule(sheet, [frame.left, frame.right], [y, y], width, color=colour, zorder=0.5)
    rule(sheet, [frame.left, frame.right], [rows.bottom, rows.bottom], 0.7)
    rule(sheet, [rows.left, rows.left], [rows.bottom, rows.top], 0.5)
