"""Ground levels at points: bilinear between cell centres, and the ways between x, y and cells."""

import numpy as np
import numpy.typing as npt

from planner.terrain.value import FloatArray, Terrain

EDGE_TOLERANCE = 1e-9  # cells; a point on the outermost centre line is inside


def grid_position(
    terrain: Terrain, x: npt.ArrayLike, y: npt.ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """Fractional (row, col) of points, whole numbers at cell centres."""
    west, north = terrain.origin
    col = (np.asarray(x, dtype=np.float64) - west) / terrain.cell[0] - 0.5
    row = (north - np.asarray(y, dtype=np.float64)) / terrain.cell[1] - 0.5
    return row, col


def cell_centre(
    terrain: Terrain, row: npt.ArrayLike, col: npt.ArrayLike
) -> tuple[FloatArray, FloatArray]:
    """x, y [m] of (fractional) rows and columns; the inverse of `grid_position`."""
    west, north = terrain.origin
    x = west + (np.asarray(col, dtype=np.float64) + 0.5) * terrain.cell[0]
    y = north - (np.asarray(row, dtype=np.float64) + 0.5) * terrain.cell[1]
    return x, y


def cell_of(terrain: Terrain, x: float, y: float) -> tuple[int, int] | None:
    """(row, col) of the cell that holds a point, or None outside the grid."""
    row, col = grid_position(terrain, x, y)
    r, c = int(np.floor(row + 0.5)), int(np.floor(col + 0.5))
    rows, cols = terrain.shape
    return (r, c) if 0 <= r < rows and 0 <= c < cols else None


def ground_at(terrain: Terrain, x: npt.ArrayLike, y: npt.ArrayLike) -> FloatArray:
    """Ground level at points, bilinear between the four nearest cell centres.

    In the outer half cell, where two of the four are missing, the nearest edge centre line is
    used. A corner without data makes the point NaN unless its weight is zero.

    Parameters
    ----------
    x, y : (...) array-like
        Points [m] in the terrain's grid.

    Returns
    -------
    (...) ndarray
        Levels [m]; NaN outside the grid and on missing data.
    """
    return bilinear(terrain.z, *grid_position(terrain, x, y))


def bilinear(z: FloatArray, row: FloatArray, col: FloatArray) -> FloatArray:
    """Values of a grid at fractional rows and columns, whole numbers at cell centres.

    NaN more than half a cell outside the grid, and where a value that counts is NaN; in the
    outer half cell the nearest edge line is used.
    """
    rows, cols = z.shape
    outside = ~((row >= -0.5) & (row <= rows - 0.5) & (col >= -0.5) & (col <= cols - 0.5))
    row = np.clip(np.where(outside, 0.0, row), 0.0, rows - 1.0)
    col = np.clip(np.where(outside, 0.0, col), 0.0, cols - 1.0)
    # Rounding of coordinates must not pull in a neighbour with a weight of 1e-12.
    row = np.where(np.abs(row - np.round(row)) < EDGE_TOLERANCE, np.round(row), row)
    col = np.where(np.abs(col - np.round(col)) < EDGE_TOLERANCE, np.round(col), col)
    r0 = np.minimum(row.astype(np.int64), max(rows - 2, 0))
    c0 = np.minimum(col.astype(np.int64), max(cols - 2, 0))
    fr, fc = row - r0, col - c0
    level = np.zeros(np.shape(row))
    for dr, wr in ((0, 1.0 - fr), (1, fr)):
        for dc, wc in ((0, 1.0 - fc), (1, fc)):
            weight = wr * wc
            corner = z[np.minimum(r0 + dr, rows - 1), np.minimum(c0 + dc, cols - 1)]
            level = level + np.where(weight > 0.0, weight * corner, 0.0)
    return np.where(outside, np.nan, level)
