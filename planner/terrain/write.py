"""Writing a terrain as a GeoTIFF."""

import tempfile
from pathlib import Path

import numpy as np
import rasterio
from affine import Affine
from rasterio.errors import RasterioError

from planner.errors import OutputError
from planner.terrain.value import Terrain


def write_geotiff(terrain: Terrain, path: str | Path) -> None:
    """Write the levels [m] as a compressed float32 GeoTIFF, NaN where there is no data.

    The file appears under its name only when it is whole.

    Raises
    ------
    OutputError
        It can't be written there.
    """
    target = Path(path)
    rows, cols = terrain.shape
    (west, north), (width, height) = terrain.origin, terrain.cell
    try:
        with tempfile.TemporaryDirectory(dir=target.parent) as folder:
            draft = Path(folder) / "draft.tif"
            with rasterio.open(
                draft,
                "w",
                driver="GTiff",
                height=rows,
                width=cols,
                count=1,
                dtype="float32",
                nodata=np.nan,
                crs=None if terrain.crs is None else terrain.crs.to_wkt(),
                transform=Affine(width, 0.0, west, 0.0, -height, north),
                compress="deflate",
                predictor=3,
            ) as dataset:
                dataset.write(terrain.z.astype(np.float32), 1)
                dataset.set_band_unit(1, "metre")
            draft.replace(target)
    except (OSError, RasterioError) as error:
        msg = f"the elevation file {target.name!r} can't be written to {str(target.parent)!r}"
        raise OutputError(msg) from error
