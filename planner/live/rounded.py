"""Places and levels as the views hold them: rounded to a centimetre, null where not known."""

import math

import numpy as np
import numpy.typing as npt

from planner.live.value import XY

CENTIMETRE = 2  # decimals: finer than any pixel


def places(xy: npt.ArrayLike) -> list[XY]:
    """(n, 2) points x, y [m] as pairs."""
    pairs: list[XY] = _rounded(np.asarray(xy, dtype=np.float64).reshape(-1, 2)).tolist()
    return pairs


def place(xy: tuple[float, float]) -> XY:
    """One point x, y [m]."""
    return places([xy])[0]


def metres(values: npt.ArrayLike) -> list[float]:
    """(n,) distances [m], all of them known."""
    known: list[float] = _rounded(np.asarray(values, dtype=np.float64)).tolist()
    return known


def levels(values: npt.ArrayLike) -> list[float | None]:
    """(n,) levels [m]; None for NaN."""
    return [level if math.isfinite(level) else None for level in metres(values)]


def _rounded(values: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.asarray(np.round(values, CENTIMETRE) + 0.0)  # no minus zero
