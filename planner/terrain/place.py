"""`Place`: where on the Earth a terrain is wanted, and the metric plane laid there."""

from dataclasses import dataclass

import numpy as np
from pyproj import CRS
from pyproj.crs import GeographicCRS, ProjectedCRS
from pyproj.crs.coordinate_operation import TransverseMercatorConversion
from pyproj.exceptions import ProjError

from planner.errors import TerrainError
from planner.terrain.frame import between
from planner.terrain.layer import Layer

Bounds = tuple[float, float, float, float]  # west, south, east, north

LONLAT = "EPSG:4326"
HOME_DECIMALS = 2  # degrees, about a kilometre: neighbouring sketches share their plane
EDGE_POINTS = 21  # along each side of a box when it is bent into another projection


@dataclass(frozen=True, slots=True)
class Place:
    """The place a terrain is wanted for.

    Attributes
    ----------
    centre : (float, float)
        Longitude, latitude [degrees, WGS 84].
    home : pyproj.CRS
        A transverse Mercator whose central meridian passes here: metres true to 1 in 10^5 for
        25 km around, and no zone border.
    window : (west, south, east, north) or None
        In `home` [m]; None: all there is.
    """

    centre: tuple[float, float]
    home: CRS
    window: Bounds | None

    def window_in(self, crs: CRS) -> Bounds | None:
        """The window's box in another CRS; longitudes run on past 180° where they must."""
        if self.window is None or crs == self.home:
            return self.window
        west, south, east, north = bent_box(self.home, crs, self.window)
        if crs.is_geographic:
            if east < west:
                east += 360.0
            turns = 360.0 * round((self.centre[0] - (west + east) / 2.0) / 360.0)
            west, east = west + turns, east + turns
        return west, south, east, north


def place_of(around: Bounds | None, margin: float, layers: list[Layer]) -> Place:
    """The place round a sketch, or round the first file when there is no sketch.

    Parameters
    ----------
    around : (west, south, east, north) or None
        Box round the sketch [degrees, WGS 84].
    margin : float
        Ground wanted round that box [m], 0 or more.

    Raises
    ------
    TerrainError
        The box is none on this Earth, the margin negative.
    """
    if not (np.isfinite(margin) and margin >= 0.0):
        msg = f"the margin round the sketch must be 0 m or more, got {margin}"
        raise TerrainError(msg)
    if around is None:
        centre = _middle(layers[0])
        return Place(centre, _home(centre, layers[0].crs), None)
    west, south, east, north = around
    if not (-180.0 <= west <= east <= 180.0 and -90.0 < south <= north < 90.0):
        msg = (
            "the sketch's box must be west, south, east, north in degrees of longitude and "
            f"latitude, got {west}, {south}, {east}, {north}"
        )
        raise TerrainError(msg)
    centre = ((west + east) / 2.0, (south + north) / 2.0)
    home = _home(centre, layers[0].crs)
    box = bent_box(CRS(LONLAT), home, around)
    window = (box[0] - margin, box[1] - margin, box[2] + margin, box[3] + margin)
    return Place(centre, home, window)


def bent_box(source: CRS, target: CRS, box: Bounds) -> Bounds:
    """The box in `target` round a box in `source`.

    Raises
    ------
    TerrainError
        Part of the box can't be shown in `target`.
    """
    try:
        bent = between(source, target).transform_bounds(*box, densify_pts=EDGE_POINTS)
    except ProjError as error:
        msg = f"the box {box} does not fit into the coordinate system {target.name!r}"
        raise TerrainError(msg) from error
    if not np.all(np.isfinite(bent)):
        msg = f"the box {box} does not fit into the coordinate system {target.name!r}"
        raise TerrainError(msg)
    return bent[0], bent[1], bent[2], bent[3]


def covered(layer: Layer) -> str:
    """What a file covers, in words: its box in longitude and latitude."""
    try:
        west, south, east, north = bent_box(layer.crs, CRS(LONLAT), layer.bounds)
    except TerrainError:
        return f"{layer.name} lies outside its own coordinate system {layer.crs.name!r}"
    return (
        f"{layer.name} covers longitude {west:.5f} to {east:.5f}, "
        f"latitude {south:.5f} to {north:.5f}"
    )


def _middle(layer: Layer) -> tuple[float, float]:
    west, south, east, north = layer.bounds
    lon, lat = between(layer.crs, LONLAT).transform((west + east) / 2.0, (south + north) / 2.0)
    if not (np.isfinite(lon) and np.isfinite(lat) and abs(lat) < 90.0):
        msg = (
            f"{layer.name!r} lies outside its coordinate system {layer.crs.name!r}; "
            "is it the right one?"
        )
        raise TerrainError(msg)
    return float(lon), float(lat)


def _home(centre: tuple[float, float], like: CRS) -> CRS:
    """A transverse Mercator at `centre` on the datum of `like`, so that no datum shift enters."""
    datum = like.geodetic_crs
    plain = (
        datum is not None
        and datum.prime_meridian is not None
        and datum.prime_meridian.longitude == 0.0
        and datum.axis_info[0].unit_name == "degree"
    )
    return ProjectedCRS(
        conversion=TransverseMercatorConversion(
            latitude_natural_origin=round(centre[1], HOME_DECIMALS),
            longitude_natural_origin=round(centre[0], HOME_DECIMALS),
        ),
        name="local transverse Mercator",
        geodetic_crs=datum.to_2d() if plain and datum is not None else GeographicCRS(),
    )
