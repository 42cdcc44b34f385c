"""Ground whose truth is known, elevation data made worse from it, and levelling done on it.

Real ground: gabilan (NCALM and OpenTopography) and auckland (LINZ and Auckland Council, CC BY 4.0).
"""

import math
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
import numpy.typing as npt
import rasterio
from scipy import ndimage

from planner.levels.value import Difference, Method, Readings, Row
from planner.terrain.accuracy import standard_error_of
from planner.terrain.sample import ground_at
from planner.terrain.value import DataKind, Provenance, Terrain

FloatArray = npt.NDArray[np.float64]
SIDE = 420  # cells of 1 m
SIGHT = 0.003  # m, one sight of a builder's level
SCALE = 0.0025  # m, one reading of a hose level
ANGLE = math.radians(7.5 / 60.0)  # a hand level
BAROMETER = 1.5  # m


def real_ground(folder: Path, rng: np.random.Generator) -> FloatArray:
    """A square cut out of real bare-earth lidar, turned or mirrored."""
    name = ("gabilan_1m/gabilan_utm10.tif", "auckland_1m/DEM_BA32_4003_2013.tif")[rng.integers(2)]
    with rasterio.open(folder / name) as data:
        z = data.read(1).astype(np.float64)
    row, col = (rng.integers(size - SIDE + 1) for size in z.shape)
    cut = z[row : row + SIDE, col : col + SIDE]
    return np.array(np.rot90(cut, int(rng.integers(4))))


def fractal_ground(rng: np.random.Generator) -> FloatArray:
    """Self-similar ground on a slope: noise whose power falls with a power of its frequency."""
    hurst = rng.uniform(0.7, 0.95)
    rough = field(rng, lambda f: 1.0 / np.maximum(f, 1.0 / SIDE) ** (hurst + 1.0), (SIDE, SIDE))
    row, col = np.mgrid[0.0:SIDE, 0.0:SIDE]
    grade = rng.uniform(-0.15, 0.15, 2)
    z: FloatArray = 300.0 + grade[0] * row + grade[1] * col + rng.uniform(3.0, 12.0) * rough
    return z


def field(rng: np.random.Generator, amplitude, shape: tuple[int, int]) -> FloatArray:
    """A Gaussian field of variance 1 whose spectrum is `amplitude` of the frequency [1/cells]."""
    down = np.fft.fftfreq(shape[0])[:, None]
    right = np.fft.rfftfreq(shape[1])[None, :]
    white = np.fft.rfft2(rng.normal(size=shape))
    made = np.fft.irfft2(white * amplitude(np.hypot(down, right)), s=shape)
    made -= made.mean()
    return np.asarray(made / made.std())


def exponential(rng: np.random.Generator, shape: tuple[int, int], length: float) -> FloatArray:
    """A field of exponential covariance, whose spectrum is (1 + (2π f length)²)^−3/2."""

    def amplitude(f: FloatArray) -> FloatArray:
        return np.asarray((1.0 + (2.0 * np.pi * f * length) ** 2) ** -0.75)

    return field(rng, amplitude, shape)


def gaussian(rng: np.random.Generator, shape: tuple[int, int], length: float) -> FloatArray:
    """A field of Gaussian covariance, far smoother than any the program takes."""
    made = ndimage.gaussian_filter(rng.normal(size=shape), length / 2.0, mode="wrap")
    return np.asarray((made - made.mean()) / made.std())


