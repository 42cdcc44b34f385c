"""What kind of elevation data this is, and how far one of its heights may be off.

Figures are for the ground under a pipe in a wooded valley, not for open car parks: published
root mean square errors, RMSE, or standard deviations of heights against levelled points. The
source is named beside each. Defaults only; the site file can say better.
"""

from typing import get_args

import numpy as np
from scipy import ndimage

from planner.errors import TerrainError
from planner.terrain.value import DataKind, Terrain

FINE_CELL = 3.5  # m; finer cells are sold from lidar alone
MIDDLE_CELL = 15.0  # m; coarser ones are mostly global satellite products (1 and 3 arc-seconds)

# For each kind: (cells up to so many metres, standard error in metres), finest first.
_ERRORS: dict[DataKind, tuple[tuple[float, float], ...]] = {
    "lidar": (
        # Reutebuch et al. 2003, uncut conifer forest: standard deviation 0.29 m (open: 0.16).
        (FINE_CELL, 0.30),
        # USGS 3DEP accuracy statement, best available data mixed: RMSE 0.53 m.
        (7.5, 0.53),
        # The same, 1/3 arc-second seamless data of 2022, mostly from lidar: RMSE 0.82 m.
        (np.inf, 0.82),
    ),
    "photogrammetry": (
        # USGS 3DEP, 1/3 arc-second data of 2013, mostly from photographs and maps: RMSE 1.55 m.
        (MIDDLE_CELL, 1.55),
        # USGS 30 m models from photographs: RMSE of 7 m desired, 15 m allowed.
        (np.inf, 7.0),
    ),
    "contours": (
        # As above; the rule for models from contours is half a contour interval (USGS 30 m
        # metadata), which is 1.5 to 3 m for the usual 10 to 20 ft and 5 m intervals.
        (MIDDLE_CELL, 1.55),
        (np.inf, 7.0),
    ),
    "satellite": (
        # SRTM against GNSS in Malaysia: RMSE 5.7 m (Int. J. Geoinformatics 2979); NASADEM 3.7,
        # FABDEM 5.6 in another study. Forest is worst.
        (60.0, 5.7),
        # SRTM against levels in Nigeria: RMSE 7.5 m, for coarser versions of the same.
        (np.inf, 7.5),
    ),
    "levelled": (
        # Good closure of a builder's level, 12 mm per root km (US Army survey manual), and a
        # centimetre for the roughness of the ground a staff stands on.
        (np.inf, 0.02),
    ),
}
# Nobody said: what such cells usually are; the middle range takes the worse of the two.
_ERRORS["unknown"] = ((FINE_CELL, 0.30), (MIDDLE_CELL, 1.55), (60.0, 5.7), (np.inf, 7.5))

STEP = 0.5  # of a cell: how far a cell stands off the mean of its four neighbours
# Of the cells of real bare-earth models at 1 to 1.5 m, none in ten thousand is such a step; of a
# model with trees and roofs about one in twenty.
STEP_SHARE = 0.01


def guess_kind(cell: float) -> DataKind:
    """The kind of data that comes in cells of this size [m].

    Examples
    --------
    >>> guess_kind(1.0), guess_kind(10.0), guess_kind(30.0)
    ('lidar', 'unknown', 'satellite')
    """
    if cell <= FINE_CELL:
        return "lidar"
    return "unknown" if cell <= MIDDLE_CELL else "satellite"


def standard_error_of(kind: DataKind, cell: float) -> float:
    """Standard error of one height [m], for a kind of data in cells of some size [m].

    Raises
    ------
    TerrainError
        The kind is not known, or the cell size not positive.

    Examples
    --------
    >>> standard_error_of("lidar", 1.0)
    0.3
    """
    if kind not in get_args(DataKind):
        msg = f"the kind of elevation data is one of {', '.join(get_args(DataKind))}, got {kind!r}"
        raise TerrainError(msg)
    if not cell > 0.0:
        msg = f"the cell size must be more than 0 m, got {cell}"
        raise TerrainError(msg)
    table = _ERRORS[kind]
    return next(error for limit, error in table if cell <= limit)


def looks_like_surface_model(terrain: Terrain) -> bool:
    """True if trees and roofs stand in the data, so that it is not the ground.

    Bare ground, however steep, runs on from cell to cell; a crown or an eave is a step. Cells
    that stand off the mean of their four neighbours by half a cell are counted. Only cells up to
    3.5 m show single trees; coarser data returns False.
    """
    if max(terrain.cell) > FINE_CELL or min(terrain.shape) < 3:
        return False
    cross = np.array([[0.0, 0.25, 0.0], [0.25, -1.0, 0.25], [0.0, 0.25, 0.0]])
    off = np.abs(ndimage.convolve(terrain.z, cross))[1:-1, 1:-1]
    known = np.isfinite(off)
    if not known.any():
        return False
    return bool(np.mean(off[known] > STEP * min(terrain.cell)) > STEP_SHARE)
