"""A drive pipe with one bend, where the straight one would leave the ground too far.

Each bend wastes some of the water's force, so it is taken on request alone, and of all elbows that
keep the rule the one at which the pipe turns least.
"""

from dataclasses import replace

import numpy as np
from shapely.geometry import LineString

from planner.profile.along import chainage_of, profile_along
from planner.profile.lay import Laid
from planner.routing.drive_kernel import Limits, Places, best_elbow
from planner.routing.drive_rule import DriveRule
from planner.routing.ground import Ground, band_at
from planner.terrain.sample import cell_centre, grid_position

Place = tuple[float, float]

MOST_TURN = np.radians(22.5)  # in plan and profile together: the gentlest bend on the shelf
SHORTEST_LEG = 1.0  # m
LEVELS = 5  # of an elbow between the deepest and the highest it may lie, tried beside the ground's


def bent_drive(ground: Ground, start: Place, end: Place, rule: DriveRule) -> Laid | None:
    """A pipe from chamber to ram in two straight legs that keep the rule; None if there is none.

    The elbow stands over a cell's centre. It lies where the chord between the ends is seen under
    no more than the most turn: in a corridor as wide as half the chord times the tangent of half
    of it.
    """
    band, _ = band_at(ground, np.array([start, end]))
    if not band[0] > band[1]:  # or a closed or void end
        return None
    elbows = _elbows(ground, start, end, rule, float(band[0] - band[1]))
    row, col = grid_position(ground.terrain, [start[0], end[0]], [start[1], end[1]])
    ends = [(float(r), float(c), float(z)) for r, c, z in zip(row, col, band, strict=True)]
    cell = np.array(ground.terrain.cell, dtype=np.float64)
    limits: Limits = rule.limits
    best = best_elbow(ground.soil, cell, limits, (ends[0], ends[1]), elbows, np.cos(MOST_TURN))
    if best < 0:
        return None
    x, y = cell_centre(ground.terrain, elbows.row[best], elbows.col[best])
    profile = profile_along(ground.terrain, LineString([start, (float(x), float(y)), end]))
    turn = float(np.hypot(x - start[0], y - start[1]))
    level = np.interp(
        profile.run, [0.0, turn, profile.run[-1]], [band[0], elbows.level[best], band[1]]
    )
    laid = replace(profile, pipe=level, chainage=chainage_of(profile.run, level))
    return Laid(laid, (), (), ())


def _elbows(ground: Ground, start: Place, end: Place, rule: DriveRule, fall: float) -> Places:
    """Cells in a corridor round the chord, each at several levels."""
    terrain = ground.terrain
    chord = np.subtract(end, start)
    apart = float(np.hypot(*chord))
    wide = np.hypot(apart, fall) / 2.0 * float(np.tan(MOST_TURN / 2.0))
    row, col = grid_position(terrain, [start[0], end[0]], [start[1], end[1]])
    tall, broad = wide / terrain.cell[1], wide / terrain.cell[0]
    rows = np.arange(max(int(row.min() - tall), 0), min(row.max() + tall + 1, terrain.shape[0]))
    cols = np.arange(max(int(col.min() - broad), 0), min(col.max() + broad + 1, terrain.shape[1]))
    r, c = (part.ravel() for part in np.meshgrid(rows, cols, indexing="ij"))
    x, y = cell_centre(terrain, r, c)
    east, north = chord / apart
    along = (x - start[0]) * east + (y - start[1]) * north
    off = np.abs((x - start[0]) * north - (y - start[1]) * east)
    near = (off <= wide) & (along >= SHORTEST_LEG) & (along <= apart - SHORTEST_LEG)
    top, _ = band_at(ground, np.column_stack([x[near], y[near]]))
    offset = np.append(0.0, np.linspace(-rule.dug, rule.propped, LEVELS))
    return Places(
        np.repeat(r[near].astype(np.float64), offset.size),
        np.repeat(c[near].astype(np.float64), offset.size),
        (top[:, None] + offset).ravel(),
    )