def worsened(truth: FloatArray, rng: np.random.Generator) -> Terrain:
    """Elevation data of some kind, wrong by errors of several ranges or by coarse cells."""
    cell = int(rng.choice([1, 1, 5, 10]))
    rows, cols = (size // cell for size in truth.shape)
    z = truth[: rows * cell, : cols * cell].reshape(rows, cell, cols, cell).mean(axis=(1, 3))
    short = exponential if rng.random() < 0.5 else gaussian
    near, far = (rng.uniform(6.0, 30.0), 200.0) if cell == 1 else (rng.uniform(40.0, 120.0), 400.0)
    size = rng.uniform(0.15, 0.45) if cell == 1 else rng.uniform(0.2, 1.0)
    shape = (rows, cols)
    error = short(rng, shape, near / cell) + 0.4 * exponential(rng, shape, far / cell)
    kind: DataKind = "lidar"
    about = Provenance(
        kind=kind, native_cell=float(cell), standard_error=standard_error_of(kind, float(cell))
    )
    made = Terrain.from_array(z + size * error + rng.uniform(-2.0, 2.0), float(cell))
    return replace(made, provenance=about)


def line_across(rng: np.random.Generator, interval: float) -> FloatArray:
    """(n, 2) stakes along a line with one bend."""
    while True:
        ends = rng.uniform(25.0, SIDE - 25.0, (3, 2)) * (1.0, -1.0)
        legs = np.hypot(*np.diff(ends, axis=0).T)
        if legs.min() > 60.0 and legs.sum() < 450.0:
            break
    run = np.concatenate([[0.0], np.cumsum(legs)])
    at = np.append(np.arange(0.0, run[-1] - 0.3 * interval, interval), run[-1])
    return np.column_stack([np.interp(at, run, ends[:, axis]) for axis in (0, 1)])


@dataclass(frozen=True, slots=True)
class Walk:
    """Stakes and the true level under each staff."""

    xy: FloatArray
    level: FloatArray

    @property
    def names(self) -> list[str]:
        return [f"S {number:02d}" for number in range(len(self.xy))]

    @property
    def places(self) -> dict[str, tuple[float, float]]:
        return {
            name: (float(x), float(y))
            for name, (x, y) in zip(self.names, self.xy.tolist(), strict=True)
        }


def walk(truth: FloatArray, xy: FloatArray, rng: np.random.Generator) -> Walk:
    """Stakes with the staff a little beside each."""
    ground = Terrain.from_array(truth, 1.0)
    beside = xy + rng.normal(0.0, 0.2, xy.shape)
    return Walk(xy, ground_at(ground, beside[:, 0], beside[:, 1]))


def levelled(way: Walk, rng: np.random.Generator) -> Readings:
    """The stakes levelled by one or two of the ways there are."""
    count = len(way.xy)
    half, whole = count // 2, (0, count)
    match rng.integers(6):
        case 0:
            legs = _book(way, whole, rng)
        case 1:
            legs = _shots(way, whole, "hose", rng)
        case 2:
            legs = _shots(way, whole, "traverse", rng)
        case 3:
            legs = _book(way, (0, half + 1), rng) + _shots(way, (half, count), "hose", rng)
        case 4:
            legs = _book(way, whole, rng) + _barometer(way, rng)
        case _:
            legs = _shots(way, whole, "hose", rng) + _barometer(way, rng)
    return Readings(differences=tuple(legs))


def _book(way: Walk, part: tuple[int, int], rng: np.random.Generator) -> list[Difference]:
    """Set-ups of four sights forward, carried on by change points that are no stakes."""
    legs: list[Difference] = []
    back, sight = way.names[part[0]], 0.0
    level = way.level[part[0]]
    names = way.names
    for first in range(part[0] + 1, part[1], 3):
        sight = rng.normal(0.0, SIGHT)
        for number in range(first, min(first + 3, part[1])):
            rise = way.level[number] - level + rng.normal(0.0, SIGHT) - sight
            legs.append(_read(back, names[number], rise, math.sqrt(2.0) * SIGHT, "level", legs))
        turn, its = f"TP {first}", float(way.level[min(first + 2, part[1] - 1)] + 0.3)
        rise = its - level + rng.normal(0.0, SIGHT) - sight
        legs.append(_read(back, turn, rise, math.sqrt(2.0) * SIGHT, "level", legs))
        back, level = turn, its
    legs.pop()  # the last change point leads nowhere
    return legs


def _shots(
    way: Walk, part: tuple[int, int], method: Method, rng: np.random.Generator
) -> list[Difference]:
    """From stake to stake."""
    legs: list[Difference] = []
    for number in range(part[0], part[1] - 1):
        far = float(np.hypot(*(way.xy[number + 1] - way.xy[number])))
        error = math.sqrt(2.0) * SCALE if method == "hose" else far * ANGLE
        rise = way.level[number + 1] - way.level[number] + rng.normal(0.0, error)
        legs.append(_read(way.names[number], way.names[number + 1], rise, error, method, legs))
    return legs


def _barometer(way: Walk, rng: np.random.Generator) -> list[Difference]:
    """From the first stake to every fourth."""
    legs: list[Difference] = []
    for number in range(4, len(way.xy), 4):
        rise = way.level[number] - way.level[0] + rng.normal(0.0, BAROMETER)
        legs.append(_read(way.names[0], way.names[number], rise, BAROMETER, "barometer", legs))
    return legs


def _read(
    start: str, end: str, rise: float, error: float, method: Method, before: list[Difference]
) -> Difference:
    row = Row(f"{method}.csv", len(before) + 2)
    return Difference(start, end, float(rise), error, method, row)
