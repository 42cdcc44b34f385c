"""The real command run in this process, and a small site for it to plan."""

import contextlib
import io
import json
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

import numpy as np
import rasterio
from affine import Affine
from pyproj import Transformer

from planner.cli import main

CRS = "EPSG:32633"
WEST, NORTH = 500_000.0, 5_200_120.0
ROWS, COLS = 120, 100
AT = Affine(1.0, 0.0, WEST, 0.0, -1.0, NORTH)

ELEVATION = '[elevation]\nfiles = ["dem.tif"]\nkind = "lidar"\n'
REST = '[source]\nflow = "12 L/min"\n[need]\nper_day = "500 L"\n'


@dataclass(frozen=True, slots=True)
class Told:
    """What a run of the command left behind: its exit status and what it said."""

    status: int
    out: str
    err: str


def headfall(*words: str | Path) -> Told:
    """Run `headfall` with these words."""
    out, err = io.StringIO(), io.StringIO()
    status: Any = None
    with (
        mock.patch.object(sys, "argv", ["headfall", *map(str, words)]),
        contextlib.redirect_stdout(out),
        contextlib.redirect_stderr(err),
    ):
        try:
            main()
        except SystemExit as left:
            status = left.code
    assert isinstance(status, int)
    return Told(status, out.getvalue(), err.getvalue())


def slope() -> Any:
    """Heights that fall to the south, without symmetry [m]."""
    y, x = np.mgrid[:ROWS, :COLS].astype(float)
    return 520.0 - 0.12 * y + 0.02 * x + 0.3 * np.sin(x / 11.0) * np.cos(y / 13.0)


def lonlat(east: float, south: float) -> list[float]:
    """The place so many metres east and south of the data's north-west corner."""
    lon, lat = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True).transform(
        WEST + east, NORTH - south
    )
    return [round(lon, 7), round(lat, 7)]


SPRING, TANK = lonlat(50, 20), lonlat(45, 100)


def point(name: str, at: list[float], more: str = "") -> str:
    """A point of the sketch, in the site file's words."""
    return f"[[sketch.points]]\nname = {json.dumps(name, ensure_ascii=False)}\nat = {at}\n{more}\n"


POINTS = point("spring", SPRING) + point("tank", TANK)
RAM_POINTS = (
    point("spring", lonlat(50, 60))
    + point("ram", lonlat(48, 95))
    + point("tank", lonlat(45, 15))
    + point("trough", lonlat(70, 60))
)


def write_dem(path: Path, z: Any = None, at: Affine = AT, crs: str | None = CRS) -> Path:
    """An elevation file; several bands where `z` has three axes."""
    heights = np.asarray(slope() if z is None else z, dtype=np.float32)
    bands = heights if heights.ndim == 3 else heights[None]
    count, height, width = bands.shape
    with rasterio.open(
        path,
        "w",
        driver="GTiff",
        count=count,
        height=height,
        width=width,
        dtype="float32",
        crs=crs,
        transform=at,
        nodata=-9999.0,
    ) as dataset:
        dataset.write(bands)
    return path


def write_site(
    folder: Path, *, elevation: str = ELEVATION, rest: str = REST, sketch: str = POINTS
) -> Path:
    """A site file in a folder, with its elevation file unless one is there already."""
    folder.mkdir(exist_ok=True)
    if not (folder / "dem.tif").exists():
        write_dem(folder / "dem.tif")
    site = folder / "site.toml"
    site.write_text(f'title = "Small Hollow"\n{elevation}{rest}{sketch}', encoding="utf-8")
    return site
