"""`Terrain`: the ground as a grid of levels in metres, with what is known of its error."""

from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
import numpy.typing as npt
from pyproj import CRS
from pyproj.exceptions import CRSError

from planner.errors import TerrainError

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

DataKind = Literal["lidar", "photogrammetry", "contours", "satellite", "levelled", "unknown"]
HeightUnit = Literal["m", "ft", "us_ft"]


@dataclass(frozen=True, slots=True)
class Provenance:
    """Where a terrain comes from, and how far it can be believed.

    Every output shows it, so it is kept with the ground itself.
    """

    files: tuple[str, ...] = ()  # names only, no folders
    kind: DataKind = "unknown"  # declared by the user, or guessed from the cell size
    native_cell: float = float("nan")  # m on the ground, before any warping
    height_unit: HeightUnit = "m"
    height_unit_assumed: bool = False  # neither the file nor the site file said it
    height_unit_doubt: str | None = (
        None  # why the unit looks wrong (implausible slopes), if it does
    )
    surface_model: bool = False  # declared or recognised as trees-and-roofs, not bare earth
    standard_error: float = float(
        "nan"
    )  # m, one point's height; from kind and cell size or the user
    warped: bool = False  # resampled to the local grid; False: cell for cell as in the file
    coarsened: int = 1  # cells were averaged by this factor to stay within the limit
    lost_files: tuple[str, ...] = ()  # files given that do not touch the window


@dataclass(frozen=True, eq=False, slots=True)
class Terrain:
    """The ground: levels on a north-up grid in a metric CRS of its own.

    Attributes
    ----------
    z : (rows, cols) float64, read-only
        Level of each cell's centre [m]; row 0 is the northernmost; NaN = no data.
    cell : (float, float)
        Width (along x) and height (along y) of a cell [m on the ground].
    origin : (float, float)
        x, y of the outer north-west corner [m].
    crs : pyproj.CRS or None
        What x and y mean on the Earth; None: local metres.
    filled : (rows, cols) bool, read-only
        True where a small hole was filled by interpolation.
    provenance : Provenance
    """

    z: FloatArray
    cell: tuple[float, float]
    origin: tuple[float, float] = (0.0, 0.0)
    crs: CRS | None = None
    filled: BoolArray = field(default_factory=lambda: np.zeros((0, 0), dtype=np.bool_))
    provenance: Provenance = field(default_factory=Provenance)

    def __post_init__(self) -> None:
        z = np.array(self.z, dtype=np.float64)
        z[~np.isfinite(z)] = np.nan
        filled = np.array(self.filled, dtype=np.bool_)
        if filled.size == 0:
            filled = np.zeros(z.shape, dtype=np.bool_)
        if z.ndim != 2 or z.size == 0:
            msg = f"a terrain needs a grid of rows and columns, got an array of shape {z.shape}"
            raise TerrainError(msg)
        if filled.shape != z.shape:
            msg = f"`filled` has shape {filled.shape}, the levels have {z.shape}"
            raise TerrainError(msg)
        if not (np.all(np.isfinite(self.cell)) and min(self.cell) > 0):
            msg = f"the cell size must be more than 0 m, got {self.cell}"
            raise TerrainError(msg)
        for name, array in (("z", z), ("filled", filled)):
            array.flags.writeable = False
            object.__setattr__(self, name, array)

    @classmethod
    def from_array(
        cls,
        z: npt.ArrayLike,
        cell_size: float | tuple[float, float],
        origin: tuple[float, float] = (0, 0),
        crs: Any = None,
    ) -> "Terrain":
        """A terrain from an array of levels.

        Parameters
        ----------
        z : (rows, cols) array-like
            Levels [m], row 0 in the north, NaN = no data.
        cell_size : float or (float, float)
            Side of a cell, or its width and height [m on the ground].
        origin : (float, float)
            x, y of the outer north-west corner [m].
        crs : anything pyproj.CRS takes, optional
            Only labels x and y; nothing is warped and no scale is tested.

        Raises
        ------
        TerrainError
            The array is not two-dimensional, the cell size not positive, the CRS unknown.
        """
        if np.ndim(cell_size) == 0:
            cell = (float(cell_size), float(cell_size))  # type: ignore[arg-type]
        else:
            width, height = cell_size  # type: ignore[misc]
            cell = (float(width), float(height))
        try:
            known = None if crs is None else CRS.from_user_input(crs)
        except CRSError as error:
            msg = (
                f"the coordinate system {crs!r} is not known; give an EPSG code such as EPSG:32633"
            )
            raise TerrainError(msg) from error
        return cls(
            z=np.asarray(z, dtype=np.float64),
            cell=cell,
            origin=(float(origin[0]), float(origin[1])),
            crs=known,
        )

    @property
    def shape(self) -> tuple[int, int]:
        """(rows, cols)."""
        rows, cols = self.z.shape
        return rows, cols

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """West, south, east, north of the grid's outer edge [m]."""
        rows, cols = self.shape
        west, north = self.origin
        return west, north - rows * self.cell[1], west + cols * self.cell[0], north
