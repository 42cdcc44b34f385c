"""Where the plan strip stands: the land turned so that the line runs left to right, to scale."""

from dataclasses import dataclass

import numpy as np

from planner.output.sheets.measure import Measure
from planner.output.sheets.paper import Box
from planner.output.sheets.place import PAD
from planner.output.sheets.scales import fitting, on_paper
from planner.profile.value import FloatArray, Profile
from planner.record.value import Line

LOWEST, HIGHEST = 36.0, 66.0  # mm, heights of the strip
BESIDE = 11.0  # mm of land shown on either side of the line


@dataclass(frozen=True, eq=False, slots=True)
class Turned:
    """A plan frame: u along the line's chord, v to its left [m], from its start.

    `turn` is the chord's direction [rad, anticlockwise from east].
    """

    origin: tuple[float, float]
    turn: float

    def to_plan(self, xy: FloatArray) -> FloatArray:
        """(n, 2) u, v of points x, y."""
        offset = np.asarray(xy, dtype=np.float64).reshape(-1, 2) - self.origin
        return np.asarray(offset @ self._matrix, dtype=np.float64)

    def to_land(self, uv: FloatArray) -> FloatArray:
        """(n, 2) x, y of plan points."""
        return np.asarray(uv @ self._matrix.T + self.origin, dtype=np.float64)

    @property
    def _matrix(self) -> FloatArray:
        c, s = np.cos(self.turn), np.sin(self.turn)
        return np.array([[c, -s], [s, c]])


def turned(profile: Profile) -> Turned:
    """The frame in which a line runs left to right; a loop is turned by its farthest point."""
    start = profile.xy[0]
    away = np.hypot(*(profile.xy - start).T)
    far = profile.xy[-1] if away[-1] > 0.3 * away.max() else profile.xy[int(away.argmax())]
    angle = float(np.arctan2(far[1] - start[1], far[0] - start[0]))
    return Turned((float(start[0]), float(start[1])), angle)


def plan_scale(line: Line, width: float, section_scale: int, measure: Measure) -> int:
    """The section's own scale where the line's plan fits the tallest strip, else a smaller one."""
    uv = turned(line.profile).to_plan(line.profile.xy)
    along, aside = (float(extent) for extent in np.ptp(uv, axis=0))
    return max(
        section_scale,
        fitting(along, width - 2.0 * PAD, measure),
        fitting(aside, HIGHEST - 2.0 * BESIDE, measure),
    )


def strip_height(line: Line, scale: int) -> float:
    """Height of the strip [mm] that holds the line's plan at a scale."""
    uv = turned(line.profile).to_plan(line.profile.xy)
    wanted = on_paper(float(np.ptp(uv[:, 1])), scale) + 2.0 * BESIDE
    return float(np.clip(wanted, LOWEST, HIGHEST))


@dataclass(frozen=True, eq=False, slots=True)
class StripPlace:
    """A plan in its box [mm], at 1:`scale`; `west`, `south` are u, v at the box's corner [m]."""

    box: Box
    scale: int
    frame: Turned
    west: float
    south: float

    def mm(self, xy: FloatArray) -> FloatArray:
        """(n, 2) millimetres on the sheet of points x, y."""
        uv = self.frame.to_plan(xy) - [self.west, self.south]
        return np.asarray(uv * 1000.0 / self.scale + [self.box.left, self.box.bottom])

    @property
    def limits(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """U and v limits of the box [m]."""
        metre = on_paper(1.0, self.scale)
        return (
            (self.west, self.west + self.box.width / metre),
            (self.south, self.south + self.box.height / metre),
        )


def place_strip(line: Line, box: Box, scale: int) -> StripPlace:
    """The plan centred in its box, each chainage as nearly over the section's as bends allow."""
    frame = turned(line.profile)
    uv = frame.to_plan(line.profile.xy)
    metre = on_paper(1.0, scale)
    shift = float(np.mean(line.profile.run - uv[:, 0]))
    left = np.clip(
        shift + uv[:, 0].min(),
        0.0,
        max((box.width - 2.0 * PAD) / metre - float(np.ptp(uv[:, 0])), 0.0),
    )
    west = float(uv[:, 0].min() - left - PAD / metre)
    middle = float(uv[:, 1].min() + uv[:, 1].max()) / 2.0
    return StripPlace(box, scale, frame, west, middle - box.height / metre / 2.0)
