"""The ground along a line."""

import numpy as np
import numpy.typing as npt
from shapely.geometry import LineString

from planner.errors import SketchError
from planner.profile.value import FloatArray, Profile
from planner.terrain.sample import cell_of, ground_at
from planner.terrain.value import Terrain

MOST_SAMPLES = 200_000  # 100 km at half a metre


def profile_along(
    terrain: Terrain, line: LineString | npt.ArrayLike, step: float | None = None
) -> Profile:
    """Ground along a line, with the pipe on the ground until it is laid.

    Every vertex of the line is a sample; between vertices samples stand at equal distances of at
    most `step`.

    Parameters
    ----------
    terrain : Terrain
    line : shapely.LineString or (n, 2) array-like
        In the terrain's x, y [m]; two different points or more.
    step : float, optional
        Greatest horizontal distance of samples [m]; half the smaller side of a cell by default.

    Returns
    -------
    Profile
        `ground` is NaN outside the data and on holes; chainage follows the ground in three
        dimensions and, across a hole, the horizontal.

    Raises
    ------
    SketchError
        The line has no length, a coordinate that is no number, or is far too long for the step.
    """
    vertices = _vertices(line)
    step = min(terrain.cell) / 2.0 if step is None else step
    xy, run = samples_along(vertices, step)
    ground = ground_at(terrain, xy[:, 0], xy[:, 1])
    return Profile(
        xy=xy,
        run=run,
        chainage=chainage_of(run, ground),
        ground=ground,
        pipe=ground,
        filled=_filled(terrain, xy),
    )


def samples_along(vertices: FloatArray, step: float) -> tuple[FloatArray, FloatArray]:
    """(n, 2) points and (n,) runs [m] along a polyline, at most `step` apart, vertices kept."""
    legs = np.hypot(*np.diff(vertices, axis=0).T)
    pieces = np.maximum(np.ceil(legs / step - 1e-9), 1.0).astype(np.int64)
    if not step > 0.0 or pieces.sum() > MOST_SAMPLES:
        msg = (
            f"the line is {legs.sum():,.0f} m long, too long for samples {step:g} m apart; "
            f"at most {MOST_SAMPLES:,} samples are taken"
        )
        raise SketchError(msg)
    corner = np.concatenate([[0.0], np.cumsum(legs)])
    parts = [corner[i] + legs[i] * np.arange(pieces[i]) / pieces[i] for i in range(legs.size)]
    run = np.append(np.concatenate(parts), corner[-1])
    xy = np.column_stack([np.interp(run, corner, vertices[:, k]) for k in (0, 1)])
    return xy, run


def chainage_of(run: FloatArray, level: FloatArray) -> FloatArray:
    """Distance along a pipe in three dimensions [m]; across NaN levels, the horizontal."""
    rise = np.nan_to_num(np.diff(level), nan=0.0)
    return np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(run), rise))])


def _vertices(line: LineString | npt.ArrayLike) -> FloatArray:
    points: FloatArray = np.asarray(
        line.coords if isinstance(line, LineString) else line, dtype=np.float64
    )
    if points.ndim != 2 or points.shape[1] < 2 or not np.all(np.isfinite(points[:, :2])):
        msg = "a line needs x, y coordinates that are numbers"
        raise SketchError(msg)
    points = points[:, :2]
    moved = np.any(np.diff(points, axis=0) != 0.0, axis=1)
    points = np.array(points[np.concatenate([[True], moved])])
    if len(points) < 2:
        msg = "the line has no length; it needs two different points or more"
        raise SketchError(msg)
    return points


def _filled(terrain: Terrain, xy: FloatArray) -> npt.NDArray[np.bool_]:
    if not np.any(terrain.filled):
        return np.zeros(len(xy), dtype=np.bool_)
    cells = [cell_of(terrain, x, y) for x, y in xy]
    return np.array([cell is not None and bool(terrain.filled[cell]) for cell in cells])
