"""What ground each step of a line lies in, and the trench dug for it."""

from itertools import groupby

import numpy as np
import numpy.typing as npt
import shapely

from planner.output.materials.value import DepthClass, Dug
from planner.profile.value import FloatArray
from planner.record.value import Line, PlacedArea, Plan
from planner.site.field import GroundClass, Rates
from planner.site.value import Units

GROUNDS: tuple[GroundClass, ...] = ("soft", "ordinary", "stony", "rock")  # easiest first
CLASSES: tuple[DepthClass, ...] = (0, 1, 2, 3)
ROUGH = GROUNDS.index("stony")  # from here on pipe is bedded, and more of it is bought
SHALLOWEST = 0.05  # m; less is no trench: the pipe lies on the ground
# Ends of the depth classes, m. From the last on the sides are held: 1.25 m where metric units are
# in use (DIN 4124), 5 ft in the US (excavation rule, hydraulics notes [S84]); local codes rule.
EDGES: dict[Units, tuple[float, float, float]] = {
    "metric": (0.6, 1.0, 1.25),
    "us": (2 * 0.3048, 3 * 0.3048, 5 * 0.3048),
}


def ground_of(plan: Plan, line: Line) -> npt.NDArray[np.intp]:
    """(n - 1,) index into `GROUNDS` of each step of the line's profile.

    What an area says counts where it lies; an area that limits the trench and says nothing else
    is rock; where areas overlap, the hardest.
    """
    middle = (line.profile.xy[1:] + line.profile.xy[:-1]) / 2.0
    found = np.full(len(middle), -1)
    for area in plan.areas:
        ground = _said(area)
        if ground is not None:
            inside = shapely.contains_xy(area.shape, middle)
            found[inside] = np.maximum(found[inside], GROUNDS.index(ground))
    return np.where(found < 0, GROUNDS.index(plan.site.rates.ground), found)


def _said(area: PlacedArea) -> GroundClass | None:
    if area.ground is not None:
        return area.ground
    return None if area.deepest_trench is None else "rock"


def rough_length(plan: Plan, line: Line, start: float, end: float) -> float:
    """Metres of pipe in stony ground or rock between two chainages."""
    chainage = np.clip(line.profile.chainage, start, end)
    return float(np.diff(chainage)[ground_of(plan, line) >= ROUGH].sum())


def unknown_length(line: Line) -> float:
    """Metres on the level along which the trench's depth is not known."""
    return float(np.diff(line.profile.run)[np.isnan(_depth(line))].sum())


def dug(plan: Plan, line: Line) -> tuple[Dug, ...]:
    """The trench of a line, by ground and depth class; none where it lies on the surface.

    The trench has upright sides; it goes as deep as the pipe's level, and in stony ground and
    rock deeper by the bedding under it. A step of the profile is in one class, by its mean depth.
    """
    rates, ground = plan.site.rates, ground_of(plan, line)
    depth = _depth(line)
    rough = ground >= ROUGH
    there = depth > SHALLOWEST
    full = np.where(rough, depth + rates.bedding, depth)
    run = np.diff(line.profile.run)
    pipe_area = _pipe_areas(line)
    laid = np.diff(line.profile.chainage)
    bedding = np.where(rough, _bedding(depth, pipe_area, rates), 0.0) * laid
    classes = np.searchsorted(EDGES[plan.site.units], full - 1e-9)
    rows = []
    order = sorted((int(g), int(c)) for g, c in zip(ground[there], classes[there], strict=True))
    for (g, c), _ in groupby(order):
        own = there & (ground == g) & (classes == c)
        side = float((full * run)[own].sum())
        rows.append(
            Dug(
                line=line.name,
                ground=GROUNDS[g],
                depth=CLASSES[c],
                length_m=float(run[own].sum()),
                side_m2=side,
                volume=side * rates.trench_width,
                bedding=float(bedding[own].sum()),
                pipe=float((pipe_area * laid)[own].sum()),
            )
        )
    return tuple(rows)


def _depth(line: Line) -> FloatArray:
    """(n - 1,) mean depth of the pipe in each step [m]."""
    return np.asarray((line.profile.depth[1:] + line.profile.depth[:-1]) / 2.0)


def _pipe_areas(line: Line) -> FloatArray:
    """(n - 1,) outer cross-section of the pipe in each step [m²]."""
    middle = (line.profile.chainage[1:] + line.profile.chainage[:-1]) / 2.0
    outside = np.full(middle.size, line.settings.pipe.bore)
    for run in line.runs:
        outside[(middle >= run.start_m) & (middle <= run.end_m)] = run.pipe.outside
    return np.asarray(np.pi / 4.0 * outside**2)


def _bedding(depth: FloatArray, pipe_area: FloatArray, rates: Rates) -> FloatArray:
    """(n - 1,) bedding in a metre of trench [m³/m]: so much under, beside and over the pipe."""
    outside = np.sqrt(pipe_area * 4.0 / np.pi)
    height = np.minimum(2.0 * rates.bedding + outside, depth + rates.bedding)
    return np.asarray(np.maximum(height * rates.trench_width - pipe_area, 0.0))
