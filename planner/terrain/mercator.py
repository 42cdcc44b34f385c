"""Bringing a picture on the terrain's grid to Web Mercator, which browser maps are drawn in."""

import math

import numpy as np
import numpy.typing as npt
from pyproj import CRS

from planner.errors import TerrainError
from planner.terrain.frame import between
from planner.terrain.place import bent_box
from planner.terrain.sample import bilinear, grid_position
from planner.terrain.value import FloatArray, Terrain

WEB_MERCATOR = "EPSG:3857"
MOST_PIXELS = 16_000_000  # a picture browsers still take

Image = npt.NDArray[np.uint8]


def to_web_mercator(
    image: Image, terrain: Terrain
) -> tuple[Image, tuple[float, float, float, float]]:
    """A picture of the terrain as Web Mercator shows it.

    Parameters
    ----------
    image : (rows, cols) or (rows, cols, 4) uint8
        Grey, or red, green, blue and opacity, on the terrain's cells. Grey is opaque where the
        terrain has data.

    Returns
    -------
    image : (rows, cols, 4) uint8
        Opacity 0 outside the terrain.
    bounds : (south, west, north, east)
        Of the picture's outer edges [degrees, WGS 84].

    Raises
    ------
    TerrainError
        The picture does not fit the terrain, or the terrain has no coordinate system.
    """
    if terrain.crs is None:
        msg = "the elevation data has no coordinate system, so it has no place on a map"
        raise TerrainError(msg)
    picture = _rgba(image, terrain)
    west, south, east, north = bent_box(terrain.crs, CRS(WEB_MERCATOR), terrain.bounds)
    rows, cols = _size(terrain, east - west, north - south)
    x = west + (np.arange(cols) + 0.5) * (east - west) / cols
    y = north - (np.arange(rows) + 0.5) * (north - south) / rows
    row, col = grid_position(
        terrain, *between(WEB_MERCATOR, terrain.crs).transform(*np.meshgrid(x, y))
    )
    lon, lat = between(WEB_MERCATOR, "EPSG:4326").transform([west, east], [south, north])
    return _sample(picture, row, col), (lat[0], lon[0], lat[1], lon[1])


def _rgba(image: Image, terrain: Terrain) -> Image:
    """The picture with four channels."""
    if image.dtype != np.uint8 or image.shape not in {terrain.shape, (*terrain.shape, 4)}:
        msg = (
            f"the picture must be uint8 on the terrain's {terrain.shape[0]} x {terrain.shape[1]} "
            f"cells, got {image.dtype} of shape {image.shape}"
        )
        raise TerrainError(msg)
    if image.ndim == 3:
        return image
    opacity = np.where(np.isfinite(terrain.z), np.uint8(255), np.uint8(0))
    return np.stack([image, image, image, opacity], axis=-1)


def _size(terrain: Terrain, width: float, height: float) -> tuple[int, int]:
    """(rows, cols) that keep the number of cells across the longer way, within reason."""
    rows, cols = terrain.shape
    pixel = min(width / cols, height / rows)
    pixel = max(pixel, math.sqrt(width * height / MOST_PIXELS))
    return max(round(height / pixel), 1), max(round(width / pixel), 1)


def _sample(picture: Image, row: FloatArray, col: FloatArray) -> Image:
    """The picture at fractional cells; colours count by their opacity, so none bleeds in."""
    opacity = picture[..., 3].astype(np.float64)
    there = np.nan_to_num(bilinear(opacity, row, col))
    channels = [
        np.nan_to_num(bilinear(picture[..., k] * opacity, row, col)) / np.maximum(there, 1e-9)
        for k in range(3)
    ]
    return np.round(np.stack([*channels, there], axis=-1)).astype(np.uint8)
