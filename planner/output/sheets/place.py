"""Where a line's section stands on the sheet: metres to millimetres, at true scales."""

from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.paper import Box
from planner.output.sheets.reach import Reach
from planner.output.sheets.scales import Scales, choose_scales, on_paper
from planner.profile.value import FloatArray, HighPoint, LowPoint
from planner.record.value import Line

PAD = 8.0  # mm left and right, so that the figures of the end marks stand inside
HEADROOM = 15.5  # mm over the highest level: names, findings, chevrons
FOOTROOM = 4.5  # mm under the lowest
SHRINK = 2.5  # times: so much smaller a section may get for the water levels to be in it


@dataclass(frozen=True, slots=True)
class SectionPlace:
    """A part of a line's section in its box [mm], at its scales above the level `datum` [m].

    `first` is the horizontal distance from the line's start at which it begins [m].
    """

    box: Box
    scales: Scales
    datum: float
    first: float = 0.0

    def x(self, run: npt.ArrayLike) -> FloatArray:
        """Millimetres across the sheet of horizontal distances [m]."""
        beyond = np.asarray(run, dtype=np.float64) - self.first
        return self.box.left + PAD + beyond * 1000.0 / self.scales.horizontal

    def y(self, level: npt.ArrayLike) -> FloatArray:
        """Millimetres up the sheet of levels [m]."""
        above = np.asarray(level, dtype=np.float64) - self.datum
        return self.box.bottom + above * 1000.0 / self.scales.vertical

    @property
    def run_limits(self) -> tuple[float, float]:
        """Horizontal distances [m] at the box's left and right."""
        metre = on_paper(1.0, self.scales.horizontal)
        return self.first - PAD / metre, self.first + (self.box.width - PAD) / metre

    @property
    def level_limits(self) -> tuple[float, float]:
        """Levels [m] at the box's bottom and top."""
        return self.datum, self.datum + self.box.height * self.scales.vertical / 1000.0


def curves(line: Line) -> tuple[FloatArray, ...]:
    """Every level drawn over the line's run: ground, pipe, and water levels where known."""
    water = line.water
    levels = (line.profile.ground, line.profile.pipe)
    return levels if water is None else (*levels, water.closed_level, water.open_level)


def turns(line: Line) -> tuple[HighPoint | LowPoint, ...]:
    """High points, then low points."""
    return (*line.high_points, *line.low_points)


def level_range(line: Line, reach: Reach, *, water: bool = True) -> tuple[float, float]:
    """Lowest and highest level of a part of a line [m], of the water levels too or without."""
    run = line.profile.run
    ends = np.array([reach.start, reach.end])
    inside = (run >= reach.start) & (run <= reach.end)
    levels = np.concatenate(
        [
            part
            for curve in (curves(line) if water else curves(line)[:2])
            for part in (curve[inside], np.interp(ends, run, curve))
        ]
    )
    known = levels[np.isfinite(levels)]
    return (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)


def section_scales(
    line: Line, parts: tuple[Reach, ...], box: Box, measure: Measure, along: int | None = None
) -> Scales:
    """The scales that hold every one of a line's parts, the water levels too if they may.

    Where the water stands far over the pipe the section is kept large enough to dig by, and only
    the rows and a word at its top tell the water's levels.

    Parameters
    ----------
    along : int, optional
        The n of the scale along, where it is settled.
    """
    width, room = box.width - 2.0 * PAD, box.height - HEADROOM - FOOTROOM
    longest = max(part.length for part in parts)

    def holding(*, water: bool) -> Scales:
        rise = max(float(np.ptp(level_range(line, part, water=water))) for part in parts)
        return choose_scales(longest, rise, width, room, measure, along)

    close, full = holding(water=False), holding(water=True)
    shrinks = full.vertical > SHRINK * close.vertical
    flattens = full.exaggeration < min(close.exaggeration, 1.0)
    return close if shrinks or flattens else full


def place_section(
    line: Line, box: Box, measure: Measure, reach: Reach, scales: Scales
) -> SectionPlace:
    """A part of the line's section in its box [mm], at those scales."""
    low, high = level_range(line, reach)
    room = box.height - HEADROOM - FOOTROOM
    if on_paper(high - low, scales.vertical) > room * (1.0 + 1e-9):
        low, high = level_range(line, reach, water=False)
    left_over = max(room - on_paper(high - low, scales.vertical), 0.0)
    lowest = low - (FOOTROOM + left_over / 2.0) * scales.vertical / 1000.0
    datum = _datum(lowest, left_over / 2.0, scales.vertical, measure)
    return replace(SectionPlace(box, scales, datum), first=reach.start)


def _datum(lowest: float, room: float, scale: int, measure: Measure) -> float:
    """The roundest level [m] under `lowest` that lies at most `room` mm, or 1 mm, lower."""
    for apart in (8.0, 4.0, 2.0, 1.0):
        step = round_step(apart * scale / 1000.0 / measure.metres) * measure.metres
        datum = float(np.floor(lowest / step + 1e-9) * step)
        if on_paper(lowest - datum, scale) <= room:
            return datum
    return datum
