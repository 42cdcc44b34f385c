"""Reading elevation files into one `Terrain` round a sketch."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from planner.errors import TerrainError
from planner.terrain.accuracy import guess_kind, looks_like_surface_model, standard_error_of
from planner.terrain.files import local_file
from planner.terrain.frame import between
from planner.terrain.grid import Grid, grid_as_it_lies, grid_to_warp_to, ground_cell
from planner.terrain.heights import METRES_PER, UNIT_WORDS, plan_in_feet, unit_doubt
from planner.terrain.layer import Layer, describe
from planner.terrain.mosaic import Painter, coarsening, copy_from, paint_grid, warp_from
from planner.terrain.place import LONLAT, Bounds, Place, covered, place_of
from planner.terrain.sheet import Sheet, lay_out
from planner.terrain.value import DataKind, FloatArray, HeightUnit, Provenance, Terrain
from planner.terrain.voids import fill_small_voids

MOST_CELLS = 25_000_000  # of a terrain; a larger window is averaged
MOST_FILES = 1000
MOST_CELLS_READ = 4_000_000_000  # of the files; some minutes of reading
COUNTS = 0.01  # share of the cells from which on coarser data counts in the stated cell size


def read_terrain(  # noqa: PLR0913  what a site file says of its elevation data
    files: str | Path | Sequence[str | Path],
    *,
    around: Bounds | None = None,
    margin: float = 200.0,
    crs: str | None = None,
    height_unit: HeightUnit | None = None,
    kind: DataKind | None = None,
    standard_error: float | None = None,
    surface_model: bool | None = None,
    band: int = 1,
    max_cells: int = MOST_CELLS,
) -> Terrain:
    """The ground round a sketch, on one metric grid, in metres.

    Data that is metric on the ground already (projected in metres, square cells, north-up, scale
    true to 0.1 %) is used cell for cell; all other is warped, bilinear, at its own resolution to
    a transverse Mercator centred on the sketch.

    Parameters
    ----------
    files : path or sequence of paths
        Rasters GDAL reads, overlapping or adjoining. Finer cells come first, then the order
        given.
    around : (west, south, east, north), optional
        Box round the sketch [degrees, WGS 84]; None: all the data.
    margin : float
        Ground read round that box [m].
    crs : str, optional
        Coordinate system of files that carry none.
    height_unit : {"m", "ft", "us_ft"}, optional
        Unit of files that state none; None: metres, and the provenance says "assumed".
    kind : str, optional
        What the data is; None: guessed from the cell size.
    standard_error : float, optional
        Of one height [m]; None: by kind and cell size.
    surface_model : bool, optional
        Whether trees and roofs are in it; None: recognised where the cells are fine enough.
    band : int
        From 1.
    max_cells : int
        A larger window is averaged in blocks to stay within.

    Returns
    -------
    Terrain
        NaN where there is no data; small holes filled and marked.

    Raises
    ------
    TerrainError
        A file can't be read or placed, none reaches the sketch, or there is no height in it.
    """
    _check_numbers(height_unit, standard_error, max_cells)
    layers = [describe(path, crs=crs, height_unit=height_unit, band=band) for path in _paths(files)]
    place = place_of(around, margin, layers)
    layers = [layer.brought_near(place.centre[0]) for layer in layers]
    near = [layer for layer in layers if _touches(layer, place)]
    if not near:
        raise TerrainError(_out_of_reach(layers, place))
    terrain = fill_small_voids(_paint(near, place, max_cells))
    about = replace(
        terrain.provenance,
        files=tuple(layer.name for layer in near),
        height_unit=near[0].unit,
        height_unit_assumed=height_unit is None and any(x.unit_said is None for x in near),
        lost_files=tuple(layer.name for layer in layers if layer not in near),
    )
    about = _judged(replace(terrain, provenance=about), kind, standard_error, surface_model)
    terrain = replace(terrain, provenance=about)
    doubt = unit_doubt(
        terrain,
        plan_feet=any(plan_in_feet(layer.crs) for layer in near),
        conflict=_conflict(near, height_unit),
    )
    return replace(terrain, provenance=replace(about, height_unit_doubt=doubt))


def _paint(layers: list[Layer], place: Place, max_cells: int) -> Terrain:
    """Heights on the grid that suits, with what is known of their making."""
    sheets = sorted(lay_out(layers), key=lambda sheet: max(ground_cell(sheet, place)))
    kept = grid_as_it_lies(sheets, place)
    painters: list[Painter]
    if kept is None:
        grid = grid_to_warp_to(sheets, place)
        painters = [warp_from(sheet) for sheet in sheets]
    else:
        grid, corner = kept
        painters = [copy_from(sheets[0], corner)]
    if grid.shape[0] * grid.shape[1] > MOST_CELLS_READ:
        msg = (
            f"the window holds {grid.shape[0]} x {grid.shape[1]} cells, too many to read; cut the "
            "elevation data to the sketch's surroundings"
        )
        raise TerrainError(msg)
    factor = coarsening(grid.shape, max_cells)
    if factor > min(grid.shape):
        msg = (
            f"the window is a strip of {grid.shape[0]} x {grid.shape[1]} cells, too thin to average"
        )
        raise TerrainError(msg)
    z, shares = paint_grid(grid, painters, factor)
    if not np.any(np.isfinite(z)):
        where = "around the sketch" if place.window else "in it"
        msg = (
            f"the elevation data ({_names(layers)}) holds no height {where}: all cells are void; "
            "give data that covers it"
        )
        raise TerrainError(msg)
    about = Provenance(
        native_cell=_native_cell(sheets, shares, place) if kept is None else max(grid.cell),
        warped=kept is None,
        coarsened=factor,
    )
    return _terrain(z, grid, factor, about)


def _terrain(z: FloatArray, grid: Grid, factor: int, about: Provenance) -> Terrain:
    cell = (grid.cell[0] * factor, grid.cell[1] * factor)
    return Terrain(z=z, cell=cell, origin=grid.origin, crs=grid.crs, provenance=about)


def _native_cell(sheets: list[Sheet], shares: tuple[int, ...], place: Place) -> float:
    """The coarsest cell [m] among the sheets that give a fair share of the terrain."""
    least = COUNTS * sum(shares)
    return max(
        max(ground_cell(sheet, place))
        for sheet, share in zip(sheets, shares, strict=True)
        if share >= least
    )


def _judged(
    terrain: Terrain, kind: DataKind | None, error: float | None, surface: bool | None
) -> Provenance:
    """The provenance with kind, standard error and nature of the data, as said or as seen."""
    about = terrain.provenance
    found = guess_kind(about.native_cell) if kind is None else kind
    default = standard_error_of(found, about.native_cell)
    return replace(
        about,
        kind=found,
        standard_error=default if error is None else error,
        surface_model=looks_like_surface_model(terrain) if surface is None else surface,
    )


def _check_numbers(unit: HeightUnit | None, error: float | None, max_cells: int) -> None:
    if unit is not None and unit not in METRES_PER:
        msg = f"the height unit is one of {', '.join(METRES_PER)}, got {unit!r}"
        raise TerrainError(msg)
    if error is not None and not (np.isfinite(error) and error > 0.0):
        msg = f"the standard error of the heights must be more than 0 m, got {error}"
        raise TerrainError(msg)
    if max_cells < 1:
        msg = f"the most cells a terrain may have must be 1 or more, got {max_cells}"
        raise TerrainError(msg)


def _paths(files: str | Path | Sequence[str | Path]) -> list[Path]:
    given = [files] if isinstance(files, str | Path) else list(files)
    if not 1 <= len(given) <= MOST_FILES:
        msg = f"give 1 to {MOST_FILES} elevation files, got {len(given)}"
        raise TerrainError(msg)
    return list(dict.fromkeys(local_file(path) for path in given))


def _touches(layer: Layer, place: Place) -> bool:
    window = place.window_in(layer.crs)
    if window is None:
        return True
    west, south, east, north = layer.bounds
    return window[0] < east and west < window[2] and window[1] < north and south < window[3]


def _out_of_reach(layers: list[Layer], place: Place) -> str:
    lon, lat = place.centre
    extents = "; ".join(covered(layer) for layer in layers[:3])
    more = f" and {len(layers) - 3} more" if len(layers) > 3 else ""
    exchanged = any(_holds(layer, (lat, lon)) for layer in layers)
    remedy = (
        "with the two exchanged it does, so write longitude first"
        if exchanged
        else "check the coordinates, or give another file"
    )
    return (
        f"the elevation data does not reach the place wanted, around longitude {lon:.5f}, "
        f"latitude {lat:.5f}: {extents}{more}; {remedy}"
    )


def _holds(layer: Layer, lonlat: tuple[float, float]) -> bool:
    x, y = between(LONLAT, layer.crs).transform(*lonlat)
    west, south, east, north = layer.bounds
    return bool(west <= x <= east and south <= y <= north)


def _conflict(layers: list[Layer], asked: HeightUnit | None) -> str | None:
    for layer in layers:
        if asked and layer.unit_said and layer.unit_said != asked:
            return (
                f"{layer.name} states heights in {UNIT_WORDS[layer.unit_said]}, the site file says "
                f"{UNIT_WORDS[asked]}; the file's own word was taken"
            )
    return None


def _names(layers: list[Layer]) -> str:
    names = ", ".join(layer.name for layer in layers[:3])
    return names if len(layers) <= 3 else f"{names} and {len(layers) - 3} more"
