"""`Layer`: one elevation file, described but not yet read, and the reading of a window of it."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from affine import Affine
from pyproj import CRS
from pyproj.exceptions import CRSError
from rasterio.errors import RasterioError
from rasterio.windows import Window

from planner.errors import TerrainError
from planner.terrain.files import open_raster, refuse_remote
from planner.terrain.heights import METRES_PER, unit_in_file
from planner.terrain.value import FloatArray, HeightUnit

# Void markers that a file forgot to declare (-9999, -32768, 3.4e38 ...) lie far outside what
# land can be: the lowest is the Dead Sea's shore, about -440 m; the upper limit lets heights
# in unlabelled feet pass (Everest is 29 032 ft).
LOWEST_LAND = -500.0  # m
HIGHEST_LAND = 30_000.0  # m, or feet taken for metres
UNDECLARED_VOID = -999.0  # too common a marker, too odd a height


@dataclass(frozen=True, slots=True)
class Layer:
    """One elevation file.

    Attributes
    ----------
    crs : pyproj.CRS
        Of x and y alone.
    transform : Affine
        (col, row) of cell corners to x, y; may be rotated, oblong or south-up.
    shape : (rows, cols)
    unit : {"m", "ft", "us_ft"}
        In which the heights are read.
    unit_said : {"m", "ft", "us_ft"} or None
        Unit that the file itself states.
    """

    path: Path
    band: int
    crs: CRS
    transform: Affine
    shape: tuple[int, int]
    unit: HeightUnit
    unit_said: HeightUnit | None

    @property
    def name(self) -> str:
        """The file's name, without its folder."""
        return self.path.name

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """West, south, east, north of the box round the file, in its own CRS."""
        return box_of(self.transform, self.shape)

    def brought_near(self, longitude: float) -> "Layer":
        """The same layer with its longitudes turned by whole circles towards `longitude`."""
        if not self.crs.is_geographic:
            return self
        west, _, east, _ = self.bounds
        turns = round((longitude - (west + east) / 2.0) / 360.0)
        a, b, c, d, e, f = self.transform[:6]
        return replace(self, transform=Affine(a, b, c + 360.0 * turns, d, e, f))


def apply(transform: Affine, col: float, row: float) -> tuple[float, float]:
    """x, y of a cell corner; written out, since the library's operator for it is changing."""
    a, b, c, d, e, f = transform[:6]
    return a * col + b * row + c, d * col + e * row + f


def box_of(transform: Affine, shape: tuple[int, int]) -> tuple[float, float, float, float]:
    """West, south, east, north of the box round a grid of cells."""
    rows, cols = shape
    corners = [apply(transform, *corner) for corner in ((0, 0), (cols, 0), (0, rows), (cols, rows))]
    x, y = zip(*corners, strict=True)
    return min(x), min(y), max(x), max(y)


def describe(path: Path, *, crs: str | None, height_unit: HeightUnit | None, band: int) -> Layer:
    """What an elevation file holds, without reading its heights.

    Parameters
    ----------
    crs : str or None
        Coordinate system for a file that carries none.
    height_unit : {"m", "ft", "us_ft"} or None
        Unit for a file that states none; None: metres.
    band : int
        From 1.

    Raises
    ------
    TerrainError
        Not a raster; no such band; no position or coordinate system.
    """
    refuse_remote(path)
    with open_raster(path) as dataset:
        _demand_heights(dataset, path.name, band)
        full = _full_crs(dataset, path.name, crs)
        said = unit_in_file(dataset.units[band - 1], full)
        transform = dataset.transform
        if abs(transform.determinant) == 0.0 or not np.all(np.isfinite(transform)):
            msg = f"the cells of {path.name!r} have no size on the ground"
            raise TerrainError(msg)
        return Layer(
            path=path,
            band=band,
            crs=_horizontal(full, path.name),
            transform=transform,
            shape=(dataset.height, dataset.width),
            unit=said or height_unit or "m",
            unit_said=said,
        )


def read_window(layer: Layer, row: int, col: int, shape: tuple[int, int]) -> FloatArray:
    """(rows, cols) heights [m] of the window that starts at `row`, `col`; NaN = no data.

    Not-a-number, infinite, declared void and impossible heights all become NaN.

    Raises
    ------
    TerrainError
        The file is damaged.
    """
    window = Window(col, row, shape[1], shape[0])
    try:
        with open_raster(layer.path) as dataset:
            masked = dataset.read(layer.band, window=window, masked=True)
            scale = dataset.scales[layer.band - 1]
            offset = dataset.offsets[layer.band - 1]
    except RasterioError as error:
        msg = f"{layer.name!r} is damaged: its heights can't be read; download it again"
        raise TerrainError(msg) from error
    z = np.asarray(masked.data, dtype=np.float64)
    void = np.ma.getmaskarray(masked) | ~np.isfinite(z) | (z == UNDECLARED_VOID)
    if scale != 1.0 or offset != 0.0:
        z = z * scale + offset
    if layer.unit != "m":
        z = z * METRES_PER[layer.unit]
    z[void | (z < LOWEST_LAND) | (z > HIGHEST_LAND)] = np.nan
    return z


def _demand_heights(dataset: Any, name: str, band: int) -> None:
    if not 1 <= band <= dataset.count:
        msg = f"{name!r} has bands 1 to {dataset.count}, band {band} was asked for; choose another"
        raise TerrainError(msg)
    if np.dtype(dataset.dtypes[band - 1]).kind not in "iuf":
        kind = dataset.dtypes[band - 1]
        msg = (
            f"band {band} of {name!r} holds no plain numbers but {kind}; choose the band that "
            "holds the heights"
        )
        raise TerrainError(msg)
    if dataset.transform.is_identity and dataset.crs is None:
        msg = f"{name!r} does not say where on the ground it lies; give a georeferenced raster"
        raise TerrainError(msg)


def _full_crs(dataset: Any, name: str, fallback: str | None) -> CRS:
    """The file's coordinate system, else the one the user gave."""
    try:
        if dataset.crs:
            own = CRS.from_wkt(dataset.crs.to_wkt())
            if own.is_geographic or own.is_projected or own.is_compound:
                return own
    except CRSError:
        pass  # a coordinate system nobody can read is none
    if fallback is None:
        msg = (
            f'{name!r} has no coordinate system; give one, such as crs = "EPSG:32633" under '
            "[elevation], or --crs with a drawn line"
        )
        raise TerrainError(msg)
    try:
        return CRS.from_user_input(fallback)
    except CRSError as error:
        msg = f"the coordinate system {fallback!r} is not known; give one such as EPSG:32633"
        raise TerrainError(msg) from error


def _horizontal(crs: CRS, name: str) -> CRS:
    """The part of a coordinate system that places x and y."""
    plan = crs.sub_crs_list[0] if crs.is_compound else crs
    if plan.is_bound and plan.source_crs is not None:
        plan = plan.source_crs
    if not (plan.is_geographic or plan.is_projected):
        msg = f"the coordinate system of {name!r}, {plan.name!r}, gives no place on a map"
        raise TerrainError(msg)
    return plan.to_2d() if len(plan.axis_info) > 2 else plan
