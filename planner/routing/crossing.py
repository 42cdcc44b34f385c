"""What it costs to cross a line on the ground, be it thinner than a cell: a road, a stream.

The cells that the line touches are made dearer, so that a way across them comes to the crossing's
price whatever the size of a cell and the direction of the line. Moves pay in every cell they pass
through, so none leaps over it; along the line each cell's width costs as much as a crossing.
"""

from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt
from shapely import union_all
from shapely.geometry.base import BaseGeometry

from planner.terrain.burn import touched
from planner.terrain.value import BoolArray, FloatArray, Terrain

THIN = 1e-3  # of a cell: half the width a line is given, so that it passes no corner unseen
THICKEST = 8  # cells; where lines lie so dense, what counts is the patch
# By how much the edge between two cells counts as longer than it is: between 1, where a way
# straight over a jog of the band pays twice, and 1.41, where one that slips by it pays too little.
SLIP = 1.25
ACROSS = ((0, 1), (1, 0), (1, 1), (1, -1))  # rows, columns: the directions a way may cross in
SIDES = ((0, 1), (0, -1), (1, 0), (-1, 0))  # rows, columns: the neighbours of a cell

IntArray = npt.NDArray[np.int64]


def crossing_prices(
    terrain: Terrain, crossings: Iterable[tuple[BaseGeometry, float]]
) -> FloatArray | None:
    """(rows, cols) what a metre costs in addition in each cell; None where no line is crossed.

    Parameters
    ----------
    crossings : (line in x, y, price)
        Price of one crossing [m of pipe], 0 or more. Where lines share a cell the dearest counts.
    """
    lines: dict[float, list[BaseGeometry]] = {}
    for shape, price in crossings:
        if price > 0.0:
            lines.setdefault(price, []).append(shape)
    if not lines:
        return None
    added = np.zeros(terrain.shape)
    for price, shapes in lines.items():
        cells = _cells(terrain, shapes)
        row, col = np.nonzero(cells)
        added[row, col] = np.maximum(added[row, col], price / _thickness(terrain, cells, row, col))
    return added


def _cells(terrain: Terrain, shapes: Sequence[BaseGeometry]) -> BoolArray:
    """Cells touched by lines, joined by their edges all along each line."""
    half = THIN * min(terrain.cell)
    return touched(terrain, union_all([shape.buffer(half, quad_segs=1) for shape in shapes]))


def _thickness(terrain: Terrain, cells: BoolArray, row: IntArray, col: IntArray) -> FloatArray:
    """How thick the band of cells is at each of them [m], in the direction where it is least."""
    width, height = terrain.cell
    beyond = THICKEST + 1
    band = np.pad(cells, beyond)
    row, col = row + beyond, col + beyond
    thinnest = np.full(row.size, np.inf)
    for down, along in ACROSS:
        run = _run(band, row, col, (down, along)) + _run(band, row, col, (-down, -along)) - 1.0
        thinnest = np.minimum(thinnest, run * np.hypot(down * height, along * width))
    for down, along in SIDES:
        # Where the band jogs, a way may slip through along the edge between two of its cells.
        slips = band[row + down, col + along]
        for side in (1, -1):
            r, c = row + side * along, col + side * down
            slips = slips & ~(band[r, c] & band[r + down, c + along])
        slip = SLIP * (height if along else width)
        thinnest = np.where(slips, np.minimum(thinnest, slip), thinnest)
    return thinnest


def _run(band: BoolArray, row: IntArray, col: IntArray, way: tuple[int, int]) -> FloatArray:
    """How many cells in a row, each one counted, lie in the band one way from it."""
    run, on = np.ones(row.size), np.ones(row.size, dtype=np.bool_)
    for step in range(1, THICKEST + 1):
        on = on & band[row + step * way[0], col + step * way[1]]
        run += on
    return run
