"""The ground under the plan: hillshade, contours with their figures, and levels for the pointer."""

import base64
import io
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from PIL import Image
from shapely.geometry import LineString

from planner.output.map.along import spots
from planner.output.map.paper import Paper
from planner.output.map.ticks import nice_step
from planner.profile.value import FloatArray
from planner.site.value import Units
from planner.terrain.frame import to_local, to_lonlat
from planner.terrain.mercator import to_web_mercator
from planner.terrain.relief import contour_interval, contours, hillshade
from planner.terrain.sample import ground_at
from planner.terrain.value import Terrain
from planner.units.show import per_si

Bounds = tuple[float, float, float, float]  # south, west, north, east

DARK, LIGHT = (150, 143, 133), (250, 248, 243)  # warm greys, never darker than 60 %
SHADES = 32  # steps of grey; more can't be told apart and only make the page heavier
MOST_PIXELS = 1200  # of a side of the hillshade
GRID = 140  # nodes of a side of the pointer's levels
STEP = 0.1  # m, steps of those levels
NONE = -32768  # stands for a level that is not known
SHORTEST = 12  # cells; shorter contours say nothing
STEEPER = 1.5  # heights are multiplied by this for the light, to tell gentle ground apart
LABEL_EVERY = 330.0  # px between two figures on one contour
LABEL_APART = 70.0  # px between any two figures, and from marks


@dataclass(frozen=True, eq=False, slots=True)
class SceneContour:
    """A contour [lon, lat] of a level [m]."""

    level: float
    index: bool
    path: FloatArray


@dataclass(frozen=True, slots=True)
class ContourFigure:
    """A level written on its contour, turned by `angle` [degrees clockwise]."""

    text: str
    at: tuple[float, float]  # lon, lat
    angle: float


@dataclass(frozen=True, eq=False, slots=True)
class Ground:
    """The ground as the page carries it.

    Attributes
    ----------
    image : str
        Hillshade as a `data:` address, north up in Web Mercator, clear where there is no data.
    bounds : tuple
        South, west, north, east of the image [degrees].
    interval : float
        Between two contours, in the site's units.
    grid : dict
        Coarse levels on a grid of even latitude and longitude, as `map.js` reads them.
    """

    image: str
    bounds: Bounds
    interval: float
    contours: tuple[SceneContour, ...]
    figures: tuple[ContourFigure, ...]
    grid: dict[str, Any]


def make_ground(terrain: Terrain, paper: Paper, units: Units, clear: npt.ArrayLike) -> Ground:
    """The ground of a terrain as it lies under a plan.

    Parameters
    ----------
    terrain : Terrain
    paper : Paper
        On which the contours' figures are to read well.
    units : {"metric", "us"}
    clear : (n, 2) array-like
        Places [lon, lat] that no figure may cover.
    """
    light = np.round(np.nan_to_num(hillshade(terrain, exaggeration=STEEPER)) * 255)
    picture, bounds = to_web_mercator(light.astype(np.uint8), terrain)
    scale = per_si("level", units)
    interval = nice_step(contour_interval(terrain) * scale)
    lines = tuple(_contours(terrain, interval / scale))
    return Ground(
        image=shade_png(picture),
        bounds=bounds,
        interval=interval,
        contours=lines,
        figures=tuple(_figures(lines, paper, scale, list(paper.place(clear)))),
        grid=level_grid(terrain, bounds),
    )


def shade_png(picture: npt.NDArray[np.uint8]) -> str:
    """Light and opacity, first and last of four channels, as a PNG in a `data:` address.

    Light is drawn in warm greys; what is less than half opaque is left clear.
    """
    thin = -(-max(picture.shape) // MOST_PIXELS)
    light, opacity = picture[::thin, ::thin, 0], picture[::thin, ::thin, 3]
    png = ground_picture(light, opacity > 127)
    return "data:image/png;base64," + base64.b64encode(png).decode()


def ground_picture(light: npt.NDArray[np.uint8], there: npt.NDArray[np.bool_]) -> bytes:
    """Light [0..255] in warm greys as a PNG, clear where nothing is `there`."""
    step = light.astype(np.int64) * SHADES // 256
    image = Image.fromarray(np.where(there, step, SHADES).astype(np.uint8))
    ramp = np.linspace(DARK, LIGHT, SHADES).round().astype(int)
    image.putpalette([*ramp.ravel().tolist(), 255, 255, 255])
    file = io.BytesIO()
    image.save(file, "PNG", transparency=SHADES, optimize=True)
    return file.getvalue()


def level_grid(terrain: Terrain, bounds: Bounds) -> dict[str, Any]:
    """Levels at nodes of even latitude and longitude, packed as little-endian 16-bit steps."""
    south, west, north, east = bounds
    lat, lon = np.linspace(north, south, GRID), np.linspace(west, east, GRID)
    nodes = np.stack(np.meshgrid(lon, lat), axis=-1).reshape(-1, 2)
    x, y = to_local(terrain, nodes).T
    z = ground_at(terrain, x, y)
    known = np.isfinite(z)
    base = float(np.round(np.mean(z[known]))) if known.any() else 0.0
    step = max(STEP, float(np.abs(z[known] - base).max()) / 32000 if known.any() else STEP)
    packed = np.where(known, np.round((np.nan_to_num(z) - base) / step), NONE).astype("<i2")
    return {
        "south": south,
        "west": west,
        "north": north,
        "east": east,
        "rows": GRID,
        "cols": GRID,
        "base": base,
        "step": step,
        "none": NONE,
        "data": base64.b64encode(packed.tobytes()).decode(),
    }


def _contours(terrain: Terrain, interval: float) -> list[SceneContour]:
    """Contours every `interval` [m], simplified to a quarter of a cell, specks left out."""
    cell = max(terrain.cell)
    drawn = []
    for contour in contours(terrain, interval):
        line = LineString(contour.xy).simplify(0.25 * cell)
        if line.length > SHORTEST * cell:
            path = to_lonlat(terrain, np.array(line.coords))
            drawn.append(SceneContour(contour.level, contour.index, path))
    return drawn


def _figures(
    lines: tuple[SceneContour, ...], paper: Paper, scale: float, clear: list[FloatArray]
) -> list[ContourFigure]:
    """Levels along the index contours, on the paper, clear of marks and apart from each other."""
    figures: list[ContourFigure] = []
    taken = list(clear)
    for line in lines:
        if not line.index:
            continue
        for spot in spots(paper.place(line.path), LABEL_EVERY, LABEL_EVERY / 3):
            here = np.array([spot.x, spot.y])
            inside = 25 < spot.x < paper.width - 25 and 15 < spot.y < paper.height - 15
            if inside and all(np.hypot(*(here - other)) > LABEL_APART for other in taken):
                taken.append(here)
                text = f"{line.level * scale:,.10g}"
                figures.append(ContourFigure(text, paper.lonlat(spot.x, spot.y), spot.upright))
    return figures
