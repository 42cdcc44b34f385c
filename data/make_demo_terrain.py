"""Make the demo's ground: a small valley of our own invention, the same on every run.

    python data/make_demo_terrain.py [OUT.tif]

README.md beside this file tells how the land is built. Lengths are in metres, x east and y north
from the south-west corner, levels above an invented datum.
"""

import heapq
import sys
from pathlib import Path

import numpy as np
import numpy.typing as npt
import rasterio
from rasterio import Affine
from scipy import ndimage
from scipy.spatial import cKDTree

FloatArray = npt.NDArray[np.float64]

OUT = Path(__file__).resolve().parents[1] / "planner" / "demo" / "larch-hollow-dem.tif"
SEED = 20_611
SIZE = 600  # cells of 1 m, both ways
CRS = "EPSG:32630"  # scale 0.9996 here: 1 m on the grid is 1 m on the ground within 0.04 %
WEST, NORTH = 484_000.0, 4_984_600.0  # far out at sea: nobody's land can be mistaken for it

HEAD = 419.0  # level of the stream's bed where it enters in the west
BED_SLOPE = 0.043
RAPIDS = ((268.0, 1.5), (292.0, 0.9))  # x and drop of the two rapids beside the ram
CHANNEL_HALF_WIDTH = 1.1
ROUNDED = 0.01  # levels are stored to 1 cm

# The bench: a slipped strip along one contour of the north slope, a lip with a hollow behind it.
BENCH_LEVEL = 418.0  # of the lip's foot, before it slipped
BENCH_ENDS = (150.0, 222.0, 445.0, 520.0)  # x where it starts, is whole, is still whole, ends
LIP, HOLLOW = 3.4, 1.4  # height and depth
HOLLOW_BEHIND = 2.9  # from the lip's contour up to the hollow's


# Where water first gathers on the slopes: way points from head to mouth.
GULLIES = (
    ((205, 500), (196, 400), (184, 320), (168, 262), (160, 205)),
    ((70, 420), (82, 330), (74, 260), (88, 190)),
    ((560, 470), (530, 380), (536, 300), (520, 190)),
    ((90, 40), (120, 90), (118, 150), (134, 190)),
    ((330, 30), (318, 80), (340, 130), (352, 190)),
    ((520, 60), (486, 110), (492, 160), (470, 200)),
)
GULLY_DEPTH = 2.6  # at the mouth

# Wear by running water, on every COARSE-th cell: depth ~ sqrt(catchment) * slope * WEAR, each year.
COARSE = 4
YEARS = 14
WEAR = 0.012
SILT = 0.02  # least fall left between two coarse cells
SPARED = (210.0, 470.0, 190.0, 430.0)  # west, east, south, north of the land the scheme stands on


def main() -> None:
    """Write the GeoTIFF to the path given, or to its place in the package."""
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else OUT
    write(make_levels(), out)
    print(out)


def make_levels() -> npt.NDArray[np.float32]:
    """(SIZE, SIZE) levels, row 0 in the north, rounded to 1 cm."""
    random = np.random.default_rng(SEED)
    x, y = np.meshgrid(np.arange(SIZE) + 0.5, SIZE - 0.5 - np.arange(SIZE))
    stream = stream_line(random)
    land = valley(x, y) + rough_ground(random, x, y) - gullies(x, y)
    land = worn(land, softness(x, y)) + bench(x, y)
    land = carve_channel(ndimage.gaussian_filter(land, 2.0), x, y, stream)
    return rounded(land + sensor_noise(random))


def write(levels: npt.NDArray[np.float32], out: Path) -> None:
    """Write levels as a small GeoTIFF."""
    profile = {
        "driver": "GTiff",
        "height": SIZE,
        "width": SIZE,
        "count": 1,
        "dtype": "float32",
        "crs": CRS,
        "transform": Affine(1.0, 0.0, WEST, 0.0, -1.0, NORTH),
        "nodata": -9999.0,
        "compress": "deflate",
        "zlevel": 9,
        "predictor": 3,
        "tiled": True,
        "blockxsize": 256,
        "blockysize": 256,
    }
    with rasterio.open(out, "w", **profile) as file:
        file.write(levels, 1)
        file.units = ("m",)


def stream_y(x: FloatArray) -> FloatArray:
    """The stream's course, before its small bends."""
    return 186.0 + 16.0 * np.sin(x / 47.0 + 0.4) + 7.0 * np.sin(x / 23.0 + 2.0)


def bed_level(x: FloatArray) -> FloatArray:
    """The bed's mean level along the valley, rapids included."""
    level = HEAD - BED_SLOPE * x
    for place, drop in RAPIDS:
        level = level - drop / (1.0 + np.exp(-(x - place) / 4.0))
    return level


