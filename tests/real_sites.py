"""Sites on real ground, their points picked by program from flow routing (see the data's README).

Attribution: gabilan NCALM and OpenTopography; auckland LINZ and Auckland Council, CC BY 4.0;
sanpedro, landlab, muscatatuck and inl as their folders' licence files say; jacksboro comes with
matplotlib.
"""

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import rasterio
from affine import Affine
from matplotlib import cbook
from pyproj import Transformer
from shapely.geometry import Polygon

from planner.site.defaults import default_line
from planner.site.read import LINE_ROLES
from planner.site.value import Area, Elevation, Point, PointRole, Site, Sketch, Source

Levels = np.ndarray[Any, np.dtype[np.float64]]
ROLES: dict[str, PointRole] = {
    "source": "source",
    "pump": "pump",
    "tank": "tank",
    "outlet": "outlet",
}


@dataclass(frozen=True, slots=True)
class Ground:
    """A folder of elevation files and what must be said of them."""

    folder: str
    files: tuple[str, ...]
    crs: str | None = None  # of grids that carry none; their scenario is in their own metres


GROUNDS = {
    "gabilan": Ground("gabilan_1m", ("gabilan_utm10.tif",)),
    "gabilan-feet": Ground("gabilan_1m", ("gabilan_derived_ftUS_5ft.tif",)),
    "auckland": Ground("auckland_1m", ("DEM_BA32_4003_2013.tif", "DEM_BA32_4103_2013.tif")),
    "sanpedro": Ground("sanpedro_10m", ("dem.tif",)),
    "landlab": Ground("landlab_small", ("bijou_gully_subset_5m_edit_dx_filled.asc",), "EPSG:32613"),
}


def scenario_site(data: Path, name: str, *areas: Area, flow: float = 1e-3) -> Site:
    """The scenario of a folder as a site made in Python."""
    ground = GROUNDS[name]
    folder = data / ground.folder
    return python_site(
        name,
        tuple(folder / file for file in ground.files),
        _points(folder / "scenario.geojson", ground.crs),
        areas,
        crs=ground.crs,
        flow=flow,
    )


def python_site(
    title: str,
    files: tuple[Path, ...],
    points: tuple[Point, ...],
    areas: tuple[Area, ...] = (),
    *,
    crs: str | None = None,
    flow: float = 1e-3,
) -> Site:
    return Site(
        title=title,
        elevation=Elevation(files=files, crs=crs),
        sketch=Sketch(points, areas),
        lines={role: default_line(role) for role in LINE_ROLES},
        units="us" if title.endswith("feet") else "metric",
        source=Source(flow=flow, season="dry"),
        need=1.0,
    )


def box_area(site: Site, share: float, half: float) -> Area:
    """A square closed area of so many metres half a side, on the straight way of the delivery."""
    pump, tank = (np.array(site.sketch.role(role)[0].at) for role in ("pump", "tank"))
    lon, lat = pump + share * (tank - pump)
    north = half / 111_320.0
    east = north / np.cos(np.radians(lat))
    ring = [(lon + i * east, lat + j * north) for i, j in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    return Area("orchard", "avoid", Polygon(ring))


def _points(file: Path, crs: str | None) -> tuple[Point, ...]:
    features = json.loads(file.read_text(encoding="utf-8"))["features"]
    spots = [f for f in features if f["geometry"]["type"] == "Point"]
    xy = np.array([f["geometry"]["coordinates"] for f in spots])
    if crs is not None:
        to_degrees = Transformer.from_crs(crs, "EPSG:4326", always_xy=True)
        xy = np.column_stack(to_degrees.transform(*xy.T))
    return tuple(
        Point(said["properties"]["role"], ROLES[said["properties"]["role"]], (float(x), float(y)))
        for said, (x, y) in zip(spots, xy, strict=True)
    )


def jacksboro(folder: Path) -> Site:
    """Matplotlib's sample of 3 arc-seconds as a GeoTIFF, and points on one of its hillsides."""
    sample = np.load(str(cbook.get_sample_data("jacksboro_fault_dem.npz", asfileobj=False)))
    levels = sample["elevation"].astype(np.float32)
    west, north = float(sample["xmin"]), float(max(sample["ymin"], sample["ymax"]))
    step = float(sample["dx"])
    file = folder / "jacksboro.tif"
    with rasterio.open(
        file,
        "w",
        driver="GTiff",
        count=1,
        height=levels.shape[0],
        width=levels.shape[1],
        dtype="float32",
        crs="EPSG:4326",
        transform=Affine(step, 0.0, west, 0.0, -step, north),
    ) as out:
        out.write(levels, 1)
    return python_site("jacksboro", (file,), hillside_points(file, 15.0, 30.0, lift=(40.0, 120.0)))


def muscatatuck(data: Path) -> Site:
    """A surface model, trees and roofs and all."""
    file = data / "muscatatuck_1m_dsm" / "dem.tif"
    return python_site(
        "muscatatuck", (file,), hillside_points(file, 1.0, 9.0, lift=(4.0, 40.0), apart=12)
    )


def inl(data: Path) -> Site:
    """Mountains on a grid of 100 m whose heights are feet and nobody says so."""
    file = data / "inl_100m_feet" / "inl_dem_crop_feet.tif"
    return python_site("inl", (file,), hillside_points(file, 150.0, 400.0, lift=(300.0, 900.0)))


def hillside_points(
    file: Path,
    least: float,
    most: float,
    *,
    lift: tuple[float, float],
    apart: int = 1,
) -> tuple[Point, ...]:
    """Source, pump, tank and outlet where the file has so much fall and lift within a few cells."""
    with rasterio.open(file) as dataset:
        levels = dataset.read(1).astype(float)
        levels[levels == dataset.nodata] = np.nan
        found = _hillside(levels, (least, most), lift, apart)
        to_degrees = Transformer.from_crs(dataset.crs, "EPSG:4326", always_xy=True)
        lonlat = [to_degrees.transform(*dataset.xy(row, col))[:2] for row, col in found]
    names = ("source", "pump", "tank", "outlet")
    return tuple(
        Point(name, ROLES[name], (float(lon), float(lat)))
        for name, (lon, lat) in zip(names, lonlat, strict=True)
    )


def _hillside(
    levels: Levels, fall: tuple[float, float], lift: tuple[float, float], apart: int
) -> list[tuple[int, int]]:
    """The first cells, row by row, whose neighbours so many cells apart have this fall and lift."""
    reach = 5 * apart
    for row in range(reach, levels.shape[0] - reach):
        for col in range(reach, levels.shape[1] - reach):
            places = [
                (row, col),
                (row, col + apart),
                (row - 4 * apart, col),
                (row - 4 * apart, col - 3 * apart),
            ]
            source, pump, tank, outlet = (float(levels[place]) for place in places)
            fits = fall[0] <= source - pump <= fall[1] and lift[0] <= tank - pump <= lift[1]
            if fits and tank - outlet >= 2.0:
                return places
    msg = "no such hillside"
    raise LookupError(msg)
