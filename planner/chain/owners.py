"""Whose land each line crosses, in metres."""

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from planner.record.value import Line, OwnerShare, PlacedArea
from planner.terrain.value import FloatArray

LEAST = 0.05  # m; less is rounding along a border


def owner_shares(lines: tuple[Line, ...], areas: tuple[PlacedArea, ...]) -> tuple[OwnerShare, ...]:
    """Metres of pipe of each line on each owner's land; owner None: land of nobody listed.

    Pipe is bought along the slope, so metres are the pipe's own. Land that two owners are drawn
    on counts for both.
    """
    owners = [area for area in areas if area.role == "owner"]
    listed = shapely.union_all([area.shape for area in owners])
    shares = []
    for line in lines:
        parts: list[tuple[str | None, float]] = [
            (area.name, float(_inside(line, area.shape).sum())) for area in owners
        ]
        steps = np.diff(line.profile.chainage)
        parts.append((None, float((steps - _inside(line, listed)).sum())))
        shares += [OwnerShare(line.name, who, m) for who, m in parts if m > LEAST]
    return tuple(shares)


def _inside(line: Line, land: BaseGeometry) -> FloatArray:
    """(n - 1,) metres of each step of a line's profile on some land.

    Step by step, for a line that comes back over itself is pipe twice.
    """
    xy, run = line.profile.xy, line.profile.run
    steps = shapely.linestrings(np.stack([xy[:-1], xy[1:]], axis=1))
    share = shapely.length(shapely.intersection(steps, land)) / np.diff(run)
    return np.asarray(np.minimum(share, 1.0) * np.diff(line.profile.chainage))
