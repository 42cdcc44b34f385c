"""`Grid`: the ground as the compiled searches see it: padded, flattened, with its neighbours."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from planner.routing.edge_kernel import Field
from planner.routing.ground import Ground, slopes
from planner.routing.stencil import REACH, Neighbours, Stencil, make_stencil
from planner.terrain.sample import cell_centre
from planner.terrain.value import FloatArray

Place = tuple[float, float]


@dataclass(frozen=True, eq=False, slots=True)
class Grid:
    """The ground, padded by the reach of the stencil so that no move needs a bounds test.

    Attributes
    ----------
    ground : Ground
    field : Field
    stencil : Stencil
    pad : int
        Closed cells on each side.
    """

    ground: Ground
    field: Field
    stencil: Stencil
    pad: int

    @property
    def columns(self) -> int:
        """Of the padded grid."""
        return self.ground.terrain.shape[1] + 2 * self.pad

    @property
    def cells(self) -> int:
        """Of the padded grid."""
        return int(self.field.top.size)

    def node(self, row: npt.ArrayLike, col: npt.ArrayLike) -> npt.NDArray[np.int64]:
        """Flat index of a cell."""
        rows, cols = np.asarray(row, dtype=np.int64), np.asarray(col, dtype=np.int64)
        return (rows + self.pad) * self.columns + cols + self.pad

    def centre(self, node: npt.ArrayLike) -> tuple[FloatArray, FloatArray]:
        """x, y of flat indices [m]."""
        row, col = np.divmod(np.asarray(node), self.columns)
        return cell_centre(self.ground.terrain, row - self.pad, col - self.pad)

    def away(self, place: Place) -> FloatArray:
        """(cells,) distance of each cell's centre from a place [m], infinite in the padding."""
        rows, cols = self.ground.terrain.shape
        x, y = cell_centre(self.ground.terrain, np.arange(rows)[:, None], np.arange(cols)[None, :])
        return padded(np.hypot(x - place[0], y - place[1]), self.pad, np.inf)


def make_grid(ground: Ground, neighbours: Neighbours = 16) -> Grid:
    """The grid of a ground, its cells joined to so many neighbours."""
    pad = REACH[neighbours]
    east = north = np.empty(0)
    if np.isfinite(ground.side_slope):
        east, north = (padded(slope, pad, np.nan) for slope in slopes(ground))
    field = Field(
        padded(ground.top, pad, np.nan),
        padded(ground.bottom, pad, np.nan),
        padded(ground.factor, pad, 1.0),
        east,
        north,
    )
    columns = ground.terrain.shape[1] + 2 * pad
    return Grid(ground, field, make_stencil(ground.terrain.cell, columns, neighbours), pad)


def padded(grid: FloatArray, pad: int, value: float) -> FloatArray:
    """A grid with a margin of one value, flattened."""
    return np.pad(grid, pad, constant_values=value).ravel()
