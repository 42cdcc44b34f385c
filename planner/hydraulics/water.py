"""Water itself: density and viscosity by temperature, and gravity."""

import numpy as np
import numpy.typing as npt

from planner.band import Figure
from planner.hydraulics.domain import between, plain

GRAVITY = 9.80665  # m/s², standard (CGPM 1901)
COLDEST, WARMEST = 0.0, 60.0  # °C, what a line can carry

# Kell, J. Chem. Eng. Data 20 (1975) 97: density of air-free water at 1 atm, kg/m³, t in °C.
KELL_ABOVE = (
    999.83952,
    16.945176,
    -7.9870401e-3,
    -46.170461e-6,
    105.56302e-9,
    -280.54253e-12,
)
KELL_BELOW = 16.879850e-3

# IAPWS, supplementary release SR6-08(2011) on liquid water at 0.1 MPa, eq. 7:
# viscosity [µPa s] = sum of a (T / 300 K)^b, 253.15 K to 383.15 K.
IAPWS_A = (280.68, 511.45, 61.131, 0.45903)
IAPWS_B = (-1.9, -7.7, -19.6, -40.0)


def density(temperature: npt.ArrayLike) -> Figure:
    """Density of water [kg/m³] at a temperature of 0..60 °C.

    Raises
    ------
    OutsideRange
        The temperature is NaN or outside 0..60 °C.

    References
    ----------
    Kell (1975).

    Examples
    --------
    >>> round(density(20.0), 2)
    998.2
    """
    t = between("temperature", temperature, COLDEST, WARMEST)
    return plain(np.polynomial.polynomial.polyval(t, KELL_ABOVE) / (1.0 + KELL_BELOW * t))


def viscosity(temperature: npt.ArrayLike) -> Figure:
    """Kinematic viscosity of water [m²/s] at a temperature of 0..60 °C.

    Raises
    ------
    OutsideRange
        The temperature is NaN or outside 0..60 °C.

    References
    ----------
    IAPWS SR6-08(2011) for the dynamic viscosity, Kell (1975) for the density.

    Examples
    --------
    >>> round(viscosity(20.0) * 1e6, 3)
    1.003
    """
    t = between("temperature", temperature, COLDEST, WARMEST)
    reduced = (t + 273.15) / 300.0
    dynamic = sum(a * reduced**b for a, b in zip(IAPWS_A, IAPWS_B, strict=True)) * 1e-6
    return plain(dynamic / np.asarray(density(t)))
