"""The words on the section's lines, each where it stands clearest of the others."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import INK, ROLES
from planner.output.sheets.ink import FIGURE, SMALL, text_width
from planner.output.sheets.place import SectionPlace, curves
from planner.output.sheets.reach import Reach
from planner.output.sheets.section import clipped
from planner.output.sheets.taken import Spot, Taken, extent, put
from planner.profile.value import FloatArray
from planner.record.value import Line

CLEAR = 6.0  # mm; farther apart counts no more
EDGE = 12.0  # mm kept from the ends of the line
TRIES = 60
OVER, UNDER = 2.0, -2.2  # mm from a line to the middle of its word
WATER = ("static (closed)", "HGL (open)")


def draw_letters(sheet: Axes, place: SectionPlace, line: Line, reach: Reach, taken: Taken) -> None:
    """The role's letters on the pipe, "static" and "HGL" on the water levels."""
    words = ["", ROLES[line.role].letters, *WATER]
    colours = [INK, ROLES[line.role].colour, INK, ROLES["delivery"].colour]
    drawn = []
    x: FloatArray = np.zeros(0)
    for levels in curves(line):
        runs, inside = clipped(line, reach, levels)
        x = place.x(runs)
        drawn.append(place.y(inside))
    for own in range(1, len(drawn)):
        pipe = own == 1
        size, weight = (FIGURE, "bold") if pipe else (SMALL, "normal")
        spot = _clearest(x, drawn, own, taken, words[own], size)
        if spot is not None:
            put(sheet, taken, words[own], [spot], size, color=colours[own], weight=weight)


def _clearest(
    x: FloatArray, drawn: list[FloatArray], own: int, taken: Taken, word: str, size: float
) -> Spot | None:
    """Where along the line, over or under it, a word stands farthest from other lines."""
    best: tuple[float, Spot] | None = None
    width = text_width(word, size)
    for at in np.linspace(x[0] + EDGE, x[-1] - EDGE, TRIES) if x[-1] - x[0] > 3 * EDGE else ():
        near = np.abs(x - at)
        window = near <= max(width / 2.0 + 1.0, float(near.min()))
        for side in (OVER, UNDER):
            y = float(np.interp(at, x, drawn[own])) + side
            spot = Spot(float(at), y)
            if not np.isfinite(y) or not taken.free(extent(word, spot, size, "bold")):
                continue
            clear = _clearance([levels[window] for levels in drawn], own, side < 0.0)
            if np.isfinite(clear) and (best is None or clear > best[0] + 1e-9):
                best = (clear, spot)
    return None if best is None else best[1]


def _clearance(levels: list[FloatArray], own: int, under: bool) -> float:
    """Room [mm] over (or under) one line before the next, less what its own tilt takes."""
    mine = levels[own]
    if not np.all(np.isfinite(mine)):
        return -np.inf
    clear = CLEAR
    for other, theirs in enumerate(levels):
        gap = (theirs - mine) * (-1.0 if under else 1.0)
        ahead = gap[np.isfinite(gap) & (gap > -0.3)]
        if other != own:
            clear = min(clear, float(ahead.min(initial=CLEAR)))
    return clear - float(np.ptp(mine)) / 2.0
