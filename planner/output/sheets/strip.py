"""Where the plan strip stands: the land turned so that each pipe lies over its own section.

A line with bends is drawn in panels, each turned by itself, so that a chainage on the plan stands
over the same chainage of the section within `DRIFT`.
"""

from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString

from planner.output.sheets.paper import Box
from planner.output.sheets.place import SectionPlace
from planner.output.sheets.reach import Reach
from planner.output.sheets.scales import on_paper
from planner.profile.value import FloatArray, Profile

DRIFT = 2.5  # mm by which a chainage on the plan may stand beside the section's
NARROWEST = 24.0  # mm, a panel
BESIDE = 7.0  # mm of land shown at least on either side of the line


@dataclass(frozen=True, eq=False, slots=True)
class Turned:
    """A plan frame: u along a direction, v to its left [m], from `origin`.

    `turn` is the direction [rad, anticlockwise from east].
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


@dataclass(frozen=True, eq=False, slots=True)
class Panel:
    """A part of the strip in its box [mm], at 1:`scale`; it holds the line's `reach`.

    `west`, `south` are u, v [m] at the box's lower left corner.
    """

    box: Box
    scale: int
    reach: Reach
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


@dataclass(frozen=True, eq=False, slots=True)
class StripPlace:
    """The panels of a plan strip, from left to right."""

    box: Box
    scale: int
    panels: tuple[Panel, ...]

    def panel(self, run: float) -> Panel:
        """The panel that shows the line at a horizontal distance from its start [m]."""
        return next((one for one in self.panels if run <= one.reach.end), self.panels[-1])


def turned(profile: Profile, reach: Reach) -> Turned:
    """The frame in which a part of a line runs left to right, its origin midway between its ends.

    A part that comes back to where it began is turned by its farthest point.
    """
    xy = points_of(profile, reach)
    away = np.hypot(*(xy - xy[0]).T)
    far = xy[-1] if away[-1] > 0.3 * away.max() else xy[int(away.argmax())]
    angle = float(np.arctan2(far[1] - xy[0, 1], far[0] - xy[0, 0]))
    middle = (xy[0] + xy[-1]) / 2.0
    return Turned((float(middle[0]), float(middle[1])), angle)


def points_of(profile: Profile, reach: Reach) -> FloatArray:
    """(n, 2) x, y of a part of a line, its ends included."""
    inside = profile.run[(profile.run > reach.start) & (profile.run < reach.end)]
    return at_runs(profile, np.concatenate([[reach.start], inside, [reach.end]]))


def at_runs(profile: Profile, runs: FloatArray) -> FloatArray:
    """(n, 2) x, y at horizontal distances from the start [m]."""
    return np.column_stack([np.interp(runs, profile.run, profile.xy[:, axis]) for axis in (0, 1)])


def place_strip(profile: Profile, box: Box, section: SectionPlace, reach: Reach) -> StripPlace:
    """The strip over a section, at the section's own scale along."""
    scale = section.scales.horizontal
    room = max(box.height - 2.0 * BESIDE, 10.0)
    parts = _split(profile, reach, scale, room)
    sides = [box.left, *(float(section.x(part.start)) for part in parts[1:]), box.right]
    panels = []
    for part, left, right in zip(parts, sides[:-1], sides[1:], strict=True):
        own = Box(left, box.bottom, right, box.top)
        middle = float(section.x((part.start + part.end) / 2.0))
        panels.append(_panel(profile, own, scale, part, middle))
    return StripPlace(box, scale, tuple(panels))


def _panel(profile: Profile, box: Box, scale: int, part: Reach, middle: float) -> Panel:
    """One part of the line in its box, its ends as far from the section's on both sides."""
    frame = turned(profile, part)
    v = frame.to_plan(points_of(profile, part))[:, 1]
    metre = on_paper(1.0, scale)
    west = -(middle - box.left) / metre
    south = float(v.min() + v.max()) / 2.0 - box.height / metre / 2.0
    return Panel(box, scale, part, frame, west, south)


def _split(profile: Profile, reach: Reach, scale: int, room: float) -> list[Reach]:
    """Parts of a line straight enough for a panel each; they meet at its sharpest bends."""
    if _straight(profile, reach, scale, room):
        return [reach]
    least = NARROWEST * scale / 1000.0
    inside = profile.run[(profile.run >= reach.start + least) & (profile.run <= reach.end - least)]
    if inside.size == 0:
        return [reach]
    chord = LineString(at_runs(profile, np.array([reach.start, reach.end])))
    if chord.length == 0.0:
        middle = float(inside[inside.size // 2])
    else:
        v = turned(profile, reach).to_plan(at_runs(profile, inside))[:, 1]
        start = turned(profile, reach).to_plan(at_runs(profile, np.array([reach.start])))[0, 1]
        middle = float(inside[int(np.argmax(np.abs(v - start)))])
    return [
        *_split(profile, Reach(reach.start, middle), scale, room),
        *_split(profile, Reach(middle, reach.end), scale, room),
    ]


def _straight(profile: Profile, reach: Reach, scale: int, room: float) -> bool:
    """Whether every chainage stands near enough to the section's, and all inside the strip."""
    inside = profile.run[(profile.run > reach.start) & (profile.run < reach.end)]
    runs = np.concatenate([[reach.start], inside, [reach.end]])
    uv = turned(profile, reach).to_plan(at_runs(profile, runs))
    drift = np.abs(uv[:, 0] - (runs - (reach.start + reach.end) / 2.0)).max()
    return bool(
        on_paper(float(drift), scale) <= DRIFT and on_paper(float(np.ptp(uv[:, 1])), scale) <= room
    )
