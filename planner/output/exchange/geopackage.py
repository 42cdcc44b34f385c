"""`plan.gpkg`: every layer of a plan in one file, with its figures as attributes."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import chain
from pathlib import Path

import pyogrio
from pyproj import CRS

from planner.errors import TerrainError
from planner.output.exchange.field_layers import field_layers
from planner.output.exchange.layer import Layer
from planner.output.exchange.line_layers import line_layers
from planner.output.exchange.site_layers import site_layers
from planner.output.stakes.value import StakedLine
from planner.record.value import Plan

CLOCK = "OGR_CURRENT_DATE"
PROBE = 4_000_000  # bytes, more than such a file has


def write_geopackage(plan: Plan, staked: Sequence[StakedLine], path: Path) -> None:
    """Write a GeoPackage in the terrain's own coordinate system.

    Layers, empty ones too: `points`, `lines`, `pipes`, `samples`, `high_points`, `low_points`,
    `vents`, `crossings`, `other_routes`, `stakes`, `findings`, `areas`, `streams`, `levelled`,
    `as_built`, `as_built_marks`; tables without places: `owners`, `plan`. Figures are in SI.

    Parameters
    ----------
    plan : Plan
    staked : sequence of StakedLine
    path : Path
        Replaced if it is there. The file's own date is that of the plan, so that the same plan
        gives the same bytes.

    Raises
    ------
    TerrainError
        The plan's terrain has no coordinate system.
    OSError
        The disk is full or can't be written.
    """
    crs = plan.terrain.crs
    if crs is None:
        msg = "the elevation data has no coordinate system; give one, such as crs = EPSG:32633"
        raise TerrainError(msg)
    path.unlink(missing_ok=True)
    layers = chain(site_layers(plan), line_layers(plan.lines), field_layers(plan, staked))
    with _dated(f"{plan.made.isoformat()}T00:00:00.000Z"):
        try:
            for place, layer in enumerate(layers):
                _write(layer, crs, path, append=place > 0)
        except RuntimeError:  # GDAL's, who does not tell what the disk said
            _ask_disk(path)
            raise


def _write(layer: Layer, crs: CRS, path: Path, *, append: bool) -> None:
    pyogrio.write_dataframe(
        layer.frame(crs),
        path,
        layer=layer.name,
        driver="GPKG",
        append=append,
        geometry_type=layer.shape,
        layer_options={"DESCRIPTION": layer.told},
    )


def _ask_disk(path: Path) -> None:
    """Write in the file's place, so that a disk that is full or broken says so itself."""
    path.write_bytes(bytes(PROBE))


@contextmanager
def _dated(now: str) -> Iterator[None]:
    """Have GDAL take this for the present: it notes when a layer was last changed."""
    before = pyogrio.get_gdal_config_option(CLOCK)
    pyogrio.set_gdal_config_options({CLOCK: now})
    try:
        yield
    finally:
        pyogrio.set_gdal_config_options({CLOCK: before})
