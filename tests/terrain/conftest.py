"""A maker of small elevation files."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import rasterio
from affine import Affine

Raster = Callable[..., Path]


def write_raster(
    path: Path, z: Any, transform: Affine, crs: str | None = "EPSG:32633", **options: Any
) -> Path:
    """A raster of heights; `unit` sets the band's unit tag, other options go to the writer."""
    unit = options.pop("unit", None)
    array = np.atleast_3d(np.asarray(z)).transpose(2, 0, 1) if np.ndim(z) == 2 else np.asarray(z)
    settings = {"driver": "GTiff", "dtype": "float64", **options}
    with rasterio.open(
        path,
        "w",
        count=array.shape[0],
        height=array.shape[1],
        width=array.shape[2],
        crs=crs,
        transform=transform,
        **settings,
    ) as dataset:
        dataset.write(array.astype(settings["dtype"]))
        if unit:
            dataset.set_band_unit(1, unit)
    return path


@pytest.fixture
def raster(tmp_path: Path) -> Raster:
    """Write a raster into the test's folder: raster("name.tif", z, transform, ...)."""

    def make(name: str, z: Any, transform: Affine, **options: Any) -> Path:
        return write_raster(tmp_path / name, z, transform, **options)

    return make


def hills(rows: int = 40, cols: int = 60, side: float = 2.0) -> Any:
    """Gentle ground without any symmetry [m]."""
    y, x = np.mgrid[:rows, :cols] * side
    return 300.0 + 0.07 * x - 0.11 * y + 3.0 * np.sin(x / 17.0) * np.cos(y / 23.0)
