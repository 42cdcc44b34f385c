"""Filling a grid with heights: copied cell for cell or warped, and averaged where too fine."""

from collections.abc import Callable

import numpy as np

from planner.terrain.frame import between
from planner.terrain.grid import Grid
from planner.terrain.sample import bilinear
from planner.terrain.sheet import Sheet, read_sheet
from planner.terrain.value import FloatArray

STRIP_CELLS = 2_000_000  # cells worked on at a time, to bound the memory

# Heights of the strip of the grid that begins at a row.
Painter = Callable[[Grid, int], FloatArray]


def copy_from(sheet: Sheet, corner: tuple[int, int]) -> Painter:
    """Take a sheet's cells as they lie; `corner` is its row and column at the grid's corner."""

    def paint(strip: Grid, top: int) -> FloatArray:
        return read_sheet(sheet, corner[0] + top, corner[1], strip.shape)

    return paint


def warp_from(sheet: Sheet) -> Painter:
    """Bilinear between a sheet's cell centres, each new centre projected exactly.

    GDAL's own warper is not used: it approximates positions by some hundredths of a cell and,
    where cells shrink, smooths over neighbours, which on a steep slope is metres of height.
    """

    def paint(strip: Grid, _: int) -> FloatArray:
        row, col = _position_in(sheet, strip)
        rows, cols = sheet.shape
        known = (row > -1.0) & (row < rows) & (col > -1.0) & (col < cols)
        if not known.any():
            return np.full(strip.shape, np.nan)
        first = max(int(row[known].min()) - 1, 0), max(int(col[known].min()) - 1, 0)
        last = min(int(row[known].max()) + 3, rows), min(int(col[known].max()) + 3, cols)
        z = read_sheet(sheet, *first, (last[0] - first[0], last[1] - first[1]))
        return bilinear(z, row - first[0], col - first[1])

    return paint


def paint_grid(
    grid: Grid, painters: list[Painter], factor: int
) -> tuple[FloatArray, tuple[int, ...]]:
    """Heights on a grid, the first painter that has data deciding each cell.

    Parameters
    ----------
    factor : int
        Blocks of so many cells each way become one cell of their mean; rows and columns left
        over in the south and east are dropped.

    Returns
    -------
    z : (rows // factor, cols // factor) ndarray
        NaN where no cell of a block has data.
    shares : tuple of int
        Cells each painter decided.
    """
    rows, cols = grid.shape[0] // factor * factor, grid.shape[1] // factor * factor
    height = max(STRIP_CELLS // (cols * factor), 1) * factor
    z = np.empty((rows // factor, cols // factor))
    counts = np.zeros(len(painters), dtype=np.int64)
    for top in range(0, rows, height):
        strip = grid.strip(top, min(height, rows - top))
        fine = np.full(strip.shape, np.nan)
        for number, paint in enumerate(painters):
            hole = np.isnan(fine)
            if hole.any():
                fine[hole] = paint(strip, top)[hole]
                counts[number] += int(hole.sum() - np.isnan(fine).sum())
        bottom = (top + strip.shape[0]) // factor
        z[top // factor : bottom] = block_means(fine[:, :cols], factor)
    return z, tuple(int(n) for n in counts)


def block_means(z: FloatArray, factor: int) -> FloatArray:
    """Means of blocks of `factor` x `factor` cells over the cells with data; NaN where none."""
    if factor == 1:
        return z
    rows, cols = z.shape
    blocks = z.reshape(rows // factor, factor, cols // factor, factor)
    known = np.isfinite(blocks)
    number = known.sum(axis=(1, 3))
    total = np.where(known, blocks, 0.0).sum(axis=(1, 3))
    return np.where(number > 0, total / np.maximum(number, 1), np.nan)


def coarsening(shape: tuple[int, int], max_cells: int) -> int:
    """The least factor by which cells must be averaged to stay within `max_cells`."""
    rows, cols = shape
    factor = 1
    while (rows // factor) * (cols // factor) > max_cells:
        factor += 1
    return factor


def _position_in(sheet: Sheet, strip: Grid) -> tuple[FloatArray, FloatArray]:
    """Fractional (row, col) in a sheet of every cell centre of a strip."""
    rows, cols = strip.shape
    x = strip.origin[0] + (np.arange(cols) + 0.5) * strip.cell[0]
    y = strip.origin[1] - (np.arange(rows) + 0.5) * strip.cell[1]
    xx, yy = np.meshgrid(x, y)
    sx, sy = between(strip.crs, sheet.crs).transform(xx, yy)
    if sheet.crs.is_geographic:
        middle = (sheet.bounds[0] + sheet.bounds[2]) / 2.0
        sx = sx + 360.0 * np.round((middle - sx) / 360.0)
    back = ~sheet.transform
    col = back.a * sx + back.b * sy + back.c - 0.5
    row = back.d * sx + back.e * sy + back.f - 0.5
    return row, col
