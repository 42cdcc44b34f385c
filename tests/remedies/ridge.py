"""A gravity main over a ridge that it could lead round: a site of our own invention."""

from pathlib import Path

import numpy as np
import rasterio
from affine import Affine

from planner.site.draft import Draft
from planner.site.edits.open import open_draft
from planner.site.edits.value import LonLat
from planner.terrain.frame import to_lonlat
from planner.terrain.value import Terrain

CRS = "EPSG:32631"
WEST, NORTH = 500_000.0, 5_000_200.0


def ridge_draft(folder: Path, *, half: float = 45.0, error: str = "0.05 m") -> Draft:
    """Ground falling 8 % to the north, and across the way a ridge of 2.5 m, `half` m either side.

    The source stands at (0, 0), the tank at (0, 100); the grid has cells of 1 m.
    """
    x, y = np.meshgrid(np.arange(240) - 119.5, 149.5 - np.arange(200))
    ridge = 2.5 * np.exp(-(((y - 50.0) / 6.0) ** 2)) / (1.0 + np.exp(np.abs(x) - half))
    z = (500.0 - 0.08 * y + ridge).astype(np.float32)
    with rasterio.open(
        folder / "ridge.tif",
        "w",
        driver="GTiff",
        count=1,
        height=z.shape[0],
        width=z.shape[1],
        dtype="float32",
        crs=CRS,
        transform=Affine(1.0, 0.0, WEST, 0.0, -1.0, NORTH),
    ) as out:
        out.write(z, 1)
    grid = Terrain.from_array(z.astype(float), 1.0, origin=(WEST, NORTH), crs=CRS)
    source, tank = (list(spot(grid, 0.0, north)) for north in (0.0, 100.0))
    (folder / "ridge.toml").write_text(
        'title = "Ridge"\n'
        "[elevation]\n"
        'files = ["ridge.tif"]\nkind = "lidar"\nheight_unit = "m"\n'
        f'standard_error = "{error}"\n'
        '[source]\nflow = "12 L/min"\nseason = "dry"\n'
        '[need]\nper_day = "1000 L"\n'
        '[lines.main]\nbore = "26.6 mm"\nrating = "60 m"\n'
        f'[[sketch.points]]\nname = "Spring"\nrole = "source"\nat = {source}\n'
        f'[[sketch.points]]\nname = "Tank"\nrole = "tank"\nat = {tank}\n',
        encoding="utf-8",
    )
    return open_draft(folder / "ridge.toml")


def spot(terrain: Terrain, east: float, north: float) -> LonLat:
    """A place so many metres from the source."""
    lon, lat = to_lonlat(terrain, [(WEST + 120.0 + east, NORTH - 150.0 + north)])[0].tolist()
    return lon, lat
