"""Small grounds and readings made by hand, for tests of the adjustment and the bending."""

import itertools
from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import numpy.typing as npt

from planner.levels.value import Difference, Known, Method, Readings, Row
from planner.terrain.value import DataKind, Provenance, Terrain

FloatArray = npt.NDArray[np.float64]
XY = tuple[float, float]
CRS = "+proj=tmerc +lat_0=47.3 +lon_0=11.2 +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m"

PLACES: dict[str, XY] = {
    "Spring": (20.0, -30.0),
    "De 01": (45.3, -42.8),
    "De 02": (70.2, -50.1),
    "De 03": (95.7, -61.4),
    "Tank": (120.0, -66.0),
}


def hillside(
    *, kind: DataKind = "lidar", error: float = 0.3, cell: float = 1.0, relief: float = 1.0
) -> Terrain:
    """150 m x 120 m falling to the east, with a swell; its levels are what the data say."""
    cols, rows = int(150 / cell), int(120 / cell)
    x = (np.arange(cols) + 0.5) * cell
    y = -(np.arange(rows) + 0.5) * cell
    xx, yy = np.meshgrid(x, y)
    z = 500.0 + relief * (-0.12 * xx + 0.05 * yy + 1.5 * np.sin(xx / 17.0) * np.cos(yy / 23.0))
    about = Provenance(kind=kind, standard_error=error)
    return replace(Terrain.from_array(z, cell, crs=CRS), provenance=about)


def run_of(
    levels: Mapping[str, float], method: Method = "level", error: float = 0.004, file: str = ""
) -> Readings:
    """From each station to the next, without any error."""
    names = list(levels)
    return Readings(
        tuple(
            Difference(
                start,
                end,
                levels[end] - levels[start],
                error,
                method,
                Row(file or f"{method}.csv", line),
            )
            for line, (start, end) in enumerate(itertools.pairwise(names), start=2)
        )
    )


def known(levels: Mapping[str, float], error: float = 0.01, file: str = "known.csv") -> Readings:
    return Readings(
        knowns=tuple(
            Known(name, level, error, Row(file, line))
            for line, (name, level) in enumerate(levels.items(), start=2)
        )
    )


def together(*some: Readings) -> Readings:
    return Readings(
        tuple(one for own in some for one in own.differences),
        tuple(one for own in some for one in own.knowns),
        {name: at for own in some for name, at in own.places.items()},
    )
