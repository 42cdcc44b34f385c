"""Where a line's section stands on the sheet: metres to millimetres, at true scales."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.output.sheets.measure import Measure, round_step
from planner.output.sheets.paper import Box
from planner.output.sheets.scales import Scales, choose_scales, on_paper
from planner.profile.value import FloatArray, HighPoint, LowPoint
from planner.record.value import Line

PAD = 7.0  # mm left and right, so that the figures of the end marks stand inside
HEADROOM = 19.0  # mm over the highest level: names, findings, chevrons
FOOTROOM = 5.0  # mm under the lowest


@dataclass(frozen=True, slots=True)
class SectionPlace:
    """A section in its box [mm], drawn at its scales above the level `datum` [m]."""

    box: Box
    scales: Scales
    datum: float

    def x(self, run: npt.ArrayLike) -> FloatArray:
        """Millimetres across the sheet of horizontal distances [m]."""
        start = self.box.left + PAD
        return start + np.asarray(run, dtype=np.float64) * 1000.0 / self.scales.horizontal

    def y(self, level: npt.ArrayLike) -> FloatArray:
        """Millimetres up the sheet of levels [m]."""
        above = np.asarray(level, dtype=np.float64) - self.datum
        return self.box.bottom + above * 1000.0 / self.scales.vertical

    @property
    def run_limits(self) -> tuple[float, float]:
        """Horizontal distances [m] at the box's left and right."""
        metre = on_paper(1.0, self.scales.horizontal)
        return -PAD / metre, (self.box.width - PAD) / metre

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


def level_range(line: Line) -> tuple[float, float]:
    """Lowest and highest level the section must hold [m]."""
    levels = np.concatenate(curves(line))
    known = levels[np.isfinite(levels)]
    return (float(known.min()), float(known.max())) if known.size else (0.0, 0.0)


def place_section(line: Line, box: Box, measure: Measure) -> SectionPlace:
    """The line's section in a box [mm], as large as round scales allow."""
    low, high = level_range(line)
    room = box.height - HEADROOM - FOOTROOM
    run = float(line.profile.run[-1])
    scales = choose_scales(run, high - low, box.width - 2.0 * PAD, room, measure)
    left_over = max(room - on_paper(high - low, scales.vertical), 0.0)
    lowest = low - (FOOTROOM + left_over / 2.0) * scales.vertical / 1000.0
    return SectionPlace(box, scales, _datum(lowest, left_over / 2.0, scales.vertical, measure))


def _datum(lowest: float, room: float, scale: int, measure: Measure) -> float:
    """The roundest level [m] under `lowest` that lies at most `room` mm, or 1 mm, lower."""
    for apart in (8.0, 4.0, 2.0, 1.0):
        step = round_step(apart * scale / 1000.0 / measure.metres) * measure.metres
        datum = float(np.floor(lowest / step + 1e-9) * step)
        if on_paper(lowest - datum, scale) <= room:
            return datum
    return datum