def stream_line(random: np.random.Generator) -> FloatArray:
    """(n, 3) x, y and bed level, every 0.25 m of x: small bends, steps and pools."""
    x = np.arange(-20.0, SIZE + 20.0, 0.25)
    y = stream_y(x) + 3.0 * np.sin(x / 9.3 + 1.1) + 1.4 * np.sin(x / 4.7 + np.cos(x / 31.0))
    edges = np.cumsum(random.uniform(6.0, 15.0, size=90)) - 40.0
    level = bed_level(x)
    # In a pool a quarter of the fall remains; the rest is taken by the step at its end.
    step = np.searchsorted(edges, x)
    ends = bed_level(edges)
    pool = ends[np.clip(step - 1, 0, None)]
    level = pool + 0.25 * (level - pool)
    return np.column_stack([x, y, ndimage.gaussian_filter1d(level, 2.5)])


def valley(x: FloatArray, y: FloatArray) -> FloatArray:
    """The two sides of the valley, rounded at their ridges."""
    across = y - stream_y(x)
    north = np.interp(
        across,
        [0, 5, 10, 40, 90, 170, 260, 330, 420],
        [0.9, 1.1, 1.9, 7.6, 15.4, 28.0, 41.0, 50.0, 56.0],
    )
    south = np.interp(
        -across, [0, 4, 9, 60, 120, 170, 230], [0.9, 1.2, 2.6, 19.0, 37.0, 47.0, 52.0]
    )
    # Higher up the land forgets the fall of the stream and follows its ridges instead.
    far = np.clip(np.abs(across) / 350.0, 0.0, 1.0)
    along = (
        bed_level(x) * (1.0 - far) + (bed_level(np.full_like(x, 300.0)) - 0.018 * (x - 300.0)) * far
    )
    return along + np.where(across >= 0.0, north, south)


def bench(x: FloatArray, y: FloatArray) -> FloatArray:
    """What the slip heaped up, and dug out behind."""
    whole = np.interp(x, BENCH_ENDS, [0.0, 1.0, 1.0, 0.0])
    above = valley(x, y) - BENCH_LEVEL - 0.15 * np.sin(x / 27.0)
    lip = LIP * np.exp(-0.5 * (above / np.where(above < 0.0, 1.8, 1.2)) ** 2)
    hollow = HOLLOW * np.exp(-0.5 * ((above - HOLLOW_BEHIND) / 1.3) ** 2)
    return np.where(y > stream_y(x), whole * (lip - hollow), 0.0)


def gullies(x: FloatArray, y: FloatArray) -> FloatArray:
    """How deep the side gullies are cut, growing from head to mouth."""
    depth = np.zeros_like(x)
    for points in GULLIES:
        way = smooth_line(np.array(points, dtype=float))
        distance, nearest = cKDTree(way).query(np.column_stack([x.ravel(), y.ravel()]))
        grown = np.sqrt(nearest / (len(way) - 1.0))
        cut = GULLY_DEPTH * grown * np.exp(-((distance / (5.0 + 9.0 * grown)) ** 1.4))
        depth = np.maximum(depth, cut.reshape(x.shape))
    return depth


def smooth_line(points: FloatArray) -> FloatArray:
    """A bending line through way points, about one point a metre."""
    along = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))])
    fine = np.arange(0.0, along[-1], 1.0)
    line = np.column_stack([np.interp(fine, along, points[:, k]) for k in (0, 1)])
    line[:, 0] += 5.0 * np.sin(fine / 13.0) * np.minimum(1.0, fine / 30.0)
    bent: FloatArray = ndimage.gaussian_filter1d(line, 8.0, axis=0)
    return bent


def rough_ground(random: np.random.Generator, x: FloatArray, y: FloatArray) -> FloatArray:
    """Spurs and hollows that grow away from the stream, and small unevenness everywhere."""
    away = np.clip((np.abs(y - stream_y(x)) - 120.0) / 200.0, 0.0, 1.0)
    spurs = fractal_noise(random, 60.0, 400.0, 2.0)
    small = fractal_noise(random, 8.0, 60.0, 1.4)
    return 5.0 * away * spurs + 0.18 * small


def fractal_noise(
    random: np.random.Generator, shortest: float, longest: float, power: float
) -> FloatArray:
    """Noise of standard deviation 1 with amplitudes (wavelength)**power between two wavelengths."""
    white = np.fft.rfft2(random.standard_normal((SIZE * 2, SIZE * 2)))
    wave = np.hypot(np.fft.fftfreq(SIZE * 2)[:, None], np.fft.rfftfreq(SIZE * 2)[None, :])
    wave[0, 0] = np.inf
    inside = (wave > 1.0 / longest) & (wave < 1.0 / shortest)
    field = np.fft.irfft2(white * np.where(inside, wave**-power, 0.0))[:SIZE, :SIZE]
    even: FloatArray = (field - field.mean()) / field.std()
    return even


