"""The ground under the plan for the page: its picture, its contours, levels for the pointer.

All of it in the terrain's own grid: nothing is warped, so that what is drawn lies where it is.
"""

import math

import numpy as np
from shapely.geometry import LineString

from planner.errors import TerrainError
from planner.live.rounded import places
from planner.live.value import XY, GroundView
from planner.output.map.ground import SHORTEST, STEEPER, ground_picture
from planner.output.map.panel import levels_source
from planner.output.map.ticks import nice_step
from planner.site.value import Units
from planner.terrain.relief import contour_interval, contours, hillshade
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from planner.units.show import per_si, symbol

MOST_PIXELS = 4096  # of a side of the picture
MOST_NODES = 256  # of a side of the pointer's levels
MOST_CELLS = 1000  # of a side of the ground that contours are drawn of
AWAY = 0.25  # cells; a contour may be simplified by so much
DECIMETRES = 10.0  # in a metre


def ground_view(terrain: Terrain, units: Units) -> GroundView:
    """The ground of a terrain as the page draws it.

    Parameters
    ----------
    terrain : Terrain
    units : {"metric", "us"}
        Of the contours' even levels.

    Raises
    ------
    TerrainError
        The terrain has no coordinate system, so that no place on it can be told.
    """
    if terrain.crs is None:
        msg = "the elevation data has no coordinate system; give one, such as crs = EPSG:32633"
        raise TerrainError(msg)
    scale, error = per_si("level", units), terrain.provenance.standard_error
    interval = nice_step(contour_interval(terrain) * scale)
    rows, cols = (min(side, MOST_NODES) for side in terrain.shape)
    return GroundView(
        crs=terrain.crs.to_wkt(),
        bounds=[float(edge) for edge in terrain.bounds],
        cell=max(terrain.cell),
        rows=rows,
        cols=cols,
        levels=_nodes(terrain, rows, cols),
        unit=symbol("level", units),
        per_metre=scale,
        interval=interval,
        contours=_contours(terrain, interval / scale),
        kind=terrain.provenance.kind,
        standard_error=error if math.isfinite(error) else None,
        data=levels_source(terrain, units),
    )


def ground_png(terrain: Terrain) -> bytes:
    """The hillshade cell for cell, or thinned to 4096 pixels a side; clear without data."""
    thin = -(-max(terrain.shape) // MOST_PIXELS)
    light = hillshade(terrain, exaggeration=STEEPER)[::thin, ::thin]
    there = np.isfinite(light)
    return ground_picture(np.round(np.where(there, light, 0.0) * 255).astype(np.uint8), there)


def _nodes(terrain: Terrain, rows: int, cols: int) -> list[int | None]:
    """Levels [dm] at nodes spread evenly from corner to corner, row by row from the north."""
    west, south, east, north = terrain.bounds
    x, y = np.meshgrid(np.linspace(west, east, cols), np.linspace(north, south, rows))
    z = np.round(ground_at(terrain, x.ravel(), y.ravel()) * DECIMETRES)
    return [int(level) if math.isfinite(level) else None for level in z.tolist()]


def _contours(terrain: Terrain, interval: float) -> list[tuple[float, bool, list[XY]]]:
    """Contours every `interval` [m], specks left out."""
    ground = _coarse(terrain)
    cell = max(ground.cell)
    drawn = []
    for contour in contours(ground, interval):
        line = LineString(contour.xy).simplify(AWAY * cell)
        if line.length > SHORTEST * cell:
            drawn.append((round(contour.level, 3), contour.index, places(line.coords)))
    return drawn


def _coarse(terrain: Terrain) -> Terrain:
    """The ground in means over square blocks of cells, few enough to draw."""
    size = -(-max(terrain.shape) // MOST_CELLS)
    if size == 1:
        return terrain
    rows, cols = (side // size for side in terrain.shape)
    if not (rows and cols):
        return terrain  # a strip of a few cells
    blocks = terrain.z[: rows * size, : cols * size].reshape(rows, size, cols, size)
    width, height = terrain.cell
    return Terrain(
        z=blocks.mean(axis=(1, 3)),
        cell=(width * size, height * size),
        origin=terrain.origin,
        crs=terrain.crs,
    )
