"""`Sheet`: files whose cells continue one another, read as one raster.

Tiles of one survey share a coordinate system and the raster of cells; only joined before any
resampling do they meet without a seam.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from affine import Affine
from pyproj import CRS

from planner.terrain.layer import Layer, apply, box_of, read_window
from planner.terrain.value import FloatArray

SAME_CELL = 1e-6  # relative; tiles of one survey agree far better
SAME_RASTER = 0.01  # cells; how far tiles may be off the common raster


@dataclass(frozen=True, slots=True)
class Sheet:
    """Files on one raster of cells.

    Attributes
    ----------
    transform : Affine
        (col, row) of cell corners to x, y; (0, 0) is the outer corner of the box of all files.
    shape : (rows, cols)
    tiles : tuple of (Layer, row, col)
        Each file and where its first cell lies.
    """

    crs: CRS
    transform: Affine
    shape: tuple[int, int]
    tiles: tuple[tuple[Layer, int, int], ...]

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """West, south, east, north of the box round the sheet, in its own CRS."""
        return box_of(self.transform, self.shape)


def lay_out(layers: Sequence[Layer]) -> list[Sheet]:
    """Join layers that lie on one raster of cells into sheets, in the order given."""
    groups: list[list[tuple[Layer, int, int]]] = []
    for layer in layers:
        for group in groups:
            offset = _offset(group[0][0], layer)
            if offset is not None:
                group.append((layer, *offset))
                break
        else:
            groups.append([(layer, 0, 0)])
    return [_sheet(group) for group in groups]


def read_sheet(sheet: Sheet, row: int, col: int, shape: tuple[int, int]) -> FloatArray:
    """(rows, cols) heights [m] of the window that starts at `row`, `col`; NaN = no data.

    The window may reach beyond the sheet. Where files overlap the first one with data counts.
    """
    z = np.full(shape, np.nan)
    for layer, top, left in sheet.tiles:
        first = max(row, top), max(col, left)
        last = (
            min(row + shape[0], top + layer.shape[0]),
            min(col + shape[1], left + layer.shape[1]),
        )
        if first[0] >= last[0] or first[1] >= last[1]:
            continue
        part = z[first[0] - row : last[0] - row, first[1] - col : last[1] - col]
        hole = np.isnan(part)
        if hole.any():
            size = (last[0] - first[0], last[1] - first[1])
            part[hole] = read_window(layer, first[0] - top, first[1] - left, size)[hole]
    return z


def _offset(anchor: Layer, layer: Layer) -> tuple[int, int] | None:
    """(row, col) of a layer's first cell on another's raster, or None if it has its own."""
    a, b = anchor.transform, layer.transform
    size = max(abs(v) for v in (a.a, a.b, a.d, a.e))
    same_cell = all(
        abs(getattr(a, k) - getattr(b, k)) <= SAME_CELL * size for k in ("a", "b", "d", "e")
    )
    if not same_cell or anchor.crs != layer.crs:
        return None
    col, row = apply(~a, b.c, b.f)
    if max(abs(col - round(col)), abs(row - round(row))) > SAME_RASTER:
        return None
    return round(row), round(col)


def _sheet(group: list[tuple[Layer, int, int]]) -> Sheet:
    top = min(row for _, row, _ in group)
    left = min(col for _, _, col in group)
    bottom = max(row + layer.shape[0] for layer, row, _ in group)
    right = max(col + layer.shape[1] for layer, _, col in group)
    anchor = group[0][0]
    t = anchor.transform
    x, y = apply(t, left, top)
    return Sheet(
        crs=anchor.crs,
        transform=Affine(t.a, t.b, x, t.d, t.e, y),
        shape=(bottom - top, right - left),
        tiles=tuple((layer, row - top, col - left) for layer, row, col in group),
    )