def softness(x: FloatArray, y: FloatArray) -> FloatArray:
    """How easily the land wears: 1 on the open slopes, little where the scheme stands."""
    west, east, south, north = SPARED
    outside = np.maximum.reduce([west - x, x - east, south - y, y - north, np.zeros_like(x)])
    stream = np.abs(y - stream_y(x)) < 6.0
    return np.where(stream, 0.0, 0.08 + 0.92 * np.clip(outside / 70.0, 0.0, 1.0))


def worn(land: FloatArray, soft: FloatArray) -> FloatArray:
    """The land after running water has cut its valleys, by the stream-power law.

    Each year every cell is let down towards the cell it drains to, in one implicit step from the
    outlets upwards [Braun and Willett, Geomorphology 180 (2013) 170], and slopes creep.
    """
    half = COARSE // 2
    before = land[half::COARSE, half::COARSE]
    level, ease = before.copy(), soft[half::COARSE, half::COARSE].ravel()
    for _ in range(YEARS):
        order, drains_to = drainage(level)
        catchment = np.full(level.size, float(COARSE**2))
        for cell in reversed(order):
            if drains_to[cell] >= 0:
                catchment[drains_to[cell]] += catchment[cell]
        step = WEAR * np.sqrt(catchment) * ease
        flat = level.ravel()
        for cell in order:
            below = drains_to[cell]
            if below >= 0:
                cut = (flat[cell] + step[cell] * flat[below]) / (1.0 + step[cell])
                flat[cell] = max(cut, flat[below] + SILT)  # hollows fill up
        creep = ndimage.gaussian_filter(level, 0.7) - level
        level = level + creep * ease.reshape(level.shape)
    lost = ndimage.zoom(level - before, COARSE, order=1, mode="nearest", grid_mode=True)
    left: FloatArray = land + ndimage.gaussian_filter(lost, 2.0)
    return left


def drainage(level: FloatArray) -> tuple[list[int], list[int]]:
    """Cells from the grid's edge upwards, and the cell each drains to (-1 at the edge).

    Priority flood [Barnes et al., Computers & Geosciences 62 (2014) 117]: the lowest cell on the
    rim of what is reached goes next, so that hollows drain over their lowest lip.
    """
    rows, cols = level.shape
    flat = level.ravel()
    drains_to = [-2] * flat.size
    rim = [
        (flat[r * cols + c], r * cols + c)
        for r in range(rows)
        for c in range(cols)
        if r in (0, rows - 1) or c in (0, cols - 1)
    ]
    for _, cell in rim:
        drains_to[cell] = -1
    heapq.heapify(rim)
    order = []
    while rim:
        reached, cell = heapq.heappop(rim)
        order.append(cell)
        row, col = divmod(cell, cols)
        for r in range(max(row - 1, 0), min(row + 2, rows)):
            for c in range(max(col - 1, 0), min(col + 2, cols)):
                beside = r * cols + c
                if drains_to[beside] == -2:
                    drains_to[beside] = cell
                    heapq.heappush(rim, (max(flat[beside], reached), beside))
    return order, drains_to


def carve_channel(land: FloatArray, x: FloatArray, y: FloatArray, stream: FloatArray) -> FloatArray:
    """Cut the bed into the land; banks rise at 1 : 1.4 until they meet it."""
    distance, nearest = cKDTree(stream[:, :2]).query(np.column_stack([x.ravel(), y.ravel()]))
    bed = stream[nearest, 2].reshape(x.shape)
    beyond = np.maximum(0.0, distance.reshape(x.shape) - CHANNEL_HALF_WIDTH)
    land = np.maximum(
        land, bed_level(x) + 0.7 + 0.07 * beyond
    )  # no side valley ends below the stream
    cut: FloatArray = np.where(beyond == 0.0, bed, np.minimum(land, bed + beyond / 1.4))
    return cut


def sensor_noise(random: np.random.Generator) -> FloatArray:
    """What an airborne scanner adds: 5 cm over a few metres, 2 cm from cell to cell."""
    patches = ndimage.gaussian_filter(random.standard_normal((SIZE, SIZE)), 1.8)
    noise: FloatArray = 0.05 * patches / patches.std()
    return noise + 0.02 * random.standard_normal((SIZE, SIZE))


def rounded(levels: FloatArray) -> npt.NDArray[np.float32]:
    """Whole centimetres, which deflate well."""
    return (np.round(levels / ROUNDED) * ROUNDED).astype(np.float32)


if __name__ == "__main__":
    main()
