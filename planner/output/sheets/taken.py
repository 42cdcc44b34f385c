"""Where words already stand on a sheet, so that no two ever overlap."""

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import numpy as np
from matplotlib.axes import Axes

from planner.output.sheets.ink import POINTS_PER_MM, SMALL, halo, text_width, write
from planner.output.sheets.paper import Box
from planner.profile.value import FloatArray

ASCENT, DESCENT = 0.78, 0.24  # of the size of type, DejaVu Sans
GAP = 0.3  # mm kept clear round a word
STROKE = 1.6  # mm of a pipe's stroke kept clear


@dataclass(frozen=True, slots=True)
class Spot:
    """A place for a word: its middle [mm] and its turn [degrees anticlockwise]."""

    x: float
    y: float
    turn: float = 0.0


@dataclass(slots=True)
class Taken:
    """The rectangles [mm] of one part of a sheet, `within`, that hold something already.

    `strokes` are those a word may stand on, but better does not: pipes.
    """

    within: Box
    boxes: list[Box] = field(default_factory=list)
    strokes: list[Box] = field(default_factory=list)

    def free(self, box: Box) -> bool:
        """Whether a rectangle lies inside and on nothing."""
        return self.within.holds(box) and not any(box.overlaps(other) for other in self.boxes)

    def bare(self, box: Box) -> bool:
        """Whether it is free and no stroke runs through it."""
        return self.free(box) and not any(box.overlaps(other) for other in self.strokes)

    def stroke(self, path: FloatArray) -> None:
        """Keep words off a line [mm], where they have another place."""
        steps = np.hypot(*np.diff(path, axis=0).T)
        along = np.concatenate([[0.0], np.cumsum(steps)])
        at = np.arange(0.0, along[-1] + STROKE, STROKE)
        for x, y in zip(*(np.interp(at, along, path[:, axis]) for axis in (0, 1)), strict=True):
            half = STROKE / 2.0
            self.strokes.append(Box(x - half, y - half, x + half, y + half))

    def harden(self) -> None:
        """From now on no word stands on a stroke."""
        self.boxes += self.strokes
        self.strokes = []

    def take(self, box: Box) -> None:
        """Keep a rectangle clear from now on."""
        self.boxes.append(box)


def extent(text: str, spot: Spot, size: float = SMALL, weight: str = "normal") -> Box:
    """The rectangle [mm] round a word centred on a spot."""
    wide = text_width(text, size, weight) / 2.0 + GAP
    high = size * (ASCENT + DESCENT) / POINTS_PER_MM / 2.0
    c, s = abs(math.cos(math.radians(spot.turn))), abs(math.sin(math.radians(spot.turn)))
    x, y = wide * c + high * s, wide * s + high * c
    return Box(spot.x - x, spot.y - y, spot.x + x, spot.y + y)


def put(
    axes: Axes,
    taken: Taken,
    text: str,
    spots: Iterable[Spot],
    size: float = SMALL,
    **how: Any,
) -> Spot | None:
    """Write a word on the first spot that is free, with paper round it; None: there was none."""
    weight = str(how.get("weight", "normal"))
    places = [(spot, extent(text, spot, size, weight)) for spot in spots] if text else []
    for wanted in (taken.bare, taken.free):
        for spot, box in places:
            if not wanted(box):
                continue
            taken.take(box)
            style: dict[str, Any] = {
                "ha": "center",
                "va": "center",
                "rotation": spot.turn,
                "rotation_mode": "default",
                "path_effects": halo(),
                "zorder": 9,
                **how,
            }
            write(axes, spot.x, spot.y, text, size, **style)
            return spot
    return None
