"""What a pipe still bears when it is warm."""

from typing import Literal, get_args

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.errors import InputError
from planner.hydraulics.domain import between, plain
from planner.hydraulics.pipe import CataloguePipe, Derating
from planner.hydraulics.water import COLDEST, WARMEST

# Factor by temperature of the wall [°C]. Below the first entry it is 1: cold earns no credit.
#
# Metric PE: the lower of an Australian PE100 table (head of PN 16: 30 °C 0.94, 35 0.89, 40 0.84,
# 45 0.79, 50 0.76, 60 0.68) and the older ISO 4427 (20 °C 1, 30 0.87, 40 0.74; general knowledge,
# high). Above 40 °C, where the older ends, the Australian one lowered in the ratio the two have
# there, 0.74 / 0.84.
# US PE: general knowledge, medium. PVC: general knowledge, high. Both tabulated in °F.
FACTORS: dict[Derating, tuple[tuple[float, float], ...]] = {
    "PE metric": ((20, 1.0), (30, 0.87), (40, 0.74), (45, 0.696), (50, 0.670), (60, 0.599)),
    "PE US": ((26.7, 1.0), (32.2, 0.9), (37.8, 0.8), (43.3, 0.7), (48.9, 0.6), (60, 0.5)),
    "PVC": (
        (22.8, 1.0),
        (26.7, 0.88),
        (32.2, 0.75),
        (37.8, 0.62),
        (43.3, 0.5),
        (48.9, 0.4),
        (60, 0.22),
    ),
    "steel": ((20, 1.0), (60, 1.0)),
}

# Where a pipe lies, and the least temperature its wall is taken to have with the water standing.
Lying = Literal["buried", "shade", "sun"]
LEAST_WALL: dict[Lying, float] = {
    "buried": COLDEST,  # as the water
    "shade": 30.0,  # °C, a warm summer's air; an editable guess
    "sun": 50.0,  # °C, black pipe: at least 40 to 50 when stagnant (general knowledge, medium)
}


def temperature_factor(table: Derating, temperature: npt.ArrayLike) -> Figure:
    """Share of its rating a pipe bears at a temperature of its wall, linear between entries.

    Parameters
    ----------
    table : {"PE metric", "PE US", "PVC", "steel"}
        A pipe's `derating`.
    temperature : float or array
        Of the wall [°C], 0..60; see `wall_temperature`.

    Returns
    -------
    float or array
        1 or less, above 0.

    Raises
    ------
    OutsideRange
        The temperature is NaN or outside 0..60 °C.
    InputError
        There is no such table.

    Examples
    --------
    >>> temperature_factor("PE metric", 40.0), temperature_factor("PVC", 15.0)
    (0.74, 1.0)
    """
    if table not in FACTORS:
        msg = f"derating must be one of {', '.join(get_args(Derating))}; got {table!r:.40}"
        raise InputError(msg)
    t = between("temperature", temperature, COLDEST, WARMEST)
    warm, factor = zip(*FACTORS[table], strict=True)
    return plain(np.interp(t, warm, factor))


def wall_temperature(water: npt.ArrayLike, lying: Lying) -> Figure:
    """Temperature to rate a pipe at [°C]: the water's, or that of its wall lying stagnant.

    Parameters
    ----------
    water : float or array
        Temperature of the water [°C], 0..60.
    lying : {"buried", "shade", "sun"}
        A black pipe in the sun is taken at 50 °C or the water's temperature if higher.

    Raises
    ------
    OutsideRange
        The temperature is NaN or outside 0..60 °C.
    InputError
        `lying` is none of the three.

    Examples
    --------
    >>> wall_temperature(12.0, "sun"), wall_temperature(12.0, "buried")
    (50.0, 12.0)
    """
    if lying not in LEAST_WALL:
        msg = f"lying must be one of {', '.join(LEAST_WALL)}; got {lying!r:.40}"
        raise InputError(msg)
    t = between("water", water, COLDEST, WARMEST)
    return plain(np.maximum(t, LEAST_WALL[lying]))


def derated_rating(pipe: CataloguePipe, temperature: npt.ArrayLike) -> Figure:
    """Head a pipe bears for good with its wall at a temperature of 0..60 °C [m of water].

    Raises
    ------
    OutsideRange
        The temperature is NaN or outside 0..60 °C.
    """
    return plain(pipe.rating * np.asarray(temperature_factor(pipe.derating, temperature)))
