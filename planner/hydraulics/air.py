"""Air in lines: whether the flow carries a pocket down a falling leg; how far a siphon reaches.

First version: one leg, one flow. Pipes under some 20 mm bore are on the safe side here, for
surface tension makes their pockets plugs that move with the water.
"""

import numpy as np
import numpy.typing as npt
from fluids.atmosphere import ATMOSPHERE_1976

from planner.band import Figure
from planner.hydraulics.domain import MOST_BORE, FloatArray, between, plain, positive
from planner.hydraulics.water import COLDEST, GRAVITY, WARMEST

ESCARAMEIA_BASE, ESCARAMEIA_SLOPE = 0.45, 0.56  # smallest pockets, n < 0.06; 0..22.5°
WISNER_BASE, WISNER_SLOPE = 0.825, 0.25  # envelope, Wisner et al. 1975
SURE = 1.1  # margin above the envelope

SIPHON_STOP = 7.0  # m below atmospheric at sea level: gas comes out, then vapour
SIPHON_DESIGN = 3.0  # m, as far as a siphon meant as such should go
SEA_LEVEL_HEAD = 10.33  # m
BOILING_MARGIN = 1.0  # m, setting: a siphon's crest is not level, nor its water still


def stays_below(bore: npt.ArrayLike, slope: npt.ArrayLike) -> Figure:
    """Speed [m/s] under which air stays in a falling leg: V = (0.45 + 0.56 √sinθ) √(gD).

    Parameters
    ----------
    bore : float or array
        Inside diameter [m].
    slope : float or array
        Fall over horizontal run, 0 or more.

    Raises
    ------
    OutsideRange
        A value is NaN, negative or absurd; the message names it.

    References
    ----------
    Escarameia, HR Wallingford, tests on 150 mm pipe at 0..22.5°, the smallest pockets.

    Examples
    --------
    >>> round(stays_below(0.035, 0.1), 2)
    0.37
    """
    return plain(_clearing(bore, slope, ESCARAMEIA_BASE, ESCARAMEIA_SLOPE))


def clears_above(bore: npt.ArrayLike, slope: npt.ArrayLike) -> Figure:
    """Speed [m/s] over which a falling leg clears itself: V = (0.825 + 0.25 √sinθ) √(gD).

    Between `stays_below` and 1.1 times this it is not known. Arguments as for `stays_below`.

    References
    ----------
    Wisner et al. 1975, envelope.

    Examples
    --------
    >>> round(clears_above(0.035, 0.1), 2)
    0.53
    """
    return plain(_clearing(bore, slope, WISNER_BASE, WISNER_SLOPE))


def clears(velocity: float, bore: float, slope: float) -> bool | None:
    """Whether a flow carries air down a falling leg: True, False, or None where it's not known.

    Examples
    --------
    >>> clears(0.2, 0.035, 0.1), clears(0.45, 0.035, 0.1), clears(0.7, 0.035, 0.1)
    (False, None, True)
    """
    speed = float(between("velocity", velocity, 0.0))
    if speed < float(stays_below(bore, slope)):
        return False
    return True if speed > SURE * float(clears_above(bore, slope)) else None


def barometric_head(altitude: float) -> float:
    """Height of a water column that the air holds up [m], by altitude -400..5000 m.

    References
    ----------
    U.S. Standard Atmosphere 1976, through `fluids`; water of 1000 kg/m³.

    Examples
    --------
    >>> round(barometric_head(1500.0), 2)
    8.62
    """
    z = float(between("altitude", altitude, -400.0, 5000.0))
    return float(ATMOSPHERE_1976(z).P) / (1000.0 * GRAVITY)


def vapour_head(temperature: float) -> float:
    """Absolute pressure at which water boils [m of water], by its temperature 0..60 °C.

    References
    ----------
    Magnus' formula over water as in the WMO guide to instruments (No. 8).

    Examples
    --------
    >>> round(vapour_head(20.0), 2)
    0.24
    """
    t = float(between("temperature", temperature, COLDEST, WARMEST))
    return 611.2 * float(np.exp(17.62 * t / (243.12 + t))) / (1000.0 * GRAVITY)


def siphon_limit(altitude: float, temperature: float = 10.0) -> float:
    """Lowest pressure head [m of water, gauge, negative] a running crest may ever have.

    7 m below atmospheric at sea level, less higher up, where the air holds up less; and never
    within 1 m of where the water boils.

    Parameters
    ----------
    altitude : float
        Of the crest [m], -400..5000.
    temperature : float
        Of the water [°C], 0..60.

    Raises
    ------
    OutsideRange
        A value is NaN or outside; the message names it.

    Examples
    --------
    >>> round(siphon_limit(1500.0), 1)
    -5.8
    """
    air = barometric_head(altitude)
    gas = -SIPHON_STOP * air / SEA_LEVEL_HEAD
    return max(gas, min(vapour_head(temperature) + BOILING_MARGIN - air, 0.0))


def _clearing(bore: npt.ArrayLike, slope: npt.ArrayLike, base: float, rise: float) -> FloatArray:
    d = positive("bore", bore, MOST_BORE)
    steep = between("slope", slope, 0.0, 1e3)
    sine = steep / np.hypot(1.0, steep)
    return np.asarray((base + rise * np.sqrt(sine)) * np.sqrt(GRAVITY * d))
