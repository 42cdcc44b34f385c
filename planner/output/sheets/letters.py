"""The words on the section's lines, each where it stands clearest of the others."""

import numpy as np
from matplotlib.axes import Axes

from planner.output.look import INK, ROLES
from planner.output.sheets.ink import SMALL, halo, text_width, write
from planner.output.sheets.place import SectionPlace, curves, turns
from planner.profile.value import FloatArray
from planner.record.value import Line

CLEAR = 6.0  # mm; farther apart counts no more
EDGE = 12.0  # mm kept from the ends of the line
CROWDED = 9.0  # mm kept from the marks of high and low points
TRIES = 60


def draw_letters(sheet: Axes, place: SectionPlace, line: Line) -> None:
    """The role's letters on the pipe, "closed" and "open" on the water levels."""
    words = ["", ROLES[line.role].letters, "closed", "open"]
    colours = [INK, ROLES[line.role].colour, INK, ROLES["delivery"].colour]
    drawn = [place.y(levels) for levels in curves(line)]
    x = place.x(line.profile.run)
    marked = [float(place.x(point.run_m)) for point in turns(line)]
    taken = [(at, CROWDED) for at in marked]
    for own in range(1, len(drawn)):
        width = text_width(words[own], SMALL)
        spot = _clearest(x, drawn, own, taken, width)
        if spot is None:
            continue
        at, under = spot
        taken.append((at, width + 6.0))
        y = float(np.interp(at, x, drawn[own]))
        write(
            sheet,
            at,
            y - 1.0 if under else y + 1.0,
            words[own],
            color=colours[own],
            weight="bold" if own == 1 else "normal",
            ha="center",
            va="top" if under else "bottom",
            path_effects=halo(),
            zorder=7,
        )


def _clearest(
    x: FloatArray,
    drawn: list[FloatArray],
    own: int,
    taken: list[tuple[float, float]],
    width: float,
) -> tuple[float, bool] | None:
    """Where along the line, and whether under it, a word stands farthest from other lines."""
    best: tuple[float, float, bool] | None = None
    for at in np.linspace(x[0] + EDGE, x[-1] - EDGE, TRIES) if x[-1] - x[0] > 3 * EDGE else ():
        if any(abs(at - other) < apart for other, apart in taken):
            continue
        near = np.abs(x - at)
        window = near <= max(width / 2.0 + 1.0, float(near.min()))
        for under in (False, True):
            clear = _clearance([levels[window] for levels in drawn], own, under)
            if best is None or clear > best[0] + 1e-9:
                best = (clear, float(at), under)
    return None if best is None else (best[1], best[2])


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
