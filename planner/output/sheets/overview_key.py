"""The right of the first sheet: norths, legend, index of sheets, cautions."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import HAIR, POINT_WORDS, ROLES, STREAM
from planner.output.sheets.ink import (
    FIGURE,
    MEDIUM,
    SMALL,
    fitted,
    leading,
    rule,
    text_width,
    wrapped,
    write,
)
from planner.output.sheets.land import AREA_DASH
from planner.output.sheets.measure import Measure
from planner.output.sheets.north import North, north_at, north_words
from planner.output.sheets.paper import Box
from planner.output.sheets.pipe import pipe_stroke
from planner.output.sheets.plan_marks import letters_of, north_arrow
from planner.output.sheets.symbols import point_symbol
from planner.record.value import Plan
from planner.wording.cautions import cautions

MARGIN = 3.0  # mm
STEP = 4.3  # mm from one entry to the next
SAMPLE = 12.0  # mm of a stroke
NORTH = 27.0  # mm, height of the norths' part


def draw_key(
    sheet: Axes,
    box: Box,
    plan: Plan,
    interval: float,
    stakes: float,
    index: tuple[tuple[str, int], ...],
    units: Measure,
) -> None:
    """Norths on top, the legend under them, the index, and as many cautions as there is room for.

    Parameters
    ----------
    interval, stakes : float
        Between two contours, and between two stakes that are named [m].
    index : tuple of (str, int)
        Lines and their sheets; the last is "" and the number of sheets that end the set.
    """
    _norths(sheet, Box(box.left, box.top - NORTH, box.right, box.top), plan)
    y = _legend(sheet, box, box.top - NORTH - 5.0, plan, interval, stakes, units)
    y = _index(sheet, box, y - 3.0, index)
    _cautions(sheet, box, y - 2.0, plan)


def _norths(sheet: Axes, box: Box, plan: Plan) -> None:
    """Three arrows from one foot: of the grid upright, true and magnetic as they turn from it."""
    middle = np.mean(np.vstack([line.profile.xy for line in plan.lines]), axis=0)
    north = north_at(plan.terrain, (float(middle[0]), float(middle[1])), plan.made)
    rule(sheet, [box.left, box.right], [box.bottom] * 2, 0.4)
    foot = np.array([box.left + 16.0, box.bottom + 3.0])
    arrows = [(0.0, 9.0, "G")]
    if north is not None:
        arrows = _arrows(north)
    for turn, half, letter in arrows:
        angle = np.radians(turn)
        direction = np.array([np.sin(angle), np.cos(angle)])
        north_arrow(sheet, foot + direction * half, direction, half, letter)
    words = ["The data has no place on Earth: grid north only."]
    if north is not None:
        spread = "G grid, T true, M magnetic: arrows are spread, go by the figures."
        words = [*north_words(north), spread]
    lines = [line for text in words for line in wrapped(text, box.width - 36.0, SMALL)]
    for number, text in enumerate(lines):
        write(sheet, box.left + 34.0, box.top - 4.6 - number * leading(SMALL), text)


def _arrows(north: North) -> list[tuple[float, float, str]]:
    """Turn on paper [degrees clockwise], half length [mm] and letter of each arrow."""
    arrows = [(0.0, 9.0, "G"), (_apart(-north.grid), 7.2, "T")]
    if north.magnetic is not None:
        turn = _apart(north.magnetic - north.grid)
        if abs(turn - arrows[1][0]) < LEAST_APART:
            turn += LEAST_APART if turn >= arrows[1][0] else -LEAST_APART
        if abs(turn) < LEAST_APART / 2.0:
            turn = LEAST_APART if arrows[1][0] <= 0.0 else -LEAST_APART
        arrows.append((turn, 5.6, "M"))
    return arrows


LEAST_APART = 14.0  # degrees, so that arrows and letters can be told apart


def _apart(turn: float) -> float:
    """A turn drawn at least so wide that it is seen to be one, and to which side."""
    side = 1.0 if turn >= 0.0 else -1.0
    return side * max(abs(turn), LEAST_APART)


def _legend(
    sheet: Axes, box: Box, y: float, plan: Plan, interval: float, stakes: float, units: Measure
) -> float:
    """Lines, points and what the ground shows, in two columns; the height under them [mm]."""
    left, middle = box.left + MARGIN, box.left + box.width / 2.0
    write(sheet, left, y, "Legend", MEDIUM, weight="bold")
    roles = list(dict.fromkeys(line.role for line in plan.lines))
    top = y - STEP - 0.6
    for number, role in enumerate(roles):
        at, look = top - number * STEP, ROLES[role]
        pipe_stroke(sheet, [left, left + SAMPLE], [at + 0.9] * 2, role, 0.75)
        write(sheet, left + SAMPLE + 1.5, at, f"{look.letters}  {look.word.lower()} line")
    lowest = top - len(roles) * STEP
    at = top
    seen = set()
    for point, letter in letters_of(plan.points, powered=plan.scheme == "powered"):
        if point.role == "way" or point.role in seen:
            continue
        seen.add(point.role)
        word = "Pump" if letter == "P" else POINT_WORDS[point.role]
        point_symbol(sheet, middle + 3.2, at + 0.4, point.role, letter)
        write(
            sheet,
            middle + 9.0,
            at - 0.4,
            word.lower() + (" (number)" if point.role == "outlet" else ""),
        )
        at -= 7.4
    return _ground_key(sheet, left, min(lowest, at + 1.5), plan, (interval, stakes), units)


def _ground_key(
    sheet: Axes, left: float, y: float, plan: Plan, apart: tuple[float, float], units: Measure
) -> float:
    interval, stakes = apart
    entries: list[tuple[str, str]] = []
    if np.isfinite(interval):
        entries.append(("contour", f"contours every {interval / units.metres:g} {units.symbol}"))
    entries.append(
        (
            "tick",
            f"stakes named every {stakes / units.metres:g} {units.symbol}",
        )
    )
    if plan.streams:
        entries.append(("stream", "stream, found in the ground"))
    if plan.areas:
        entries.append(("area", "area or owner's land, named"))
    for kind, text in entries:
        ends, at = [left, left + SAMPLE], [y + 0.9] * 2
        if kind == "contour":
            rule(sheet, ends, at, 0.6, color=HAIR)
        elif kind == "stream":
            rule(sheet, ends, at, 1.4, color=STREAM)
        elif kind == "area":
            rule(sheet, ends, at, 0.8, ls=AREA_DASH)
        else:
            middle = left + SAMPLE / 2.0
            rule(sheet, ends, at, 1.4)
            rule(sheet, [middle, middle], [y - 0.4, y + 2.2], 0.8)
        write(sheet, left + SAMPLE + 1.5, y, text)
        y -= STEP
    return y


def _index(sheet: Axes, box: Box, y: float, index: tuple[tuple[str, int], ...]) -> float:
    """Which sheets show what; the height under it [mm]."""
    left, right = box.left + MARGIN, box.right - MARGIN
    write(sheet, left, y, "Sheets", MEDIUM, weight="bold")
    lines: dict[str, list[int]] = {}
    for name, number in index[:-1]:
        lines.setdefault(name, []).append(number)
    last = 1 + len(index[:-1])
    pages = index[-1][1]
    entries = [("Site plan and index", [1]), *lines.items()]
    entries.append(("Findings, water figures, cautions", list(range(last + 1, last + pages + 1))))
    y -= STEP + 0.6
    for count, (name, numbers) in enumerate(entries):
        if y < box.bottom + 6.0:
            write(sheet, left, y, f"and {len(entries) - count} more, see each sheet's title")
            return y - STEP
        said = f"{numbers[0]}" if len(numbers) == 1 else f"{numbers[0]} – {numbers[-1]}"
        room = right - left - text_width(said, FIGURE, "bold") - 3.0
        write(sheet, left, y, fitted(name, room, SMALL))
        write(sheet, right, y, said, FIGURE, weight="bold", ha="right")
        rule(sheet, [left, right], [y - 1.1] * 2, 0.25, color=HAIR)
        y -= STEP
    return y


def _cautions(sheet: Axes, box: Box, y: float, plan: Plan) -> None:
    """The first cautions whole, as many as there is room for."""
    width, step = box.width - 2.0 * MARGIN, leading(SMALL)
    for number, text in enumerate(cautions(plan)):
        lines = wrapped(("Cautions: " if number == 0 else "") + text, width, SMALL)
        if y - step * len(lines) < box.bottom + 1.0:
            return
        for line in lines:
            write(sheet, box.left + MARGIN, y, line)
            y -= step
