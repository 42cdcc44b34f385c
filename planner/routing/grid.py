"""`Grid`: the ground as the compiled searches see it: padded, flattened, with its neighbours."""

from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from planner.routing.edge_kernel import Field
from planner.routing.grid_kernel import fill, fill_blocks
from planner.routing.ground import Ground
from planner.routing.pages import sparse_zeros
from planner.routing.stencil import REACH, Neighbours, Stencil, make_stencil
from planner.terrain.sample import cell_centre
from planner.terrain.value import BoolArray, FloatArray

Place = tuple[float, float]
Number = TypeVar("Number", bound=np.generic)


@dataclass(frozen=True, eq=False, slots=True)
class Grid:
    """The ground, or a corridor of it, closed all round so that no move needs a bounds test.

    Of a corridor the arrays hold a rectangle, filled in the corridor and closed around it as far as
    the stencil reaches. The rest stays zero, takes no memory and is never met.

    Attributes
    ----------
    ground : Ground
        The whole.
    field : Field
    stencil : Stencil
    pad : int
        Reach of the stencil: at least so many closed cells on each side.
    first : (int, int)
        Row and column of the ground at which the arrays begin, negative in the padding.
    columns : int
        Of the arrays.
    whole : bool
        Whether it holds all of the ground.
    """

    ground: Ground
    field: Field
    stencil: Stencil
    pad: int
    first: tuple[int, int]
    columns: int
    whole: bool

    @property
    def cells(self) -> int:
        """Of the arrays."""
        return int(self.field.top.size)

    def node(self, row: npt.ArrayLike, col: npt.ArrayLike) -> npt.NDArray[np.int64]:
        """Flat index of a cell of the ground, by its row and column."""
        rows, cols = np.asarray(row, dtype=np.int64), np.asarray(col, dtype=np.int64)
        return (rows - self.first[0]) * self.columns + cols - self.first[1]

    def centre(self, node: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
        """x, y of flat indices [m]."""
        row, col = np.divmod(np.asarray(node), self.columns)
        return cell_centre(self.ground.terrain, row + self.first[0], col + self.first[1])

    def away(self, place: Place) -> FloatArray:
        """(cells,) distance of each cell from a place [m]; of all cells, so it is large."""
        rows = np.arange(self.cells // self.columns) + self.first[0]
        cols = np.arange(self.columns) + self.first[1]
        x, y = cell_centre(self.ground.terrain, rows[:, None], cols[None, :])
        return np.hypot(x - place[0], y - place[1]).ravel()

    def zeros(self, dtype: type[Number], each: int = 1, more: int = 0) -> npt.NDArray[Number]:
        """(each * cells + more,) zeros for a search to keep, mapped as they are touched."""
        count = each * self.cells + more
        return np.zeros(count, dtype) if self.whole else sparse_zeros(count, dtype)


def make_grid(ground: Ground, neighbours: Neighbours = 16) -> Grid:
    """The grid of a whole ground, its cells joined to so many neighbours."""
    pad = REACH[neighbours]
    (rows, cols), cell = ground.terrain.shape, ground.terrain.cell
    columns = cols + 2 * pad
    sloped = np.isfinite(ground.side_slope)
    size = (rows + 2 * pad) * columns
    field = Field(
        np.empty(size),
        np.empty(size),
        np.empty(size),
        np.zeros(size if sloped else 0),
        np.zeros(size if sloped else 0),
    )
    first, around = (-pad, -pad), ((-pad, rows + pad), (-pad, cols + pad))
    fill(ground.soil, field, first, columns, cell, *around)
    return Grid(ground, field, make_stencil(cell, columns, neighbours), pad, first, columns, True)


def corridor_grid(ground: Ground, neighbours: Neighbours, blocks: BoolArray, side: int) -> Grid:
    """The grid of a part of the ground.

    Parameters
    ----------
    blocks : (ceil(rows / side), ceil(cols / side)) ndarray
        Which blocks of `side` x `side` cells it holds, one at least.
    """
    pad, cell = REACH[neighbours], ground.terrain.cell
    ring = -(-pad // side)
    down, along = (np.flatnonzero(blocks.any(axis=axis)) for axis in (1, 0))
    chosen = blocks[down[0] : down[-1] + 1, along[0] : along[-1] + 1]
    rows, cols = ((length + 2 * ring) * side for length in chosen.shape)
    sloped = np.isfinite(ground.side_slope)
    field = Field(
        *(sparse_zeros(rows * cols, np.float64) for _ in range(3)),
        *(sparse_zeros(rows * cols if sloped else 0, np.float64) for _ in range(2)),
    )
    first = (int(down[0]) - ring) * side, (int(along[0]) - ring) * side
    fill_blocks(ground.soil, field, first, cols, cell, np.ascontiguousarray(blocks), side, ring)
    return Grid(ground, field, make_stencil(cell, cols, neighbours), pad, first, cols, False)
